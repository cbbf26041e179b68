"""What stands round a claim in sentences: the kit's evaluation, bought help, what to disclose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builderlog.deciding.assistance import assistance
from builderlog.deciding.claim_words import limit_words, percent_text, units_words
from builderlog.deciding.hiring import Hiring
from builderlog.deciding.portion import Portion, build_work
from builderlog.deciding.what_if import Supposed
from builderlog.deciding.words import counted, day_plain, listed
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Known, Measure, Rulebook, Side, Source
from builderlog.knowing.settings import Role, Task

KEPT = {
    True: "and left unaltered",
    False: "and was altered since",
    None: "whether it was left unaltered is not said (unaltered: yes)",
}
KNOWN = {
    Known.READ: "read",
    Known.SECOND_HAND: "known second hand",
    Known.MEMORY: "from memory, not verified",
}


def evaluation(ledger: Ledger, rulebook: Rulebook) -> Iterator[str]:
    """By which document the kit was evaluated; then first of all whether help was bought."""
    evaluated = ledger.settings.kit_evaluated
    if evaluated is not None:
        day = f" on {day_plain(evaluated.on.day)}" if evaluated.on else ", on no stated date"
        by = f" by {evaluated.file}" if evaluated.file else ", by no named document"
        yield f"The kit was evaluated{day}{by}, {KEPT[evaluated.unaltered]}."
        yield f"The first question then is bought help: {bought_help(ledger)}"
        if rulebook.evaluated:
            yield rulebook.evaluated
    if not rulebook.allows_paid_help and has_bought_help(ledger):
        yield "This rulebook is for projects without bought help, and the journal has some."


def has_bought_help(ledger: Ledger) -> bool:
    """Whether any paid work, paid work away or paid credit stands in the journal."""
    return bool(_traces(ledger))


def bought_help(ledger: Ledger) -> str:
    """Every trace of paid help in the journal, in one sentence."""
    return f"{'; '.join(_traces(ledger)) or 'none is on record and none is claimed'}."


def _traces(ledger: Ledger) -> tuple[str, ...]:
    work = build_work(ledger)
    people = sorted({row.person for row in work if row.role is Role.PAID})
    away = assistance(ledger).away_as("paid")
    claimed = [task.id for task in _applying(ledger) if task.credit and task.credit.paid]
    traces = (
        (people, f"{listed(people)} worked for pay"),
        (away, f"{counted(len(away), 'piece')} of work went out for pay"),
        (claimed, f"paid credit is claimed on {listed(claimed)}"),
    )
    return tuple(words for found, words in traces if found)


def _applying(ledger: Ledger) -> list[Task]:
    return [task for task in ledger.worklist.by_id.values() if task.applies]


def to_disclose(rulebook: Rulebook, changes: Sequence[Supposed]) -> tuple[str, ...]:
    """What the record would have to say if these tasks went to paid help; one item a line."""
    names = listed(list(dict.fromkeys(change.task for change in changes)))
    return (
        *rulebook.disclose,
        f"in the notes: hours of a person with role: paid on {names}, or away with as: paid",
    )


def done_among(ledger: Ledger, changes: Sequence[Supposed]) -> tuple[str, ...]:
    """The tasks that are finished, so that they cannot be hired out any more."""
    return tuple(each.task for each in changes if ledger.worklist.by_id[each.task].done)


def hiring_words(asked: Hiring, found: Portion) -> Iterator[str]:
    """How much of some tasks can be hired out, in sentences."""
    rulebook, measure = found.rulebook, found.rulebook.measure
    yield f"{counted(len(asked.open), 'task')} of {len(asked.tasks)} still open: {_ids(asked.open)}"
    claimed = "have left to do" if measure is Measure.HOURS else "claim"
    yield f"There the amateurs {claimed} {units_words(asked.builder, measure)}."
    if asked.before.share is None or not asked.before.meets:
        yield f"The share does not reach {limit_words(rulebook.limit)}, so none can be hired out."
        return
    if asked.builder:
        most = "All of it" if asked.most == asked.builder else units_words(asked.most, measure)
        yield f"{most} could go to paid help: the share goes {_from_to(asked, rulebook)}."
    if asked.unclaimed and _is_free(rulebook):
        more = units_words(asked.unclaimed, measure)
        yield f"A further {more} there nobody claims: hiring that out costs no share."
    done = [task for task in asked.tasks if task.done]
    if done:
        yield f"Finished work cannot be hired out any more: {_ids(done)}."


def _is_free(rulebook: Rulebook) -> bool:
    """Whether what nobody claims can go to paid help and the share not fall."""
    return Side.UNCLAIMED in rulebook.against or Side.PAID not in rulebook.against


def _from_to(asked: Hiring, rulebook: Rulebook) -> str:
    before = percent_text(asked.before.share, rulebook.limit)
    after = percent_text(asked.after.share, rulebook.limit)
    planned = ", as planned" if rulebook.measure is Measure.HOURS else ""
    return (
        f"from {before} to {after}{planned} (the rulebook asks for {limit_words(rulebook.limit)})"
    )


def _ids(tasks: Sequence[Task]) -> str:
    return listed([task.id for task in tasks]) or "none"


def source_words(source: Source) -> str:
    """A source as a reader wants it: what, where, of when, what it says, how it is known."""
    where = ", ".join(each for each in (source.what, source.paragraph, source.date) if each)
    says = f": {source.says}" if source.says else ""
    return f"{where}{says} ({KNOWN[source.known]})"
