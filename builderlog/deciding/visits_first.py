"""Visits that the builder or the rulebook wants before work is closed, held against the record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.held import place_text
from builderlog.deciding.task_record import TaskRecord, Told
from builderlog.deciding.visible import could_be_seen
from builderlog.deciding.words import any_of, listed
from builderlog.knowing.entries import Visit
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Known, Rulebook, VisitFirst
from builderlog.reading.problem import Place

MOST_NAMED = 6  # ids in one sentence


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish for a visit: who has it, of whom, for which areas or tasks."""

    words: str  # "journal.yaml:12 wants a visit"
    by: tuple[str, ...]  # words of `as` that mean who must come; none: anybody may
    names: frozenset[str] | None  # ids of areas or tasks; None: everything
    place: Place


@dataclass(frozen=True, slots=True)
class Unmet:
    """Tasks for which a wish is not met, with the sentence that says so."""

    wish: Wish
    tasks: tuple[str, ...]
    words: str  # without the tasks at its head
    worked_since: bool = False  # they were looked at, and then worked on


def wishes(ledger: Ledger) -> tuple[Wish, ...]:
    """The builder's own first; of the rulebook those that are always wanted."""
    own = [
        Wish(f"{place_text(word.place)} wants a visit", (), frozenset([word.text]), word.place)
        for word in ledger.settings.visit_first
        if word.text
    ]
    rulebook = ledger.rulebook
    visits = rulebook.visits_first if rulebook else ()
    place = Place("journal.yaml")
    asked = [
        Wish(f"the rulebook '{rulebook.name}' wants a {_named(each)}", each.by, None, place)
        for each in visits
        if rulebook and each.always
    ]
    return (*own, *asked)


def _named(visit: VisitFirst) -> str:
    """`pre-cover inspection (Example Rules part 5, from memory)`."""
    known = {Known.MEMORY: "from memory", Known.SECOND_HAND: "second hand"}.get(visit.known)
    source = ", ".join(each for each in (visit.citation, known) if each)
    return f"{visit.what} ({source})" if source else visit.what


def authority_words(rulebook: Rulebook | None) -> Iterator[str]:
    """What is not known, or left to the authority, of visits before closing: whole sentences."""
    if rulebook is None:
        return
    for each in rulebook.visits_first:
        if not each.always:
            yield f"The authority may want a {_named(each)}, and need not: ask before you close."
    if not rulebook.visits_first:
        told = "Whether the authority wants a visit before work is closed is not in the rulebook "
        yield f"{told}'{rulebook.name}', which is not that it wants none: ask before you close."


def unmet(wish: Wish, records: Iterable[TaskRecord]) -> Iterator[Unmet]:
    """The tasks among these of which the record does not show what the wish asks for.

    Told are apart: those that nobody looked at, those that others did, and those on which work
    went on after the visit.
    """
    found: dict[tuple[str, bool], list[str]] = {}
    for record in records:
        if wish.names is None or wish.names & {record.id, record.area}:
            visits = [visit for visit in record.visits if _in_time(record, visit)]
            fitting = [visit for visit in visits if _comes_from(visit.line, wish.by)]
            words = (
                _worked_since(record, fitting[-1]) if fitting else _lacking(wish, record, visits)
            )
            if words:
                found.setdefault((words, bool(fitting)), []).append(record.id)
    for (words, since), tasks in found.items():
        yield Unmet(wish, tuple(tasks), words, since)


def named(tasks: Iterable[str]) -> str:
    """`W01, W02 and W04`, or the first few and how many more."""
    ids = list(tasks)
    if len(ids) <= MOST_NAMED:
        return listed(ids)
    return listed([*ids[: MOST_NAMED - 1], f"{len(ids) - MOST_NAMED + 1} more"])


def _lacking(wish: Wish, record: TaskRecord, visits: list[Told[Visit]]) -> str:
    """`visits` are those that came while it could be seen, by anybody."""
    by = f" by {any_of(wish.by)}" if wish.by else ""
    seen = "no visit on record"
    if visits:
        seen = f"looked at by {_visitor(visits[-1])}"
    elif record.visits:
        seen = f"no visit in time ({_visitor(record.visits[-1])})"
    return f"{seen}, and {wish.words}{by} first"


def _worked_since(record: TaskRecord, last: Told[Visit]) -> str:
    """What was done after the visit; nothing where it was left as it was seen."""
    since = [row for row in record.work if row.day > (last.note.day or row.day)]
    if not sums.seconds_of(since):
        return ""
    worked = length_text(sums.seconds_of(since))
    return f"last looked at by {_visitor(last)}, with {worked} of work since"


def _in_time(record: TaskRecord, visit: Told[Visit]) -> bool:
    """While it could be seen, and since it was last opened."""
    opened = [each.note.day or date.min for each in record.closings if not each.closed]
    day = visit.note.day or date.min
    return day >= max(opened, default=date.min) and could_be_seen(record.closings, day)


def _comes_from(visit: Visit, by: tuple[str, ...]) -> bool:
    capacity = visit.capacity.text.casefold() if visit.capacity else ""
    return not by or any(word.casefold() in capacity for word in by)


def _visitor(visit: Told[Visit]) -> str:
    """`Hedda Quillane as counsellor on 2026-02-14`: who came, as far as it is said."""
    line = visit.line
    who = line.who[0].text if line.who else "somebody"
    capacity = f" as {line.capacity}" if line.capacity else ""
    return f"{who}{capacity} on {visit.note.day}"
