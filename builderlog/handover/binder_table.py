"""A table of the dossier as rows of HTML, in the form that suits its columns on a narrow screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup, escape

from builderlog.handover.binder_ink import Ink
from builderlog.sheets.chapter import Cell, Rows

WIDE = 5  # columns; such a table may scroll in a frame of its own
NARROW = 2  # columns; such a table stays a table on any screen
# How many characters of a table's widest cells a telephone of 360 pixels shows side by side.
MOST_CHARACTERS = 48


@dataclass(frozen=True, slots=True)
class Form:
    """`name`: "count" stays a table with upright headings, "stack" becomes blocks, "pair" is short.

    `is_wide`: it stands in a frame that can be pushed sideways.
    """

    name: str
    is_wide: bool


def form_of(block: Rows) -> Form:
    """Tables of numbers stay tables on a telephone, so that they can be compared down a column."""
    columns = len(block.columns)
    numbers = sum(column.number for column in block.columns)
    if columns <= NARROW:
        return Form("pair", is_wide=False)
    is_count = numbers * 2 > columns and _characters(block) <= MOST_CHARACTERS
    return Form("count" if is_count else "stack", is_wide=columns >= WIDE)


def _characters(block: Rows) -> int:
    """The widest word of the first column, and of each other its widest cell and a gap."""
    first, *others = ([cell.words for cell in cells] for cells in zip(*block.rows, strict=True))
    names = max((len(word) for words in first for word in words.split()), default=0)
    return names + sum(1 + max(map(len, cells)) for cells in others)


def widths_of(block: Rows) -> list[int]:
    """How wide each column should be where there is room, in hundredths of the table."""
    whole = sum(column.share for column in block.columns)
    return [column.share * 100 // whole for column in block.columns]


def table_rows(ink: Ink, block: Rows) -> Iterator[Markup]:
    """Each row; its first cell heads it, and the others say their column where it is a stack."""
    stacked = form_of(block).name == "stack"
    openings = [
        _opening(column.heading if stacked else "", is_number=column.number)
        for column in block.columns
    ]
    body = len(block.rows) - block.sums
    for number, row in enumerate(block.rows):
        cells = "".join(
            f"{opening}{ink.cell(cell)}</td>"
            for opening, cell in zip(openings[1:], row[1:], strict=True)
        )
        head = _head(ink, row[0], is_number=block.columns[0].number)
        sums = "" if number < body else ' class="sums"'
        yield Markup(f"<tr{sums}>{head}{cells}</tr>")  # noqa: S704 - every cell is escaped


def _head(ink: Ink, cell: Cell, *, is_number: bool) -> str:
    """A cell without words, whose row goes on with the row above, heads nothing."""
    if not (cell.words or cell.links):
        return "<td></td>"
    kind = ' class="number"' if is_number else ""
    return f'<th scope="row"{kind}>{ink.cell(cell)}</th>'


def _opening(label: str, *, is_number: bool) -> str:
    kind = ' class="number"' if is_number else ""
    told = f' data-label="{escape(label)}"' if label else ""
    return f"<td{kind}{told}>"
