"""The chapter of visits and inspections: who came, what they looked at, said and found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from builderlog.deciding.words import counted
from builderlog.knowing.entries import Note, SnagLine, Visit
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.reading.problem import Place
from builderlog.sheets.cells import NOT_SAID, Names, names_of, said
from builderlog.sheets.chapter import (
    Block,
    Bullets,
    Cell,
    Chapter,
    Column,
    Facts,
    Paragraph,
    Rows,
    Section,
)
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import Shelf
from builderlog.sheets.table import entries

NONE = (
    "No visit or inspection is on record: no note says that anyone but the builders looked at the "
    "work."
)


@dataclass(frozen=True, slots=True)
class NumberedVisit:
    """A visit with its note; `id` is that of its section."""

    id: str
    note: Note
    line: Visit


def visits_of(ledger: Ledger) -> tuple[NumberedVisit, ...]:
    """All visits, the oldest first."""
    rows = entries(ledger, lambda note: note.visits)
    return tuple(
        NumberedVisit(f"visit-{number}", row.note, row.line)
        for number, row in enumerate(rows, start=1)
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    names: Names
    shelf: Shelf
    snags: Mapping[Place, Snag]
    at_work: Mapping[str, tuple[str, ...]]  # by day: everyone with time in any of its notes


def visits(held: Material) -> Iterator[Chapter]:
    """All visits in one table, then each with all that the notes say of it."""
    found = visits_of(held.ledger)
    title = "Visits and inspections"
    if not found:
        yield Chapter("visits", title, (Paragraph(NONE, "lead"),))
        return
    ledger = held.ledger
    desk = _Desk(
        names_of(held.found),
        held.shelf,
        {snag.line.place: snag for snag in ledger.snags},
        _at_work(ledger),
    )
    told = f"{counted(len(found), 'visit')} on record, each told below with all who were there."
    sections = (_section(each, desk) for each in found)
    yield Chapter("visits", title, (Paragraph(told, "lead"), _table(found, desk), *sections))


def _at_work(ledger: Ledger) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for row in ledger.work:
        if row.seconds:
            found.setdefault(row.day.isoformat(), {})[row.person] = None
    return {day: tuple(people) for day, people in found.items()}


def _table(found: Iterable[NumberedVisit], desk: _Desk) -> Rows:
    columns = (
        Column("Day", share=2),
        Column("Who", share=4),
        Column("As", share=2),
        Column("Looked at", share=5),
        Column("Result", share=3),
    )
    rows = tuple(_row(each, desk) for each in found)
    return Rows("All visits and inspections", columns, rows)


def _row(each: NumberedVisit, desk: _Desk) -> tuple[Cell, ...]:
    line = each.line
    return (
        Cell(str(each.note.day), to=each.id),
        said(desk.names.persons(line.who)),
        said(line.capacity),
        desk.names.cells(line.looked_at) if line.looked_at else NOT_SAID,
        said(line.result),
    )


def _section(each: NumberedVisit, desk: _Desk) -> Section:
    line = each.line
    blocks: list[Block] = [Facts(tuple(_facts(each, desk)))]
    if len(line.looked_at) > 1:
        blocks.append(Paragraph("Looked at:"))
        blocks.append(Bullets(tuple(desk.names.cell(word.text) for word in line.looked_at)))
    if line.found:
        blocks.append(_defects(line.found, desk))
    return Section(
        each.id,
        f"{each.note.day}: {_came(line, desk.names)}",
        tuple(blocks),
        aside=str(line.result or ""),
    )


def _came(line: Visit, names: Names) -> str:
    """Those who came to look, without the journal's own people who were there with them."""
    came = [word for word in line.who if word.text not in names.people.declared]
    return names.persons(came or line.who) or "who came is not said"


def _facts(each: NumberedVisit, desk: _Desk) -> Iterator[tuple[str, Cell]]:
    line, note = each.line, each.note
    yield "Persons involved", said(_all_roles(line, desk.names))
    yield "Came as", said(line.capacity)
    yield "At work that day", _builders(note, desk)
    if note.where:
        yield "Where", Cell(note.where.text)
    if len(line.looked_at) < 2:
        yield "Looked at", desk.names.cells(line.looked_at) if line.looked_at else NOT_SAID
    yield "Said", said(line.said)
    yield "Result", said(line.result)
    if line.sheet:
        yield "Sheet", Cell(links=desk.shelf.papers([line.sheet.text]))
    if not line.found:
        yield "Found", Cell("no defect is noted")
    yield "Told in", Cell(links=desk.shelf.note(note))


def _all_roles(line: Visit, names: Names) -> str:
    """Everyone on their own, those of the journal with their role."""
    return "; ".join(dict.fromkeys(names.with_role(word.text) for word in line.who))


def _builders(note: Note, desk: _Desk) -> Cell:
    people = desk.at_work.get(str(note.day), ())
    if not people:
        return Cell("nobody has time on record for that day", weak=True)
    return Cell("; ".join(map(desk.names.with_role, people)))


def _defects(found: Iterable[SnagLine], desk: _Desk) -> Rows:
    columns = (
        Column("Defect found", share=5),
        Column("Snag", share=2),
        Column("Put right", share=3),
        Column("How", share=5),
        Column("By whom, seen by", share=4),
    )
    rows = tuple(_defect(line, desk) for line in found)
    return Rows("Defects found, and how each was put right", columns, rows)


def _defect(line: SnagLine, desk: _Desk) -> tuple[Cell, ...]:
    snag = desk.snags.get(line.place)
    number = Cell(snag.number if snag else "")
    if snag is None or snag.fixed is None:
        return Cell(line.snag.text), number, Cell("open", weak=True), Cell(), Cell()
    return (
        Cell(line.snag.text),
        number,
        Cell(links=desk.shelf.notes((snag.fixed_in or snag.note,))),
        said(snag.fixed.how),
        said(desk.names.by_whom(snag.fixed)),
    )
