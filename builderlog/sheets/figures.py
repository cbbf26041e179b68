"""The sheet of the figures' page: what the record comes to, and its charts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.deciding.public import PublicLedger
from builderlog.sheets.book import Book
from builderlog.sheets.chart import hours_chart
from builderlog.sheets.chart_days import DaysChart, days_chart
from builderlog.sheets.chart_estimates import EstimateChart, estimate_chart
from builderlog.sheets.chart_growth import GrowthChart, growth_chart
from builderlog.sheets.chart_money import MoneyChart, money_charts
from builderlog.sheets.chart_pictures import PictureChart, picture_chart
from builderlog.sheets.rows import HoursChart, Time, day_of, time_of


@dataclass(frozen=True, slots=True)
class FiguresSheet:
    """All charts of the site; one without anything to draw is None, or missing from `money`."""

    total: Time
    span: str  # "on 61 days since 4 January 2026"
    facts: tuple[tuple[str, str], ...]  # label, words
    hours: HoursChart
    growth: GrowthChart | None
    estimates: EstimateChart | None
    days: DaysChart | None
    money: tuple[MoneyChart, ...]
    pictures: PictureChart | None


def has_figures(book: Book) -> bool:
    """Whether there is a month with hours to draw."""
    return bool(book.public.seconds and book.public.months)


def figures_sheet(book: Book) -> FiguresSheet:
    """The figures of the whole record."""
    public = book.public
    pictures = picture_chart(book)
    return FiguresSheet(
        total=time_of(public.seconds),
        span=_span(public),
        facts=tuple(_facts(public, pictures)),
        hours=hours_chart(book, public.months, "Hours by month and area"),
        growth=growth_chart(book),
        estimates=estimate_chart(book),
        days=days_chart(book),
        money=money_charts(book),
        pictures=pictures,
    )


def _span(public: PublicLedger) -> str:
    since = f" since {day_of(public.started).plain}" if public.started else ""
    return f"on {words.counted(public.days, 'day')}{since}"


def _facts(public: PublicLedger, pictures: PictureChart | None) -> Iterator[tuple[str, str]]:
    yield "Days in the shop", str(public.days)
    if public.days:
        yield "A day, on average", words.duration(public.seconds // public.days)
    yield "Notes", str(public.evenings)
    if pictures:
        yield "Pictures", str(pictures.total)
    yield "Months", str(len(public.months))
    for amount in public.spent:
        yield "Spent", amount
