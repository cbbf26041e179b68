"""Bars in inline SVG, one to a row of a list: hours against their estimate, money."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from builderlog.drawing.chart_ink import OUTLINED, WHOLE, line, percent, rect
from builderlog.drawing.hatches import fill_of, patterns
from builderlog.sheets.chart_estimates import EstimateRow

BAR_PX = 20
OVER_PX = 5  # how far the estimate's line goes beyond the bar
HEIGHT_PX = BAR_PX + 2 * OVER_PX
LEAST = 3  # permille
WORKED, OVER, PAID = 0, 4, 9  # hatches


def bar_hatches(name: str) -> Markup:
    """The hatches for all bars of a page whose ids begin with `name`; drawn once, unseen."""
    drawn = "".join(patterns(name, (WORKED, OVER, PAID)))
    return Markup(  # noqa: S704 - numbers and a name of our own
        f'<svg class="hatches" width="0" height="0" {OUTLINED} aria-hidden="true">{drawn}</svg>'
    )


def estimate_bar(row: EstimateRow, longest: int, name: str) -> Markup:
    """What was worked as a cut piece, in the outline of the piece that was estimated."""
    time, aim = row.time.seconds, row.estimate.seconds if row.estimate else 0
    worked = min(time, aim or time)
    drawn = (
        _opening(f"{row.name}: {row.standing}{' estimated' if aim else ''}"),
        *(_outline(_permille(aim, longest)) if aim else ()),
        *_piece((0, _permille(worked, longest)), WORKED, name),
        *_piece((_permille(worked, longest), _permille(time, longest)), OVER, name),
        *(_line(_permille(aim, longest)) if aim else ()),
        "</svg>",
    )
    return Markup("".join(drawn))  # noqa: S704 - every value above is a number or escaped


def length_bar(length: int, longest: int, name: str) -> Markup:
    """A length alone, beside words that say what it is; nothing for who does not see it."""
    drawn = "".join(_piece((0, _permille(length, longest)), PAID, name))
    return Markup(  # noqa: S704 - numbers and a name of our own
        f'<svg class="drawing bar-row" width="100%" height="{HEIGHT_PX}" {OUTLINED} '
        f'aria-hidden="true">{drawn}</svg>'
    )


def bar_swatch(kind: str, name: str) -> Markup:
    """A sample for the legend: what was "worked", what went "over", the "stock" estimated."""
    hatch = {"worked": WORKED, "over": OVER}.get(kind)
    look = f'"bar" fill="{fill_of(name, hatch)}"' if hatch is not None else '"stock"'
    return Markup(  # noqa: S704 - our own words
        f'<svg class="swatch" width="26" height="14" {OUTLINED} aria-hidden="true">'
        f'<rect class={look} x="0.5" y="0.5" width="25" height="13"/></svg>'
    )


def _opening(label: str) -> str:
    return (
        f'<svg class="drawing bar-row" width="100%" height="{HEIGHT_PX}" {OUTLINED} role="img" '
        f'aria-label="{escape(label)}">'
    )


def _permille(length: int, longest: int) -> int:
    """A place on the scale of all bars; what is more than nothing can be seen."""
    if not length or not longest:
        return 0
    return max(LEAST, (WHOLE - 4) * length // longest)


def _piece(span: tuple[int, int], hatch: int, name: str) -> Iterator[str]:
    if span[0] < span[1]:
        fill = f' fill="{fill_of(name, hatch)}"'
        yield rect(f"bar hatch-{hatch}", span, (OVER_PX, BAR_PX), fill)


def _outline(end: int) -> Iterator[str]:
    yield rect("stock", (0, end), (OVER_PX, BAR_PX))


def _line(at: int) -> Iterator[str]:
    """The estimate, with a pale edge so that it is seen on every hatch."""
    for kind in ("limit-edge", "aim"):
        yield line(kind, (percent(at), 0), (percent(at), HEIGHT_PX))
