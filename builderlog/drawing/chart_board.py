"""Columns that stand on a board beside a steel rule: twelve months a board, a board a year.

A column is built of parts, each hatched or made of equal pieces; a month without anything to tell
is a break in the board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup, escape

from builderlog.drawing.chart_ink import (
    LEFT,
    WHOLE,
    Field,
    Scale,
    line,
    month_label,
    opening,
    percent,
    rect,
    rule,
    text,
)
from builderlog.drawing.hatches import fill_of, kind_of, patterns

FEWEST_SLOTS = 6  # so that a first month alone is no barn door
YEAR = 12
MANY = 8  # more months than that stand close on a narrow page
COLUMN = 700  # thousandths of its slot
ABOVE_PX = 40
BELOW_PX = 42
HEIGHTS_PX = ((1, 210), (3, 150), (99, 110))  # up to so many boards, so high
PRINT_PX = 10  # a lower print has no room for its edge
EDGE = 5  # permille
LABEL_PX = 16  # a lower part has no room for its id
LONGEST_LABEL = 2


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a column: its length, its hatch, what it is in words; without words a print."""

    length: int
    hatch: int
    words: str
    id: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One month: "2026-03", its parts from the board upwards, what stands above them."""

    month: str
    short: str  # "Mar"
    parts: tuple[Part, ...]
    above: str
    empty: bool


@dataclass(frozen=True, slots=True)
class Boards:
    """All columns of a chart in order; `unit` names what the rule counts."""

    kind: str
    told: tuple[str, str]  # title, description
    columns: tuple[Column, ...]
    scale: Scale
    unit: str


@dataclass(frozen=True, slots=True)
class _Board:
    """Twelve months or fewer: where each stands."""

    year: str
    slots: int
    columns: tuple[tuple[int, Column], ...]


def boards(drawing: Boards, name: str) -> Markup:
    """The chart; `name` begins the ids in it, so that a page may hold several."""
    rows = tuple(_boards(drawing.columns))
    plot_px = next(px for most, px in HEIGHTS_PX if len(rows) <= most or most == HEIGHTS_PX[-1][0])
    step_px = ABOVE_PX + plot_px + BELOW_PX
    dense = " dense" if any(board.slots > MANY for board in rows) else ""
    parts = [part for column in drawing.columns for part in column.parts]
    hatches = [part.hatch for part in parts if part.length and part.words]
    drawn = (
        opening(f"{drawing.kind}{dense}", name, step_px * max(1, len(rows)), drawing.told),
        *patterns(name, hatches),
        *(
            part
            for number, board in enumerate(rows)
            for part in _board(
                board, Field(number * step_px + ABOVE_PX, plot_px, drawing.scale), name, drawing
            )
        ),
        "</svg>",
    )
    return Markup("".join(drawn))  # noqa: S704 - every value above is a number or escaped


def _boards(columns: Sequence[Column]) -> Iterator[_Board]:
    """One board where it is a year or less, else one a calendar year, months under months."""
    if len(columns) <= YEAR:
        slots = max(FEWEST_SLOTS, len(columns))
        yield _Board("", slots, tuple(enumerate(columns)))
        return
    for year in dict.fromkeys(column.month[:4] for column in columns):
        own = (column for column in columns if column.month.startswith(year))
        yield _Board(year, YEAR, tuple((int(column.month[5:]) - 1, column) for column in own))


def _board(board: _Board, field: Field, name: str, drawing: Boards) -> Iterator[str]:
    yield from rule(field, drawing.unit)
    if board.year:
        yield text("year", "0", field.top_px - 24, board.year)
    years: set[str] = {board.year}
    for slot, column in board.columns:
        start, end = _span(slot, board.slots)
        yield from _column(column, (start, end), field, name)
        middle = percent((start + end) // 2)
        label = month_label if board.slots > MANY else partial(text, "month")
        yield label(middle, field.base_px + 17, column.short)
        if column.month[:4] not in years:
            yield text("month year-of", middle, field.base_px + 33, column.month[:4])
            years.add(column.month[:4])
    yield line("base", (percent(LEFT), field.base_px), (percent(WHOLE), field.base_px))


def _span(slot: int, slots: int) -> tuple[int, int]:
    width = (WHOLE - LEFT) // slots
    margin = width * (1000 - COLUMN) // 2000
    return LEFT + slot * width + margin, LEFT + (slot + 1) * width - margin


def _column(column: Column, span: tuple[int, int], field: Field, name: str) -> Iterator[str]:
    """The parts one on the other, the first on the board, and the sum above them."""
    middle = percent(sum(span) // 2)
    if column.empty:
        yield from _break(middle, field.base_px)
    length = 0
    for part in column.parts:
        if part.length > 0:
            top, bottom = field.y(length + part.length), field.y(length)
            length += part.length
            if part.words:
                yield _part(part, span, (top, bottom - top), name)
            else:
                yield from _print(span, (top + 1, max(1, bottom - top - 2)))
            yield from _label(part.id, middle, (top, bottom))
    if column.above:
        yield text("sum", middle, field.y(length) - 6, column.above)


def _part(part: Part, span: tuple[int, int], at: tuple[int, int], name: str) -> str:
    box = rect(f"bar{kind_of(part.hatch)}", span, at, f' fill="{fill_of(name, part.hatch)}"')
    return f"{box[:-2]}><title>{escape(part.words)}</title></rect>"


def _print(span: tuple[int, int], at: tuple[int, int]) -> Iterator[str]:
    """A print with its white edge, where it is high enough to have one."""
    yield rect("print", span, at)
    if at[1] >= PRINT_PX:
        yield rect("image", (span[0] + EDGE, span[1] - EDGE), (at[0] + 3, at[1] - 6))


def _label(words: str, middle: str, at: tuple[int, int]) -> Iterator[str]:
    """The id on its part, where it is short and the part high enough."""
    top, bottom = at
    if words and len(words) <= LONGEST_LABEL and bottom - top >= LABEL_PX:
        for kind in ("id halo", "id"):
            yield text(kind, middle, (top + bottom) // 2 + 5, words)


def _break(middle: str, base_px: int) -> Iterator[str]:
    """The sign with which a drawing leaves out a length."""
    yield (
        f'<svg class="gap" x="{middle}" y="{base_px - 9}" width="1" height="1" overflow="visible">'
        '<path class="break" d="M-9,6 L-3,6 L-1,0 L3,12 L5,6 L9,6"/></svg>'
    )
