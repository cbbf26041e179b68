"""Help disclosed, paid help first: who, what, on which task, how long, with receipts and notes.

AC 20-27G, paragraph 8.h, asks for the use of commercial and of non-commercial assistance.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.assistance import NO_TASK, Help, SentBack, WorkAway, assistance
from builderlog.deciding.claim_sentences import bought_help, has_bought_help
from builderlog.deciding.claim_words import units_text
from builderlog.deciding.questions import CAPACITIES
from builderlog.deciding.words import counted, duration_clock, first_upper
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.settings import Person, Role
from builderlog.sheets.chapter import (
    Block,
    Cell,
    Chapter,
    Column,
    Paragraph,
    Rows,
    Section,
    anchor,
)
from builderlog.sheets.evidence_people import ROLE_WORDS, People, people_of
from builderlog.sheets.material import Material
from builderlog.sheets.record_evidence import Helped, all_help

CHAPTER = "help"
MOST_CITED = 8
NO_TASK_WORDS = "given to no task"
HOURS = (
    Column("Who", share=3),
    Column("Task"),
    Column("Hours", number=True),
    Column("Days", share=4),
    Column("Notes", share=4),
)
RECEIPTS = Column("Receipts", share=3)
AWAY = (
    Column("What", share=3),
    Column("With", share=3),
    Column("Done by"),
    Column("Task"),
    Column("Sent, back", share=3),
    Column("Receipts", share=3),
    Column("Notes", share=3),
)
SENT_BACK = (
    Column("Part", share=3),
    Column("Maker", share=3),
    Column("Task"),
    Column("Sent back, here again", share=3),
    Column("Receipts", share=3),
    Column("Notes", share=3),
)
EVERYONE = (
    Column("Name", share=3),
    Column("In the notes"),
    Column("Role"),
    Column("From, until", share=3),
    Column("Hours on record", number=True),
)

EVERYONE_OF = {
    Role.BUILDER: "All builders",
    Role.HELPER: "All unpaid helpers",
    Role.PAID: "All paid help",
}


def help_chapter(material: Material) -> Iterator[Chapter]:
    """Paid help, work that was away, unpaid help, parts sent back, and everyone who worked."""
    desk = _Desk(material, people_of(material.ledger), tuple(all_help(material.found)))
    blocks: tuple[Block, ...] = (
        Paragraph(disclosed(material.ledger), kind="lead"),
        *_ruled_out(material.ledger),
        Paragraph(INTRO),
        *_paid(desk),
        *_away(desk),
        *_unpaid(desk),
        *_sent_back(desk),
        _everyone(desk),
    )
    yield Chapter(CHAPTER, "Help, paid and unpaid", blocks)


INTRO = (
    "Paid means for hire or compensation. Hours are the build time up to the certificate, by "
    "person and task, as in data/tables/help.csv."
)


@dataclass(frozen=True, slots=True)
class _Desk:
    """The material, the people, and all help as the table has it."""

    material: Material
    people: People
    rows: tuple[Helped, ...]

    def of(self, kind: str) -> tuple[Helped, ...]:
        """The rows of one kind."""
        return tuple(each for each in self.rows if each.kind == kind)


def disclosed(ledger: Ledger) -> str:
    """The sentence that discloses, or says that there is nothing to disclose."""
    if not has_bought_help(ledger):
        return "There was no paid help: none is on record and none is claimed."
    found = assistance(ledger)
    if found.paid or found.away_as("paid"):
        return f"There was paid help: {bought_help(ledger)}"
    return f"No paid help is on record, but some is claimed as planned: {bought_help(ledger)}"


def _ruled_out(ledger: Ledger) -> Iterator[Paragraph]:
    rulebook = ledger.rulebook
    if rulebook and not rulebook.allows_paid_help and has_bought_help(ledger):
        yield Paragraph(
            "The rulebook is for projects without bought help, and the journal has some.",
            kind="caution",
        )


def _paid(desk: _Desk) -> Iterator[Section]:
    found = desk.material.found.help
    blocks: list[Block] = []
    if found.paid:
        blocks.append(_hours("Hours of paid help", desk.of("paid"), found.paid, desk))
    away = found.away_as("paid")
    if away:
        blocks.append(_pieces("Work away for pay", away, desk))
    blocks += _claimed(desk)
    if not blocks:
        blocks.append(Paragraph("None is on record and none is claimed."))
    yield Section("help-paid", "Paid help", tuple(blocks))


def _claimed(desk: _Desk) -> Iterator[Block]:
    """What the work list gives to paid help, whether it was given yet or not."""
    worklist = desk.material.ledger.worklist
    tasks = [task for area in worklist.areas for task in area.tasks if task.applies]
    paid = [(task, task.credit.paid) for task in tasks if task.credit and task.credit.paid]
    if not paid:
        return
    worked = {each.task for each in desk.rows if each.kind in ("paid", "away, paid")}
    rows = tuple(
        (
            Cell(f"{task.id} {task.name}", to=anchor(task.id)),
            Cell(units_text(tenths, Measure.POINTS)),
            Cell("done" if task.done else "open"),
            Cell("yes") if task.id in worked else Cell("nothing yet", weak=True),
        )
        for task, tenths in paid
    )
    columns = (
        Column("Task", share=6),
        Column("Of its one point", number=True),
        Column("State"),
        Column("Paid help on record", share=3),
    )
    yield Rows("Credit that the work list gives to paid help", columns, rows)


def _away(desk: _Desk) -> Iterator[Section]:
    """Work away that was not paid for, or of which that is not said."""
    found = desk.material.found.help
    others = tuple(each for each in found.away if each.capacity != "paid")
    if others:
        table = _pieces("Other work away", others, desk)
        yield Section("help-away", "Other work that was away", (table,))


def _unpaid(desk: _Desk) -> Iterator[Section]:
    found = desk.material.found.help
    said = Paragraph("No unpaid help is on record.")
    if found.unpaid:
        table = _hours("Hours of unpaid help", desk.of("unpaid"), found.unpaid, desk)
        yield Section("help-unpaid", "Unpaid help", (table,))
    else:
        yield Section("help-unpaid", "Unpaid help", (said,))


def _sent_back(desk: _Desk) -> Iterator[Section]:
    rows = tuple(
        (
            Cell(f"{each.part} {each.ref}" if each.ref else each.part),
            Cell(each.maker) if each.maker else Cell("not named", weak=True),
            _task(each.task),
            Cell(_gone(each)),
            _receipts(each.receipts, desk),
            _notes([each.note], desk),
        )
        for each in desk.material.found.help.sent_back
    )
    if rows:
        title = "Parts sent back to their maker"
        yield Section("help-sent-back", title, (Rows(title, SENT_BACK, rows),))


def _gone(each: SentBack) -> str:
    back = f"here again {each.back}" if each.back else "not yet here again"
    return f"sent {each.day}, {back}"


def _hours(title: str, rows: Sequence[Helped], given: Sequence[Help], desk: _Desk) -> Rows:
    """Person by person and task by task, of paid help with its receipts; then the sum.

    The sum is one of whole seconds, and the same as `tally` has.
    """
    paid = any(each.role is Role.PAID for each in given)
    whole = sum(each.seconds for each in given)
    last = (Cell("In all"), Cell(), Cell(duration_clock(whole)), Cell(), Cell())
    body = [(*_given(each, desk), *_paid_for(each, desk, paid=paid)) for each in rows]
    columns = (*HOURS, RECEIPTS) if paid else HOURS
    return Rows(title, columns, (*body, (*last, Cell()) if paid else last), sums=1)


def _given(each: Helped, desk: _Desk) -> tuple[Cell, ...]:
    return (
        Cell(desk.people.full(each.who or "")),
        _task(each.task or NO_TASK, NO_TASK_WORDS),
        Cell(duration_clock(each.seconds or 0)),
        Cell(days_words(each.days)),
        _notes(each.notes, desk),
    )


def _paid_for(each: Helped, desk: _Desk, *, paid: bool) -> Iterator[Cell]:
    if paid:
        yield _receipts(each.receipts, desk)


def _pieces(title: str, pieces: Iterable[WorkAway], desk: _Desk) -> Rows:
    rows = tuple(
        (
            Cell(each.what),
            Cell(each.firm) if each.firm else Cell("not named", weak=True),
            Cell(CAPACITIES[each.capacity], weak=each.capacity is None),
            _task(each.task),
            Cell(_sent(each)),
            _receipts(each.receipts, desk),
            _notes(each.notes, desk),
        )
        for each in pieces
    )
    return Rows(title, AWAY, rows)


def _sent(each: WorkAway) -> str:
    sent = f"sent {each.sent}" if each.sent else "sent on a day not said"
    return f"{sent}, {f'back {each.back}' if each.back else 'not yet back'}"


def _task(task: str | None, otherwise: str = "none named") -> Cell:
    return Cell(task, to=anchor(task)) if task else Cell(otherwise, weak=True)


def _receipts(named: Iterable[str], desk: _Desk) -> Cell:
    papers = desk.material.shelf.papers(named)
    return Cell(links=papers) if papers else Cell("none", weak=True)


def _notes(paths: Sequence[str], desk: _Desk) -> Cell:
    """By their days; many are counted, and the table names them all."""
    if len(paths) > MOST_CITED:
        return Cell(f"{counted(len(paths), 'note')}, named in help.csv")
    return Cell(links=desk.material.shelf.notes(paths))


def days_words(days: Sequence[date]) -> str:
    """2026-03-01 to 2026-03-05, 3 days."""
    if len(days) < 2:
        return "".join(map(str, days))
    count = f", {len(days)} days" if len(days) > 2 else ""
    return f"{days[0]} to {days[-1]}{count}"


def _everyone(desk: _Desk) -> Section:
    """All who are declared, with all time on record as `tally` sums it."""
    ledger = desk.material.ledger
    time = sums.seconds_by(ledger.work, lambda row: row.person)
    rows = [_person(person, time.get(person.name, 0)) for person in ledger.settings.people]
    for role, seconds in sums.by_role(ledger.work).items():
        words = Cell(EVERYONE_OF[Role(role)])
        rows.append((words, Cell(), Cell(), Cell(), Cell(duration_clock(seconds))))
    whole = duration_clock(sums.seconds_of(ledger.work))
    rows.append((Cell("Everyone"), Cell(), Cell(), Cell(), Cell(whole)))
    table = Rows("Everyone who works, with role and hours", EVERYONE, tuple(rows), sums=4)
    return Section("help-everyone", "Everyone who worked", (table,))


def _person(person: Person, seconds: int) -> tuple[Cell, ...]:
    since = f"from {person.since.day}" if person.since else ""
    until = f"until {person.until.day}" if person.until else ""
    return (
        Cell(person.full_name or person.name),
        Cell(person.name),
        Cell(ROLE_WORDS[person.role]),
        Cell(first_upper(", ".join(words for words in (since, until) if words))),
        Cell(duration_clock(seconds)),
    )
