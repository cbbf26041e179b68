"""Which column of a builder's own table means what, by its name; columns of other names are kept.

The names need not stand in the first row: spreadsheets have titles above. What a meaning is good
for is not known here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_columns import BRACKETS, bare_name
from builderlog.reading.csv_rows import Cell, CsvTable, Row
from builderlog.reading.problem import Place

M = TypeVar("M", bound=StrEnum)

ROWS_ABOVE = 20  # so far down the row with the names is looked for
NOTHING_SAID = frozenset({"", "-", "\N{EN DASH}", "\N{EM DASH}", "--", "---"})


def names_of(listed: tuple[tuple[M, str], ...]) -> dict[str, M]:
    """Meanings by name; `listed` has several names, without case and blanks, to a meaning."""
    return {name: meaning for meaning, names in listed for name in names.split()}


def meaning_of(text: str, names: Mapping[str, M]) -> M | None:
    """What a column of this name means; a remark in brackets says nothing."""
    return names.get(bare_name(BRACKETS.sub("", text))) or names.get(bare_name(text))


@dataclass(frozen=True, slots=True)
class TableColumns(Generic[M]):
    """Where each meaning stands, and the columns that mean none of them, by their place."""

    header: int  # the row that holds the names
    at: dict[M, tuple[int, ...]]
    others: dict[int, str]  # place to name, "" where the column has none
    width: int  # cells in the row of names


def columns_in(row: Row, number: int, names: Mapping[str, M]) -> TableColumns[M]:
    """The columns by a row of names."""
    at: dict[M, tuple[int, ...]] = {}
    others: dict[int, str] = {}
    for place, cell in enumerate(row):
        meaning = meaning_of(cell.text, names)
        if meaning is None:
            others[place] = one_line(cell.text)
        else:
            at[meaning] = (*at.get(meaning, ()), place)
    return TableColumns(number, at, others, len(row))


def find_header(table: CsvTable, names: Mapping[str, M], needed: M) -> TableColumns[M] | None:
    """The first row with a column of the needed meaning and one more; None where there is none."""
    for number, row in enumerate(table.rows[:ROWS_ABOVE]):
        columns = columns_in(row, number, names)
        if needed in columns.at and len(columns.at) > 1:
            return columns
    return None


@dataclass(frozen=True, slots=True)
class TableRow(Generic[M]):
    """One row below the names."""

    table: CsvTable
    columns: TableColumns[M]
    row: Row

    def cells(self, meaning: M) -> tuple[Cell, ...]:
        """The cells of a meaning that say something."""
        at = self.columns.at.get(meaning, ())
        found = (self.row[place] for place in at if place < len(self.row))
        return tuple(cell for cell in found if cell.text not in NOTHING_SAID)

    def cell(self, meaning: M) -> Cell | None:
        """The first of them."""
        return next(iter(self.cells(meaning)), None)

    def text(self, meaning: M) -> str:
        """Its text in one line, or nothing."""
        cell = self.cell(meaning)
        return one_line(cell.text) if cell else ""

    def at(self, place: int) -> Cell | None:
        """The cell of that column, if it says something."""
        cell = self.row[place] if place < len(self.row) else None
        return cell if cell and cell.text not in NOTHING_SAID else None

    def place(self, *meanings: M) -> Place:
        """Where the first of these cells stands that says something, or the row's first."""
        found = (cell for meaning in meanings for cell in self.cells(meaning)[:1])
        first = next((cell for cell in self.row if cell.text), self.row[0])
        return self.table.place(next(found, first))

    def kept(self) -> tuple[str, ...]:
        """`Weather: rain`: what stands in columns that are not understood, each in one line."""
        told: list[str] = []
        for place, name in self.columns.others.items():
            cell = self.at(place)
            if cell:
                told.append(f"{name}: {one_line(cell.text)}" if name else one_line(cell.text))
        return tuple(told)

    def beyond(self) -> tuple[Cell, ...]:
        """Cells behind the last column that has a name, if one of them says something."""
        extra = self.row[self.columns.width :]
        return extra if any(cell.text for cell in extra) else ()
