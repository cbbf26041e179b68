"""Calendar words: the ISO 8601 week of a day, the days of a month, the months between."""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from datetime import date


def week_of(day: date) -> str:
    """The week as text: "2026-W11".

    ISO 8601: weeks begin on Monday, week 1 holds the year's first Thursday, so that 2027-01-01
    (a Friday) is "2026-W53". The year is that of the week, not of the day.
    """
    year, week, _weekday = day.isocalendar()
    return f"{year:04d}-W{week:02d}"


def last_day_of(month: str) -> date:
    """The last day of a month written as "2026-02"."""
    year, number = first_day_of(month).year, first_day_of(month).month
    return date(year, number, calendar.monthrange(year, number)[1])


def first_day_of(month: str) -> date:
    """The first day of a month written as "2026-02"."""
    year, number = month.split("-")
    return date(int(year), int(number), 1)


def months_between(first: date, last: date) -> Iterator[str]:
    """Every month from that of `first` to that of `last`, both too; none where last < first."""
    for count in range(first.year * 12 + first.month - 1, last.year * 12 + last.month):
        yield f"{count // 12:04d}-{count % 12 + 1:02d}"
