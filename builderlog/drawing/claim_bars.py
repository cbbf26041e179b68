"""The claim as bars in inline SVG: what is whose by its hatch, the limit as a line across.

Places along a bar are percentages, so that the bars of a page stand under one another at any
width; colours and strokes come from the theme's style by class.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from builderlog.drawing.chart_ink import OUTLINED, percent
from builderlog.drawing.hatches import BLANK, fill_of, patterns
from builderlog.sheets.claim import BarPart, ClaimBar

BAR_PX = 22
OVER_PX = 5  # how far the limit's line goes beyond the bar
HEIGHT_PX = BAR_PX + 2 * OVER_PX

# The hatch of each side, by its place in HATCHES; what is nobody's yet stays blank paper.
HATCH_OF = {"amateurs": 0, "assembly": 0, "fabrication": 1, "maker": 5, "paid": 4, "others": 5}


def claim_hatches(name: str) -> Markup:
    """The hatches for all bars of a page whose ids begin with `name`; drawn once, unseen."""
    drawn = "".join(patterns(name, HATCH_OF.values()))
    return Markup(  # noqa: S704 - numbers and a name of our own
        f'<svg class="hatches" width="0" height="0" {OUTLINED} aria-hidden="true">{drawn}</svg>'
    )


def claim_bar(bar: ClaimBar, name: str) -> Markup:
    """One bar; `name` is that of the page's hatches."""
    limit = percent(bar.limit)
    opening = (
        f'<svg class="claim-bar" width="100%" height="{HEIGHT_PX}" {OUTLINED} role="img" '
        f'aria-label="{escape(bar.label)}">'
    )
    drawn = (
        opening,
        *(_part(part, name) for part in bar.parts),
        *_line(limit),
        "</svg>",
    )
    return Markup("".join(drawn))  # noqa: S704 - every value above is a number or escaped


def _line(limit: str) -> Iterator[str]:
    """The limit, with a pale edge so that it is seen on every hatch."""
    for kind in ("limit-edge", "limit"):
        yield f'<line class="{kind}" x1="{limit}" y1="0" x2="{limit}" y2="{HEIGHT_PX}"/>'


def _part(part: BarPart, name: str) -> str:
    return (
        f'<rect class="bar {part.side}" x="{percent(part.start)}" y="{OVER_PX}" '
        f'width="{percent(part.end - part.start)}" height="{BAR_PX}" '
        f'fill="{_fill(part.side, name)}"><title>{escape(part.words)}</title></rect>'
    )


def claim_swatch(side: str, name: str) -> Markup:
    """The sample of a side's hatch for the legend."""
    return Markup(  # noqa: S704 - numbers and names of our own
        f'<svg class="swatch" width="26" height="14" {OUTLINED} aria-hidden="true">'
        f'<rect class="bar {side}" x="0.5" y="0.5" width="25" height="13" '
        f'fill="{_fill(side, name)}"/></svg>'
    )


def _fill(side: str, name: str) -> str:
    return fill_of(name, HATCH_OF.get(side, BLANK))
