"""What all charts are drawn with: places along a line as percentages, a name, a steel rule.

Places across are percentages, so that a chart fits any width and its text keeps its size; heights
are pixels. Colours and strokes come from the theme's style by class.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import escape

from builderlog.deciding.words import brief

WHOLE = 1000  # permille of the width
LEFT = 100  # where what is measured begins; the rule lies before it
RULE = 78  # the rule's width
OVER_PX = 17  # how far the rule goes beyond its last number
MINOR = 5  # fine graduations between two numbers of the rule

# How all is drawn where no theme says it: outlines, and words that can be read.
OUTLINED = 'fill="none" stroke="currentColor"'
PLAIN_TEXT = ' fill="currentColor" stroke="none"'
LOOKS = {
    "shim": PLAIN_TEXT,
    "weekend": PLAIN_TEXT,
    "image": ' stroke="none"',
    "ground": ' stroke="none"',
}
ANCHORS = {
    "month": "middle",
    "sum": "middle",
    "id": "middle",
    "total": "end",
    "passed": "end",
}

# Steps between the numbers of a rule, as people count.
STEPS = tuple(digit * 10**zeros for zeros in range(12) for digit in (1, 2, 5))
MOST_MARKS = 6


@dataclass(frozen=True, slots=True)
class Scale:
    """A rule: from nothing to `top` by steps of `step`, `unit` of them to one of its numbers."""

    top: int
    step: int
    unit: int

    def words(self, value: int) -> str:
        """The number that stands at a value."""
        return brief(value // self.unit)


def scale_of(longest: int, unit: int) -> Scale:
    """The rule for values up to `longest`, with whole numbers of `unit` and few of them."""
    needed = max(1, longest)
    steps = (step * unit for step in STEPS)
    step = next((step for step in steps if needed <= step * (MOST_MARKS - 1)), needed)
    return Scale(-(-needed // step) * step, step, unit)


@dataclass(frozen=True, slots=True)
class Field:
    """Where values stand between the top and the bottom of a drawing, in pixels."""

    top_px: int
    height_px: int
    scale: Scale

    @property
    def base_px(self) -> int:
        """The line on which all stands."""
        return self.top_px + self.height_px

    def y(self, value: int) -> int:
        """The height of a value."""
        return self.base_px - self.height_px * value // self.scale.top


def opening(kind: str, name: str, height_px: int, told: tuple[str, str]) -> str:
    """The beginning of a chart that is read out as its title and description."""
    title, description = told
    return (
        f'<svg class="drawing {kind}" width="100%" height="{height_px}" {OUTLINED} role="img" '
        f'aria-labelledby="{name}-title" aria-describedby="{name}-desc">'
        f'<title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-desc">{escape(description)}</desc>'
    )


def percent(permille: int) -> str:
    """A place across, from thousandths of the width."""
    return f"{permille // 10}.{permille % 10}%"


def text(kind: str, x: str, y: int, words: str) -> str:
    """One line of words; what it looks like is for the theme."""
    return f'<text class="{kind}" x="{x}" y="{y}"{_written(kind)}>{escape(words)}</text>'


def _written(kind: str) -> str:
    anchor = ANCHORS.get(kind.split(maxsplit=1)[0])
    return f'{PLAIN_TEXT} text-anchor="{anchor}"' if anchor else PLAIN_TEXT


def month_label(x: str, y: int, short: str) -> str:
    """A month's name, of which a narrow page keeps but the first letter."""
    first, rest = escape(short[:1]), escape(short[1:])
    more = f'{first}<tspan class="rest">{rest}</tspan>'
    return f'<text class="month" x="{x}" y="{y}"{_written("month")}>{more}</text>'


def line(kind: str, start: tuple[str | int, int], end: tuple[str | int, int]) -> str:
    """A stroke between two places."""
    return f'<line class="{kind}" x1="{start[0]}" y1="{start[1]}" x2="{end[0]}" y2="{end[1]}"/>'


def rect(kind: str, span: tuple[int, int], at: tuple[int, int], more: str = "") -> str:
    """A box from one place across to another; `at` is its top and its height in pixels."""
    (start, end), (top_px, height_px) = span, at
    return (
        f'<rect class="{kind}" x="{percent(start)}" y="{top_px}" '
        f'width="{percent(end - start)}" height="{height_px}"{LOOKS.get(kind, "")}{more}/>'
    )


def rule(field: Field, unit: str) -> Iterator[str]:
    """The steel rule at the left, its graduations, and a fine line across at each number."""
    scale = field.scale
    yield rect("rule", (0, RULE), (field.top_px - OVER_PX, field.height_px + OVER_PX))
    for value in range(0, scale.top + 1, max(1, scale.step // MINOR)):
        y = field.y(value)
        if value % scale.step:
            yield line("tick", (percent(RULE - 14), y), (percent(RULE), y))
        elif value:
            yield line("tick", ("0", y), (percent(RULE), y))
            yield line("guide", (percent(RULE), y), (percent(WHOLE), y))
            yield text("mark", "3", y - 3, scale.words(value))
    yield text("unit", "3", field.base_px - 4, unit)
