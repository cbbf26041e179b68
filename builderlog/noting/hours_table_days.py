"""One cell of a column of dates to the days that it can mean; which is meant the column decides.

`3/4/26` is the third of April or the fourth of March; `14.3.2026` can only be one. Nothing is
decided here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from builderlog.deciding.words import MONTHS, WEEKDAYS
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.units import UnreadableError, date_of


class Order(StrEnum):
    """In which order a date in figures is written."""

    DAY_FIRST = "day-month-year"
    MONTH_FIRST = "month-day-year"
    YEAR_FIRST = "year-month-day"


@dataclass(frozen=True, slots=True)
class DayCell:
    """What one cell can mean; one day under several orders where its figures are the same."""

    text: str
    days: dict[Order, date]
    decided: bool  # only one order is thinkable: the year has four figures in front, or a name
    faults: dict[Order, str]  # why an order does not fit
    weekday: int | None = None  # Monday is 0
    beside: str = ""  # a time of day that stood behind the date

    def on(self, weekday: int | None) -> DayCell:
        """The same with the day of the week that a column of its own gives."""
        return self if weekday is None else replace(self, weekday=weekday)


_TIME = re.compile(
    r"(.*\d)(?:T|\s+|,\s*)(\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?m\.?)?)\s*"
    r"(?:Z|[+-]\d{2}:?\d{2})?",
    re.IGNORECASE,
)
_MIDNIGHT = re.compile(r"0?0:00(?::00(?:\.0+)?)?|12:00(?::00)?\s*a\.?m\.?", re.IGNORECASE)
_FIGURES = re.compile(r"(\d{1,4})\s*([-./ ])\s*(\d{1,2})\s*\2\s*'?(\d{4}|\d{2})")
_YEAR_FIRST = re.compile(r"(\d{4})\s*([-./ ])\s*(\d{1,2})\s*\2\s*(\d{1,2})")
_EIGHT = re.compile(r"((?:19|20)\d{2})(\d{2})(\d{2})")
_SERIAL = re.compile(r"[34]\d{4}(?:[.,]\d+)?")
_NO_YEAR = re.compile(r"\d{1,2}\s*[-./]\s*\d{1,2}\.?")
_DAY_MONTH = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|\.)?[-\s,/]*([a-z]{3,9})\.?[-\s,/]*'?(\d{4}|\d{2})?"
)
_MONTH_DAY = re.compile(
    r"([a-z]{3,9})\.?[-\s/]*(\d{1,2})(?:st|nd|rd|th)?(?:[-\s,/]+'?(\d{4}|\d{2}))?"
)
_YEAR_MONTH_DAY = re.compile(r"(\d{4})[-\s,/]*([a-z]{3,9})\.?[-\s/]*(\d{1,2})(?:st|nd|rd|th)?")
_MONTHS = {name.casefold()[:size]: at for at, name in enumerate(MONTHS, 1) for size in range(3, 10)}
_MONTHS |= {"sept": 9}
_DAYS = {name.casefold()[:size]: at for at, name in enumerate(WEEKDAYS) for size in range(3, 10)}
_DAYS |= {"tues": 1, "thur": 3, "thurs": 3}
_WEEKDAY = re.compile(rf"\(?\b({'|'.join(sorted(_DAYS, key=len, reverse=True))})\b\.?\)?,?")
_WRITE = "write 2026-03-14, or 14 March 2026"
NEAR_YEARS = 1  # a year of two figures is of this century up to so many years from now


def is_weekday(text: str) -> bool:
    """`Sat`, `saturday`."""
    return text.casefold().strip(" .") in _DAYS


def weekday_of(text: str) -> int | None:
    """0 for Monday; None for what is no weekday."""
    return _DAYS.get(text.casefold().strip(" ."))


def day_cell(text: str, this_year: int) -> DayCell:
    """All that a cell can mean. Raises UnreadableError where it is no date of any kind."""
    words, beside = one_line(text), ""
    if found := _TIME.fullmatch(words):
        words, beside = found[1], "" if _MIDNIGHT.fullmatch(found[2]) else found[2]
    words = words.casefold()
    named = _WEEKDAY.search(words)
    if named:
        words = (words[: named.start()] + words[named.end() :]).strip(" ,")
    days, decided = _days(text, words, this_year)
    read: dict[Order, date] = {}
    faults: dict[Order, str] = {}
    for order, (year, month, day) in days.items():
        try:
            read[order] = date_of(one_line(text), year, month, day)
        except UnreadableError as fault:
            faults[order] = str(fault)
    if not read:
        raise UnreadableError(next(iter(faults.values())))
    weekday = _DAYS[named[1]] if named else None
    return DayCell(one_line(text), read, decided, faults, weekday, beside)


_Parts = tuple[int, int, int]  # year, month, day; no calendar may have them


def _days(text: str, words: str, this_year: int) -> tuple[dict[Order, _Parts], bool]:
    if found := _YEAR_FIRST.fullmatch(words) or _EIGHT.fullmatch(words):
        year, month, day = (int(part) for part in found.groups() if part.isdigit())
        return {Order.YEAR_FIRST: (year, month, day)}, True
    if found := _FIGURES.fullmatch(words):
        return _in_figures(found, this_year), False
    parts_named = _named(words, this_year)
    if parts_named is None:
        raise UnreadableError(_told(text, words))
    return {Order.DAY_FIRST: parts_named}, True


def _in_figures(found: re.Match[str], this_year: int) -> dict[Order, _Parts]:
    first, second, third = int(found[1]), int(found[3]), int(found[4])
    year = full_year(found[4], this_year)
    days = {Order.DAY_FIRST: (year, second, first), Order.MONTH_FIRST: (year, first, second)}
    if found[2] == "-" and len(found[4]) == 2 and len(found[1]) == 2:
        days[Order.YEAR_FIRST] = (full_year(found[1], this_year), second, third)
    return days


def _named(words: str, this_year: int) -> _Parts | None:
    """Year, month and day where the month has its name."""
    for pattern, places in (
        (_DAY_MONTH, (3, 2, 1)),
        (_MONTH_DAY, (3, 1, 2)),
        (_YEAR_MONTH_DAY, (1, 2, 3)),
    ):
        found = pattern.fullmatch(words)
        if found and found[places[1]] in _MONTHS and found[places[0]]:
            year = full_year(found[places[0]], this_year)
            return year, _MONTHS[found[places[1]]], int(found[places[2]])
    return None


def full_year(figures: str, this_year: int) -> int:
    """`26` to 2026: of the last hundred years, the next one included."""
    if len(figures) > 2:
        return int(figures)
    century = this_year // 100 * 100
    year = century + int(figures)
    return year if year <= this_year + NEAR_YEARS else year - 100


def _told(text: str, words: str) -> str:
    """Why a cell is no date, for what is met most often."""
    shown = one_line(text)
    if _SERIAL.fullmatch(words):
        return (
            f"'{shown}' is how a spreadsheet keeps a date inside, and from which day it counts is "
            "not said; give the column the format of a date there, and save the table again"
        )
    month = any(word in _MONTHS for word in re.findall(r"[a-z]+", words))
    if _NO_YEAR.fullmatch(words) or (month and len(re.findall(r"\d+", words)) == 1):
        return f"'{shown}' has no year, or no day; {_WRITE}"
    return f"'{shown}' is not a date; {_WRITE}"
