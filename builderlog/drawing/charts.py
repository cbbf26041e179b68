"""The charts of columns: hours by month and area, money by month, pictures by month."""

from __future__ import annotations

from markupsafe import Markup

from builderlog.deciding.words import brief, duration_brief
from builderlog.drawing.chart_board import Boards, Column, Part, boards
from builderlog.drawing.chart_ink import scale_of
from builderlog.drawing.hatches import BLANK, hatch_of, swatch
from builderlog.sheets.chart_money import MoneyChart
from builderlog.sheets.chart_pictures import PictureChart
from builderlog.sheets.rows import ChartMonth, HoursChart

__all__ = ("hours_chart", "swatch")

HOUR = 3600
MONEY, PRINT = 9, 2  # hatches


def hours_chart(chart: HoursChart, name: str) -> Markup:
    """The hours of some months, each area in a hatch of its own."""
    longest = max((month.time.seconds for month in chart.months), default=0)
    columns = tuple(_hours_column(chart, month) for month in chart.months)
    told = (chart.title, chart.description)
    return boards(Boards("hours", told, columns, scale_of(longest, HOUR), "h"), name)


def _hours_column(chart: HoursChart, month: ChartMonth) -> Column:
    parts = tuple(
        Part(
            length=time.seconds,
            hatch=hatch_of(position) if area.id else BLANK,
            words=f"{area.name}, {month.link.words}: {time.words}",
            id=area.id,
        )
        for position, (area, time) in enumerate(zip(chart.areas, month.parts, strict=True))
    )
    above = "" if month.empty else duration_brief(month.time.seconds)
    return Column(month.month, month.short[:3], parts, above, month.empty)


def money_drawing(chart: MoneyChart, name: str) -> Markup:
    """The money of each month."""
    longest = max((month.units for month in chart.months), default=0)
    columns = tuple(
        Column(
            month=month.month,
            short=month.short[:3],
            parts=(Part(month.units, MONEY, f"{month.link.words}: {month.words}"),),
            above=brief(month.units) if month.units else "",
            empty=month.empty and not month.units,
        )
        for month in chart.months
    )
    told = ("Money by month", chart.description)
    return boards(Boards("money", told, columns, scale_of(longest, 1), ""), name)


def pictures_drawing(chart: PictureChart, name: str) -> Markup:
    """The pictures of each month, as prints piled up."""
    each = chart.a_print
    columns = tuple(
        Column(
            month=month.month,
            short=month.short[:3],
            parts=tuple(
                Part(min(each, month.count - done), PRINT, "")
                for done in range(0, month.count, each)
            ),
            above=str(month.count) if month.count else "",
            empty=month.empty,
        )
        for month in chart.months
    )
    longest = max((month.count for month in chart.months), default=0)
    told = (chart.title, chart.description)
    return boards(Boards("pictures", told, columns, scale_of(longest, 1), ""), name)
