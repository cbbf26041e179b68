"""The days in the shop: which, and how long, from public notes alone; the others only counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import words
from builderlog.deciding.public import PublicMonth
from builderlog.deciding.weeks import first_day_of, last_day_of
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import Day, Link, Time, day_of, time_of

HOUR = 3600
SHIMS = (1, 2, 4, 8, 24)  # hours a shim may stand for
HIGHEST = 16  # shims on one day


@dataclass(frozen=True, slots=True)
class ShopDay:
    """A day with time in public notes, all of them together; `shims` is how high it stands."""

    number: int  # of the month, from 1
    day: Day
    time: Time
    notes: tuple[Link, ...]
    shims: int


@dataclass(frozen=True, slots=True)
class DaysMonth:
    """One month as a rule with its days; `not_shown` days have time in private notes alone."""

    link: Link
    short: str  # "Mar"
    length: int  # days
    weekends: tuple[int, ...]  # its Saturdays and Sundays
    days: tuple[ShopDay, ...]
    not_shown: int


@dataclass(frozen=True, slots=True)
class DaysYear:
    """The months of one calendar year that are in the record, oldest first."""

    name: str  # "2026"
    description: str
    months: tuple[DaysMonth, ...]
    days: int
    not_shown: int


@dataclass(frozen=True, slots=True)
class DaysChart:
    """The days in the shop, newest year first; a shim is one step of a day's height."""

    title: str
    description: str
    shim: str  # "Every shim is an hour begun."
    shim_words: str  # "an hour begun"
    not_shown: int
    years: tuple[DaysYear, ...]


def days_chart(book: Book) -> DaysChart | None:
    """The days of the whole record; None where no public note has time."""
    times = _times(book)
    if not times:
        return None
    hours = _hours_a_shim(max(seconds for seconds, _ in times.values()))
    months = [_month(month, times, hours) for month in book.public.months]
    names = dict.fromkeys(month.month[:4] for month in book.public.months)
    years = tuple(
        _year(name, tuple(row for row in months if row.link.words.endswith(f" {name}")))
        for name in names
    )
    hidden = sum(year.not_shown for year in years)
    return DaysChart(
        title="Days in the shop",
        description=_describe(times, hidden),
        shim=f"Every shim is {_shim(hours)}.",
        shim_words=_shim(hours),
        not_shown=hidden,
        years=tuple(reversed(years)),
    )


def _times(book: Book) -> Mapping[date, tuple[int, tuple[Link, ...]]]:
    """The seconds and the notes of each day that a public note gives time to, oldest first."""
    found: dict[date, tuple[int, tuple[Link, ...]]] = {}
    for note in book.public.notes:
        if note.seconds:
            seconds, links = found.get(note.day, (0, ()))
            found[note.day] = (seconds + note.seconds, (*links, book.rows[note.key].link))
    return found


def _hours_a_shim(longest: int) -> int:
    return next((hours for hours in SHIMS if longest <= hours * HIGHEST * HOUR), SHIMS[-1])


def _shim(hours: int) -> str:
    return "an hour begun" if hours == 1 else f"{hours} hours begun"


def _month(
    month: PublicMonth, times: Mapping[date, tuple[int, tuple[Link, ...]]], hours: int
) -> DaysMonth:
    first, last = first_day_of(month.month), last_day_of(month.month)
    weekday = first.weekday()
    days = tuple(
        ShopDay(day.day, day_of(day), time_of(seconds), links, -(-seconds // (hours * HOUR)))
        for day, (seconds, links) in times.items()
        if first <= day <= last
    )
    return DaysMonth(
        link=link_to_month(month.month),
        short=words.month_short(month.month)[:3],
        length=last.day,
        weekends=tuple(n for n in range(1, last.day + 1) if (weekday + n - 1) % 7 > 4),
        days=days,
        not_shown=max(0, month.days - len(days)),
    )


def _year(name: str, months: tuple[DaysMonth, ...]) -> DaysYear:
    days = sum(len(month.days) for month in months)
    hidden = sum(month.not_shown for month in months)
    return DaysYear(name, words.first_upper(f"{_counted(days, hidden)}."), months, days, hidden)


def _counted(days: int, hidden: int) -> str:
    """How many days; those not shown only where there are any."""
    told = words.counted(days, "day")
    return f"{told}, and {hidden} more not shown" if hidden else told


def _describe(times: Mapping[date, tuple[int, tuple[Link, ...]]], hidden: int) -> str:
    longest = max(times, key=lambda day: times[day][0])
    most = f"The longest was {words.day_long(longest)}: {words.duration(times[longest][0])}."
    return (
        f"{_counted(len(times), hidden)}. {most}"
        if len(times) > 1
        else (f"{_counted(len(times), hidden)}.")
    )
