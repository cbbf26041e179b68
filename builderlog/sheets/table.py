"""The sheet: a table of ready words that a page, a PDF and a CSV file print alike.

Rows are text only, so that one number can never differ between website and evidence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Generic, TypeVar

from builderlog.deciding.words import amount
from builderlog.knowing.entries import DatedWord, Note
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.units import Quantity
from builderlog.reading.words import Word

Row = TypeVar("Row")
Line = TypeVar("Line")

# What a cell may be made of; `as_words` says how each is written.
Value = str | int | date | Decimal | Word | DatedWord | Quantity | tuple["Value", ...] | None


@dataclass(frozen=True, slots=True)
class Heading:
    """A column's name and what it means, in one clause; `number`: its cells are numbers."""

    name: str
    meaning: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table: `name` is that of its file, `title` one sentence, each row as long as `headings`."""

    name: str
    title: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def header(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(heading.name for heading in self.headings)


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """A heading and how its cell is found in what a row is made of."""

    heading: Heading
    cell: Callable[[Row], Value]


@dataclass(frozen=True, slots=True)
class InNote(Generic[Line]):
    """One entry of a note together with that note."""

    note: Note
    line: Line


def text(name: str, meaning: str, cell: Callable[[Row], Value]) -> Column[Row]:
    """A column of words or dates."""
    return Column(Heading(name, meaning), cell)


def number(name: str, meaning: str, cell: Callable[[Row], Value]) -> Column[Row]:
    """A column of numbers, without unit or grouping, an empty cell where there is none."""
    return Column(Heading(name, meaning, number=True), cell)


def sheet(name: str, title: str, columns: Iterable[Column[Row]], rows: Iterable[Row]) -> Sheet:
    """Every row asked for every cell."""
    held = tuple(columns)
    return Sheet(
        name,
        title,
        tuple(column.heading for column in held),
        tuple(tuple(as_words(column.cell(row)) for column in held) for row in rows),
    )


def sheet_of_entries(
    name: str, title: str, columns: Iterable[Column[InNote[Line]]], rows: Iterable[InNote[Line]]
) -> Sheet:
    """The same for entries of notes, with the note's date in front and its path at the end."""
    day: Column[InNote[Line]] = text("date", "day of the note", lambda row: row.note.day)
    path: Column[InNote[Line]] = text("note", "the note that says so", lambda row: row.note.path)
    return sheet(name, title, (day, *columns, path), rows)


def entries(ledger: Ledger, pick: Callable[[Note], Iterable[Line]]) -> tuple[InNote[Line], ...]:
    """What `pick` finds in each note, oldest note first."""
    return tuple(InNote(note, line) for note in ledger.notes for line in pick(note))


def as_words(value: Value) -> str:
    """A cell as text: empty for None, ISO 8601 dates, yes and no, `; ` between several."""
    match value:
        case None:
            words = ""
        case bool():
            words = "yes" if value else "no"
        case Decimal():
            words = amount(value)
        case date():
            words = value.isoformat()
        case DatedWord():
            words = value.day.isoformat()
        case Quantity():
            words = value.written
        case tuple():
            words = "; ".join(as_words(part) for part in value)
        case _:
            words = str(value)
    return words


def decimal_hours(seconds: int) -> str:
    """Whole seconds as hours with four decimals, rounded half up: 11700 is "3.2500"."""
    parts = (seconds * 10_000 + 1_800) // 3_600
    return f"{parts // 10_000}.{parts % 10_000:04d}"
