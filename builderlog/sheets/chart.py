"""The numbers of the charts: hours by month and area. How they look is for `drawing`."""

from __future__ import annotations

from collections.abc import Sequence

from builderlog.deciding import words
from builderlog.deciding.public import PublicMonth
from builderlog.deciding.sums import NO_AREA_NAME
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import ChartArea, ChartMonth, HoursChart, time_of


def hours_chart(book: Book, months: Sequence[PublicMonth], title: str) -> HoursChart:
    """The hours of some months, in order, by all areas that have any in them.

    Time that no task was given to stands under the area id "", last.
    """
    sums: dict[str, int] = {}
    for month in months:
        for area, seconds in month.by_area:
            sums[area] = sums.get(area, 0) + seconds
    ordered = [area for area in book.areas if area and sums.get(area)]
    ordered += [area for area in sums if area not in book.areas and area and sums[area]]
    ordered += [""] if sums.get("") else []
    return _chart(book, months, title, tuple((area, sums[area]) for area in ordered))


def area_chart(book: Book, area: str, title: str) -> HoursChart | None:
    """One area's hours, from its first month to its last; None where it has none."""
    having = [n for n, month in enumerate(book.public.months) if dict(month.by_area).get(area)]
    if not having or not area:
        return None
    months = book.public.months[having[0] : having[-1] + 1]
    total = sum(dict(month.by_area).get(area, 0) for month in months)
    return _chart(book, months, title, ((area, total),))


def _chart(
    book: Book,
    months: Sequence[PublicMonth],
    title: str,
    areas: tuple[tuple[str, int], ...],
) -> HoursChart:
    ids = [area for area, _ in areas]
    rows = tuple(_chart_month(month, ids) for month in months)
    total = time_of(sum(row.time.seconds for row in rows))
    return HoursChart(
        title=title,
        description=_describe(rows, total.words),
        areas=tuple(_chart_area(book, area, seconds) for area, seconds in areas),
        months=rows,
        total=total,
    )


def _chart_area(book: Book, area: str, seconds: int) -> ChartArea:
    link = book.area_link(area) if area else None
    name = link.words if link else area or NO_AREA_NAME
    return ChartArea(area, name, link, time_of(seconds))


def _chart_month(month: PublicMonth, areas: Sequence[str]) -> ChartMonth:
    seconds = dict(month.by_area)
    parts = tuple(time_of(seconds.get(area, 0)) for area in areas)
    return ChartMonth(
        link=link_to_month(month.month),
        month=month.month,
        short=words.month_short(month.month),
        time=time_of(sum(part.seconds for part in parts)),
        parts=parts,
        empty=month.evenings == 0,
    )


def _describe(months: Sequence[ChartMonth], total: str) -> str:
    """One sentence that tells what a reader would see: the span, the sum and the longest month."""
    if not months:
        return "No month yet."
    longest = max(months, key=lambda month: month.time.seconds)
    span = f"{months[0].link.words} to {months[-1].link.words}"
    holes = sum(month.empty for month in months)
    silent = f" {words.first_upper(words.counted(holes, 'month'))} without a note." if holes else ""
    most = f" Most in {longest.link.words}: {longest.time.words}." if len(months) > 1 else ""
    head = span if len(months) > 1 else months[0].link.words
    return f"{head}: {total} in all.{most}{silent}"
