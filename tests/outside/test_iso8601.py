"""Days and week numbers are those of ISO 8601, by examples that others have published.

Each example names its source and whether it was read there or is from memory. The standard
itself was not at hand.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from builderlog.deciding.weeks import week_of
from builderlog.knowing.units import UnreadableError, parse_date

ENCYCLOPEDIA = "copies of a public encyclopedia on ISO week dates: read"
TABLE = "the same encyclopedia's table: its weeks read, the days beside them from memory"
EXAMPLES = (
    # day, week, source
    ("2005-01-01", "2004-W53", TABLE),
    ("2005-01-02", "2004-W53", TABLE),
    ("2005-12-31", "2005-W52", TABLE),
    ("2006-01-01", "2005-W52", TABLE),
    ("2006-01-02", "2006-W01", TABLE),
    ("2006-12-31", "2006-W52", ENCYCLOPEDIA),
    ("2007-01-01", "2007-W01", TABLE),
    ("2008-12-28", "2008-W52", TABLE),
    ("2008-12-29", "2009-W01", TABLE),
    ("2019-12-30", "2020-W01", ENCYCLOPEDIA),
    ("1996-12-30", "1997-W01", "M. Kuhn, summary of the date and time notation, in a copy: read"),
    ("1997-01-05", "1997-W01", "M. Kuhn, summary of the date and time notation, in a copy: read"),
    ("2015-04-03", "2015-W14", "documentation of Elixir's Calendar.Date.Format 1.0.0: read"),
    ("2016-01-01", "2015-W53", "documentation of R's calcal, as_iso: read"),
    ("1985-04-12", "1985-W15", "ISO 8601:2004, the standard's running example: memory"),
)

# ISO 8601: month, day and year in this order, padded, with hyphens; the Gregorian calendar.
NOT_DATES = ("1985-4-12", "12-04-1985", "1985/04/12", "85-04-12", "1985-W15-5", "1985-102")
NO_SUCH_DAYS = ("1985-02-29", "1900-02-29", "2100-02-29", "1985-04-31", "1985-13-01", "1985-00-10")


@pytest.mark.parametrize(("day", "week", "source"), EXAMPLES)
def test_a_day_lies_in_its_published_week(day: str, week: str, source: str) -> None:
    """A day written as ISO 8601 writes it lies in the week that the source gives for it."""
    assert week_of(parse_date(day)) == week, source


def test_71_years_in_400_have_53_weeks() -> None:
    """In the 400 years of the Gregorian cycle 71 have a week 53 (the same encyclopedia: read)."""
    long_years = {
        year for year in range(2000, 2400) if week_of(date(year, 12, 28)) == f"{year}-W53"
    }
    assert len(long_years) == 71


def test_every_week_has_seven_days_from_monday_on() -> None:
    """Over 28 years a new week begins on each Monday and on no other day (ISO 8601: memory)."""
    days = [date(2000, 1, 1) + timedelta(count) for count in range(28 * 365)]
    begins = {day.isoweekday() for day in days if week_of(day) != week_of(day - timedelta(1))}
    changes = sum(week_of(day) != week_of(day - timedelta(1)) for day in days)
    assert begins == {1}
    assert changes == sum(day.isoweekday() == 1 for day in days)


@pytest.mark.parametrize("text", NOT_DATES)
def test_other_ways_to_write_a_day_are_refused(text: str) -> None:
    """Only the calendar date in full is read as a date, so that no guess swaps day and month."""
    with pytest.raises(UnreadableError):
        parse_date(text)


@pytest.mark.parametrize("text", NO_SUCH_DAYS)
def test_days_that_no_calendar_has_are_refused(text: str) -> None:
    """A day that the Gregorian calendar has not is refused; 1900 and 2100 have no leap day."""
    with pytest.raises(UnreadableError):
        parse_date(text)


def test_the_leap_day_of_2000_is_a_day() -> None:
    """A century that 400 divides has its leap day, as 2000 had (Gregorian calendar: memory)."""
    assert parse_date("2000-02-29") == date(2000, 2, 29)
