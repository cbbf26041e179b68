"""Hours by month and area as inline SVG, hatched like sections on a drawing: no colour needed.

Months go down the page, bars to the right; text keeps its size at any width, since places along
a bar are percentages. Colours and strokes come from the theme's style by class.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from builderlog.sheets.rows import ChartMonth, HoursChart

ROW_PX = 30
BAR_PX = 18
TOP_PX = 8
LEFT_PERMILLE = 190  # where bars begin
LONGEST_PERMILLE = 660  # of the width, the longest bar
LABEL_PERMILLE = 45  # a narrower part has no room for its area's id
LONGEST_LABEL = 3

# The hatches of a section drawing, one for each area in turn: (side of the tile, its strokes).
HATCHES = (
    (7, "M-1,8 L8,-1 M-1,1 L1,-1 M6,8 L8,6"),
    (7, "M-1,-1 L8,8 M6,-1 L8,1 M-1,6 L1,8"),
    (6, "M0,3 L6,3"),
    (6, "M3,0 L3,6"),
    (8, "M-1,9 L9,-1 M-1,-1 L9,9"),
    (6, "M2,3 L4,3 M3,2 L3,4"),
    (8, "M0,4 L8,4 M4,0 L4,8"),
    (10, "M0,7 L5,3 L10,7"),
    (5, "M-1,6 L6,-1 M-1,1 L1,-1 M4,6 L6,4"),
    (10, "M0,2 L10,2 M2,2 L2,10 M7,2 L7,10"),
)


def hours_chart(chart: HoursChart, name: str) -> Markup:
    """The chart; `name` begins the ids in it, so that a page may hold several."""
    height = TOP_PX + ROW_PX * len(chart.months)
    opening = (
        f'<svg class="hours-chart" width="100%" height="{height}" role="img" '
        f'aria-labelledby="{name}-title {name}-desc">'
    )
    parts = (
        opening,
        f'<title id="{name}-title">{escape(chart.title)}</title>',
        f'<desc id="{name}-desc">{escape(chart.description)}</desc>',
        *_patterns(name, len(chart.areas)),
        *(part for row in _rows(chart, name) for part in row),
        "</svg>",
    )
    return Markup("".join(parts))  # noqa: S704 - every value above is a number or escaped


def swatch(name: str, position: int) -> Markup:
    """The sample of an area's hatch for a legend beside the chart of that name."""
    return Markup(  # noqa: S704 - a number and a name of our own
        f'<svg class="swatch" width="26" height="14" aria-hidden="true">'
        f'<rect class="bar hatch-{position % len(HATCHES)}" x="0.5" y="0.5" width="25" height="13" '
        f'fill="url(#{name}-hatch-{position % len(HATCHES)})"/></svg>'
    )


def _patterns(name: str, areas: int) -> Iterator[str]:
    yield "<defs>"
    for position, (side, strokes) in enumerate(HATCHES[:areas]):
        yield (
            f'<pattern id="{name}-hatch-{position}" width="{side}" height="{side}" '
            f'patternUnits="userSpaceOnUse"><path class="hatching hatch-{position}" '
            f'd="{strokes}"/></pattern>'
        )
    yield "</defs>"


def _rows(chart: HoursChart, name: str) -> Iterator[Iterator[str]]:
    longest = max((month.time.seconds for month in chart.months), default=0)
    for row, month in enumerate(chart.months):
        yield _month_row(chart, month, name, (TOP_PX + row * ROW_PX, longest))


def _month_row(
    chart: HoursChart, month: ChartMonth, name: str, scale: tuple[int, int]
) -> Iterator[str]:
    """One month: its name, its bar in parts, its sum; a hole where no note was written."""
    top_px, longest = scale
    base_px = top_px + BAR_PX - 5
    yield f'<text class="month" x="0" y="{base_px}">{escape(month.short)}</text>'
    if month.empty:
        yield from _hole(top_px, base_px)
        return
    seconds = 0
    for position, part in enumerate(month.parts):
        if part.seconds:
            start, end = (
                LEFT_PERMILLE + LONGEST_PERMILLE * done // (longest or 1)
                for done in (seconds, seconds + part.seconds)
            )
            seconds += part.seconds
            words = f"{chart.areas[position].name}, {month.link.words}: {part.words}"
            yield _part(name, position, (start, end, top_px), words)
            yield _label(chart.areas[position].id, (start, end, base_px))
    end = LEFT_PERMILLE + LONGEST_PERMILLE * month.time.seconds // (longest or 1)
    yield f'<text class="sum" x="{_percent(end + 12)}" y="{base_px}">{month.time.clock}</text>'


def _part(name: str, position: int, span: tuple[int, int, int], words: str) -> str:
    start, end, top_px = span
    hatch = position % len(HATCHES)
    return (
        f'<rect class="bar hatch-{hatch}" x="{_percent(start)}" y="{top_px}" '
        f'width="{_percent(end - start)}" height="{BAR_PX}" fill="url(#{name}-hatch-{hatch})">'
        f"<title>{escape(words)}</title></rect>"
    )


def _label(area: str, span: tuple[int, int, int]) -> str:
    """The area's id on its part, where both are short and long enough."""
    start, end, base_px = span
    if not area or len(area) > LONGEST_LABEL or end - start < LABEL_PERMILLE:
        return ""
    middle = _percent((start + end) // 2)
    at = f'x="{middle}" y="{base_px}"'
    words = escape(area)
    return f'<text class="id halo" {at}>{words}</text><text class="id" {at}>{words}</text>'


def _hole(top_px: int, base_px: int) -> Iterator[str]:
    """A break line, as a drawing leaves out a length, and the words for it."""
    middle = top_px + BAR_PX // 2
    left, right = _percent(LEFT_PERMILLE), _percent(LEFT_PERMILLE + 120)
    yield f'<line class="break" x1="{left}" y1="{middle}" x2="{right}" y2="{middle}"/>'
    words = _percent(LEFT_PERMILLE + 140)
    yield f'<text class="silent" x="{words}" y="{base_px}">no notes</text>'


def _percent(permille: int) -> str:
    return f"{permille // 10}.{permille % 10}%"
