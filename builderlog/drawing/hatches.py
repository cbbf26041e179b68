"""Hatches, as a section drawing tells its materials apart: patterns for SVG, no colour needed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from markupsafe import Markup

# One for each area in turn: (side of the tile, its strokes).
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
# The next ten are the same drawn heavily, the ten after them dotted; then all begins anew.
STROKES = ("", " heavy", " dotted")
BLANK = -1  # what has no hatch
KINDS = len(HATCHES) * len(STROKES)


def hatch_of(position: int) -> int:
    """Which hatch stands at a position of a legend; BLANK stays blank."""
    return position if position == BLANK else position % KINDS


def fill_of(name: str, hatch: int) -> str:
    """The fill that a pattern of `patterns` gives; blank paper has none."""
    return "none" if hatch == BLANK else f"url(#{name}-hatch-{hatch})"


def kind_of(hatch: int) -> str:
    """The class by which a theme knows the hatch."""
    return " blank" if hatch == BLANK else f" hatch-{hatch}"


def patterns(name: str, hatches: Iterable[int]) -> Iterator[str]:
    """The definitions of some hatches; `name` begins their ids."""
    yield "<defs>"
    for hatch in sorted({*hatches} - {BLANK}):
        side, strokes = HATCHES[hatch % len(HATCHES)]
        yield (
            f'<pattern id="{name}-hatch-{hatch}" width="{side}" height="{side}" '
            f'patternUnits="userSpaceOnUse"><rect class="hatch-paper" '
            f'width="{side}" height="{side}" fill="none" stroke="none"/>'
            f'<path class="hatching hatch-{hatch}{STROKES[hatch // len(HATCHES)]}" '
            f'd="{strokes}"/></pattern>'
        )
    yield "</defs>"


def swatch(name: str, position: int) -> Markup:
    """The sample of the hatch at a position, for a legend beside the chart of that name."""
    hatch = hatch_of(position)
    return Markup(  # noqa: S704 - a number and a name of our own
        f'<svg class="swatch" width="26" height="14" stroke="currentColor" aria-hidden="true">'
        f'<rect class="bar{kind_of(hatch)}" x="0.5" y="0.5" width="25" height="13" '
        f'fill="{fill_of(name, hatch)}"/></svg>'
    )
