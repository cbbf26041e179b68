"""The days in the shop as inline SVG: a rule for each month, and shims piled up on its days.

A shim is an hour begun, so that a day can be counted; weekends are the thick parts of a rule.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from builderlog.drawing.chart_ink import OUTLINED, line, opening, percent, rect, text
from builderlog.sheets.chart_days import DaysMonth, DaysYear, ShopDay

FIRST = 104  # permille: where the first day begins
DAY = 26
SHIM = 20  # a shim's width
SHIM_PX = 4
STEP_PX = 6  # from one shim to the next
LOWEST_PX = 22  # the room above a rule
RULE_PX = 17  # a rule and the room below it
TENS = (10, 20, 30)
FOOT_PX = 18
LONGEST_MONTH = 31


def days_drawing(year: DaysYear, title: str, name: str) -> Markup:
    """One year; `name` begins the ids in it."""
    bases, base = [], 0
    for month in year.months:
        base += _room_px(month)
        bases.append(base)
        base += RULE_PX
    drawn = (
        opening("days", name, base + FOOT_PX, (f"{title}, {year.name}", year.description)),
        *(part for month, at in zip(year.months, bases, strict=True) for part in _month(month, at)),
        *_numbers(base + FOOT_PX - 6),
        "</svg>",
    )
    return Markup("".join(drawn))  # noqa: S704 - every value above is a number or escaped


def days_swatch(kind: str) -> Markup:
    """A sample for the legend: a "shim", or the thick part of a rule that is a "weekend"."""
    drawn = {
        "shim": rect("shim", (0, 1000), (5, SHIM_PX)),
        "weekend": line("base", (0, 7), ("100%", 7)) + rect("weekend", (300, 800), (7, 4)),
    }
    return Markup(  # noqa: S704 - our own words
        f'<svg class="swatch" width="22" height="14" {OUTLINED} aria-hidden="true">'
        f"{drawn[kind]}</svg>"
    )


def _room_px(month: DaysMonth) -> int:
    return max(LOWEST_PX, STEP_PX * max((day.shims for day in month.days), default=0) + 8)


def _month(month: DaysMonth, base_px: int) -> Iterator[str]:
    """Its name, its rule with a graduation for each day, its days, how many are not shown."""
    yield text("month-name", "0", base_px + 4, month.short)
    start, end = _x(1), _x(month.length + 1)
    yield line("base", (percent(start), base_px), (percent(end), base_px))
    for number in month.weekends:
        yield rect("weekend", (_x(number), _x(number + 1)), (base_px, 4))
    for number in range(1, month.length + 2):
        length = 9 if number - 1 in TENS else 5
        yield line("tick", (percent(_x(number)), base_px), (percent(_x(number)), base_px + length))
    for day in month.days:
        yield _day(day, base_px)
    if month.not_shown:
        yield text("not-shown", percent(end + 8), base_px + 4, f"+{month.not_shown}")


def _day(day: ShopDay, base_px: int) -> str:
    start = _x(day.number) + (DAY - SHIM) // 2
    shims = "".join(
        rect("shim", (start, start + SHIM), (base_px - STEP_PX * number - 1, SHIM_PX))
        for number in range(1, day.shims + 1)
    )
    return f"<g><title>{escape(day.day.long)}: {escape(day.time.words)}</title>{shims}</g>"


def _x(number: int) -> int:
    """Where a day of the month begins."""
    return FIRST + DAY * (number - 1)


def _numbers(y: int) -> Iterator[str]:
    """Every fifth day's number, under the last rule."""
    for number in (1, *range(5, LONGEST_MONTH, 5)):
        yield text("month", percent(_x(number) + DAY // 2), y, str(number))
