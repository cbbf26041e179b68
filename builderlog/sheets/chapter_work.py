"""Chapters of the work's events: bulletins, snags found and put right, decisions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from builderlog.deciding.words import counted
from builderlog.knowing.entries import Bulletin, Decided
from builderlog.knowing.ledger import Snag
from builderlog.reading.problem import Place
from builderlog.sheets.cells import NOT_SAID, Names, day_cell, maybe, names_of, said
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.chapter_visits import visits_of
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import Shelf
from builderlog.sheets.table import InNote, entries


@dataclass(slots=True)
class _Followed:
    """One bulletin over all notes that name it, oldest first."""

    number: str
    told: list[InNote[Bulletin]] = field(default_factory=list)

    @property
    def applies(self) -> bool | None:
        """As it was last said."""
        said_so = [row.line.applies for row in self.told if row.line.applies is not None]
        return said_so[-1] if said_so else None

    @property
    def done(self) -> str:
        """Everything that was done, as the notes say it."""
        done = (str(row.line.done) for row in self.told if row.line.done)
        return "; ".join(dict.fromkeys(done))

    @property
    def is_open(self) -> bool:
        """Not said not to apply, and nothing done."""
        return self.applies is not False and not self.done


def bulletins(held: Material) -> Iterator[Chapter]:
    """Each bulletin once, with the notes that tell of it; left out where there is none."""
    followed: dict[str, _Followed] = {}
    for row in entries(held.ledger, lambda note: note.bulletins):
        number = row.line.number.text
        followed.setdefault(number, _Followed(number)).told.append(row)
    if not followed:
        return
    columns = (
        Column("Bulletin", share=3),
        Column("First noted", share=2),
        Column("Applies", share=2),
        Column("What was done", share=4),
        Column("Notes", share=2),
    )
    rows = tuple(_bulletin(each, held.shelf) for each in followed.values())
    opened = [each for each in followed.values() if each.is_open]
    gaps = [Paragraph(_still_open(opened), "gap")] if opened else []
    table = Rows("Bulletins of makers and authorities", columns, rows)
    yield Chapter("bulletins", "Bulletins", (*gaps, table))


def _still_open(opened: Sequence[_Followed]) -> str:
    names = ", ".join(each.number for each in opened)
    return (
        f"Of {counted(len(opened), 'bulletin')} the record does not say that it was done: {names}."
    )


def _bulletin(each: _Followed, shelf: Shelf) -> tuple[Cell, ...]:
    applies = {True: Cell("yes"), False: Cell("no"), None: NOT_SAID}[each.applies]
    done = maybe(each.done) if each.applies is False else said(each.done)
    notes = dict.fromkeys(row.note.path for row in each.told)
    return (
        Cell(each.number),
        day_cell(each.told[0].note.day),
        applies,
        done,
        Cell(links=shelf.notes(notes)),
    )


def snags(held: Material) -> Iterator[Chapter]:
    """Open ones first, then those put right, each with its days from found to put right."""
    names = names_of(held.found)
    visits = {line.place: each.id for each in visits_of(held.ledger) for line in each.line.found}
    opened = [snag for snag in held.ledger.snags if snag.fixed_on is None]
    fixed = [snag for snag in held.ledger.snags if snag.fixed_on is not None]
    if not held.ledger.snags:
        blocks: tuple[Block, ...] = (
            Paragraph("No note tells of anything found wrong that had to be put right.", "lead"),
        )
    else:
        told = f"{counted(len(held.ledger.snags), 'snag')} on record: {len(opened)} open, "
        told += f"{len(fixed)} put right."
        desk = _Desk(names, held.shelf, visits)
        blocks = (Paragraph(told, "lead"), _open(opened, desk), *_put_right(fixed, desk))
    yield Chapter("snags", "Snags found and put right", blocks)


@dataclass(frozen=True, slots=True)
class _Desk:
    names: Names
    shelf: Shelf
    visits: Mapping[Place, str]  # the section of the visit that found it, by the snag's place


def _open(snags: Iterable[Snag], desk: _Desk) -> Section:
    columns = (
        Column("No.", share=2),
        Column("Found", share=3),
        Column("What is wrong", share=5),
        Column("Where", share=3),
    )
    rows = tuple(_found(snag, desk) for snag in snags)
    table = Rows("Open snags", columns, rows, empty="None is open.")
    return Section("snags-open", "Open", (table,))


def _put_right(snags: Iterable[Snag], desk: _Desk) -> Iterator[Section]:
    columns = (
        Column("No.", share=8),
        Column("Found", share=7),
        Column("What was wrong", share=11),
        Column("Where", share=9),
        Column("Put right", share=7),
        Column("Days", number=True, share=4),
        Column("How", share=11),
        Column("By whom, seen by", share=9),
    )
    rows = tuple((*_found(snag, desk), *_fixed(snag, desk)) for snag in snags)
    if rows:
        yield Section("snags-fixed", "Put right", (Rows("Snags put right", columns, rows),))


def _found(snag: Snag, desk: _Desk) -> tuple[Cell, ...]:
    visit = desk.visits.get(snag.line.place, "")
    at = [str(word) for word in (snag.line.task or snag.line.area,) if word]
    return (
        Cell(snag.number),
        Cell("on a visit" if visit else "", desk.shelf.notes((snag.note,)), visit),
        Cell(snag.line.snag.text),
        desk.names.cells(at) if at else NOT_SAID,
    )


def _fixed(snag: Snag, desk: _Desk) -> tuple[Cell, ...]:
    line, day = snag.fixed, snag.fixed_on
    if line is None or day is None:
        return ()
    return (
        Cell(links=desk.shelf.notes((snag.fixed_in or snag.note,))),
        Cell(str((day - snag.day).days)),
        said(line.how),
        said(desk.names.by_whom(line)),
    )


def decisions(held: Material) -> Iterator[Chapter]:
    """What was decided, oldest first; left out where nothing was."""
    rows = entries(held.ledger, lambda note: note.decided)
    if not rows:
        return
    columns = (
        Column("Day", share=2),
        Column("What was decided", share=5),
        Column("Why", share=5),
        Column("Instead of", share=4),
        Column("Look at again", share=2),
    )
    table = Rows("Decisions", columns, tuple(_decision(row, held.shelf) for row in rows))
    yield Chapter("decisions", "Decisions", (table,))


def _decision(row: InNote[Decided], shelf: Shelf) -> tuple[Cell, ...]:
    line = row.line
    return (
        Cell(links=shelf.notes((row.note.path,))),
        Cell(line.what.text),
        said(line.why),
        maybe(line.instead_of),
        maybe(line.again),
    )
