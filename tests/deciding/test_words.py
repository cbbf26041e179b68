"""Holds how numbers and dates are written; not where they stand."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding import words
from builderlog.knowing.units import parse_length


@pytest.mark.parametrize(
    ("seconds", "said", "clock", "hours"),
    [
        (0, "0 min", "0:00", "0.0 h"),
        (29, "0 min", "0:00", "0.0 h"),
        (30, "1 min", "0:01", "0.0 h"),
        (2700, "45 min", "0:45", "0.8 h"),
        (3600, "1 h", "1:00", "1.0 h"),
        (11_700, "3 h 15 min", "3:15", "3.3 h"),
        (3_600_000, "1000 h", "1000:00", "1000.0 h"),
    ],
)
def test_a_length_of_time_is_written_three_ways(
    seconds: int, said: str, clock: str, hours: str
) -> None:
    """Words, clock and decimal hours are rounded, a half up, and their spaces do not break."""
    assert words.duration(seconds) == said.replace(" ", "\N{NO-BREAK SPACE}")
    assert words.duration_clock(seconds) == clock
    assert words.duration_hours(seconds) == hours.replace(" ", "\N{NO-BREAK SPACE}")


@given(st.integers(min_value=0, max_value=10_000))
def test_what_the_clock_says_reads_back(minutes: int) -> None:
    """Whole minutes written as hours:minutes are the same length of time when read again."""
    assert parse_length(words.duration_clock(minutes * 60)).seconds == minutes * 60


def test_a_day_is_written_in_english() -> None:
    """Weekday and month are English words, whatever the machine's language."""
    assert words.day_long(date(2026, 3, 14)) == "Saturday 14 March 2026"
    assert words.month_short("2026-09") == "Sep 2026"


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2200, 1, 1)))
def test_weekdays_follow_each_other(day: date) -> None:
    """The next day carries the next weekday's name."""
    today, tomorrow = (
        words.WEEKDAYS.index(words.day_long(each).split()[0]) for each in (day, day + timedelta(1))
    )
    assert tomorrow == (today + 1) % 7


def test_counts_agree_with_their_noun() -> None:
    """No and many take the plural, one the singular."""
    assert [words.counted(n, "note") for n in (0, 1, 2)] == ["no notes", "1 note", "2 notes"]
    assert words.counted(2, "day in the shop", "days in the shop") == "2 days in the shop"


@pytest.mark.parametrize(
    ("number", "said"), [("12", "12"), ("0.50", "0.5"), ("1E+2", "100"), ("-0", "0")]
)
def test_an_amount_has_no_exponent(number: str, said: str) -> None:
    """A count is written plainly, without zeros that say nothing."""
    assert words.amount(Decimal(number)) == said


def test_words_are_clipped_after_a_word() -> None:
    """A clipped text is no longer than asked and ends after a word."""
    assert words.clipped("Skins held with clecos", 14) == "Skins held…"
    assert words.clipped("Skins", 5) == "Skins"
    assert len(words.clipped("x" * 99, 10)) == 10


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(0, "0"), (1440, "0.4"), (3600, "1"), (35_819, "9.9"), (35_820, "10"), (45_000, "13")],
)
def test_hours_on_a_drawing_are_short(seconds: int, said: str) -> None:
    """Tenths below ten hours, whole ones from there, a half up, and no unit."""
    assert words.duration_brief(seconds) == said


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (0, "0"),
        (999, "999"),
        (1000, "1k"),
        (3445, "3.4k"),
        (9949, "9.9k"),
        (9950, "10k"),
        (999_499, "999k"),
        (999_500, "1M"),
        (1_249_999, "1.2M"),
        (30_000_000, "30M"),
    ],
)
def test_large_numbers_on_a_drawing_are_short(number: int, said: str) -> None:
    """From a thousand on they are told in thousands, with a tenth below ten of them."""
    assert words.brief(number) == said
