"""The running total as inline SVG: a stair that climbs month by month, like a section of a hill."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from markupsafe import Markup

from builderlog.deciding.words import duration_brief
from builderlog.drawing.chart_ink import (
    LEFT,
    WHOLE,
    Field,
    line,
    month_label,
    opening,
    percent,
    rect,
    rule,
    scale_of,
    text,
)
from builderlog.drawing.hatches import fill_of, patterns
from builderlog.sheets.chart_growth import GrowthChart, GrowthStep

HOUR = 3600
TOP_PX = 34
PLOT_PX = 220
BELOW_PX = 40
FEWEST_SLOTS = 6
YEAR = 12
MANY = 8  # more months than that stand close on a narrow page
APART_PX = 19  # between two lines of words
LAST_YEAR = 920  # farther to the right a year's number would leave the drawing
ROOM = 450  # words to the left of a step need so much of the width


def growth_drawing(chart: GrowthChart, name: str) -> Markup:
    """The stair; `name` begins the ids in it."""
    total = chart.steps[-1].running.seconds if chart.steps else 0
    aim = chart.estimate.seconds if chart.estimate and chart.near else 0
    field = Field(TOP_PX, PLOT_PX, scale_of(max(total, aim), HOUR))
    drawn = (
        opening("growth", name, TOP_PX + PLOT_PX + BELOW_PX, (chart.title, chart.description)),
        *patterns(name, (0,)),
        *rule(field, "h"),
        *(each for number in range(len(chart.steps)) for each in _step(chart, number, field, name)),
        *_aim(chart, field),
        *_marks(chart, field),
        *_months(chart.steps, field),
        line("base", (percent(LEFT), field.base_px), (percent(WHOLE), field.base_px)),
        "</svg>",
    )
    return Markup("".join(drawn))  # noqa: S704 - every value above is a number or escaped


def _x(position: int, steps: int) -> int:
    """Where the step at a position begins, in permille of the width."""
    return LEFT + (WHOLE - LEFT) * position // max(FEWEST_SLOTS, steps)


def _step(chart: GrowthChart, number: int, field: Field, name: str) -> Iterator[str]:
    """One month: the hatched ground below it, its riser and its tread."""
    steps = chart.steps
    before = steps[number - 1].running.seconds if number else 0
    start, end = _x(number, len(steps)), _x(number + 1, len(steps))
    y, y_before = field.y(steps[number].running.seconds), field.y(before)
    if y < field.base_px:
        fill = f' fill="{fill_of(name, 0)}"'
        yield rect("ground", (start, end), (y, field.base_px - y), fill)
    if y < y_before:
        yield line("edge", (percent(start), y_before), (percent(start), y))
    yield line("edge", (percent(start), y), (percent(end), y))
    if number == len(steps) - 1:
        yield line("edge", (percent(end), y), (percent(end), field.base_px))


def _aim(chart: GrowthChart, field: Field) -> Iterator[str]:
    """The estimate of all tasks as a scribed line, where it is near enough to be drawn."""
    if chart.estimate and chart.near:
        y = field.y(chart.estimate.seconds)
        words = f"all tasks: {duration_brief(chart.estimate.seconds)}\N{NO-BREAK SPACE}h"
        yield line("aim", (percent(LEFT), y), (percent(WHOLE), y))
        yield from _haloed("aim-words", percent(LEFT + 10), y - 7, words)


def _marks(chart: GrowthChart, field: Field) -> Iterator[str]:
    """The total at the end, and round numbers where their words have room."""
    if not chart.steps:
        return
    count = len(chart.steps)
    last = chart.steps[-1].running
    used = field.y(last.seconds) - 8
    yield from _haloed("total", percent(max(_x(count, count), ROOM)), used, last.words)
    for mark in reversed(chart.marks):
        x, y = _x(mark.position, count), field.y(chart.steps[mark.position].running.seconds) - 6
        if x >= ROOM and y - used >= APART_PX:
            used = y
            yield from _haloed("passed", percent(x), y, mark.words)
            yield f'<circle class="point" cx="{percent(x)}" cy="{y + 6}" r="3.5"/>'


def _haloed(kind: str, x: str, y: int, words: str) -> Iterator[str]:
    """Words that stay legible on whatever they lie."""
    yield text(f"{kind} halo", x, y, words)
    yield text(kind, x, y, words)


def _months(steps: tuple[GrowthStep, ...], field: Field) -> Iterator[str]:
    """Every month where it is a year or less, else every year, with a mark at its first month."""
    count = len(steps)
    for position, step in enumerate(steps):
        start = _x(position, count)
        if count <= YEAR:
            middle = percent((start + _x(position + 1, count)) // 2)
            label = month_label if count > MANY else partial(text, "month")
            yield label(middle, field.base_px + 17, step.short[:3])
            if position == 0 or step.month.endswith("-01"):
                yield text("month year-of", middle, field.base_px + 33, step.month[:4])
        elif step.month.endswith("-01"):
            yield line("tick", (percent(start), field.base_px), (percent(start), field.base_px + 6))
            if start <= LAST_YEAR:
                yield text("from", percent(start), field.base_px + 21, step.month[:4])
