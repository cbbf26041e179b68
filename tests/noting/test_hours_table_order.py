"""The order of a column of dates is decided by the whole column, or not at all."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from builderlog.noting.hours_table_days import Order
from tests.noting.tables import message, read, told


def column(days: Sequence[str]) -> str:
    """A table of these dates, an hour each with words of its own."""
    return "date,hours,text\n" + "".join(f"{day},1h,{at}\n" for at, day in enumerate(days))


def days(*written: str, order: Order | None = None) -> list[str]:
    """The days that a column is read as."""
    return [str(session.day) for session in read(column(written), order=order).sessions]


def test_one_clear_date_decides_for_all() -> None:
    """A day beyond the twelfth says for the whole column which figure is the month."""
    assert days("3/4/26", "13/4/26") == ["2026-04-03", "2026-04-13"]
    assert days("3/4/26", "3/13/26") == ["2026-03-04", "2026-03-13"]
    assert told(read(column(["3/4/26", "13/4/26"]))) == []


def test_nothing_is_guessed() -> None:
    """Where no date of the column tells its order that is a mistake, which --dates answers."""
    found = read(column(["3/4/26"]))
    assert told(found) == ["1:1 order-of-dates (mistake)"]
    assert "3 April 2026 or 4 March 2026" in message(found, "order-of-dates")
    assert days("3/4/26", order=Order.MONTH_FIRST) == ["2026-03-04"]
    assert days("3/4/26", order=Order.DAY_FIRST) == ["2026-04-03"]


def test_dates_that_are_the_same_both_ways_need_no_order() -> None:
    """The third of March is that in both orders."""
    assert days("3/3/26") == ["2026-03-03"]
    assert told(read(column(["3/3/26", "4/4/26"]))) == []


@pytest.mark.parametrize(
    ("written", "first", "because"),
    [
        (["Fri 3/4/26"], "2026-04-03", "the days of the week fit so"),
        (["3/12/26", "4/12/26"], "2026-03-12", "some of them would be days to come"),
        (["1/2/26", "3/2/26", "1/3/26"], "2026-02-01", "they follow each other"),
        (["1.2.26"], "2026-02-01", "figures with dots"),
    ],
)
def test_soft_reasons_are_told(written: list[str], first: str, because: str) -> None:
    """Weekdays, today, the order of rows and dots decide where figures do not; that is a doubt."""
    found = read(column(written))
    assert str(found.sessions[0].day) == first
    assert told(found) == ["1:1 order-of-dates (doubt)"]
    assert because in message(found, "order-of-dates")


def test_years_in_front() -> None:
    """Years of two figures in front are found, since behind they would be years to come."""
    assert days("26-03-04", "26-03-31") == ["2026-03-04", "2026-03-31"]


def test_a_date_of_another_order_is_a_mistake() -> None:
    """A program that turned some dates round is found out by those that cannot be."""
    found = read(column([f"{day}/3/2026" for day in range(11, 20)] + ["3/20/2026"]))
    assert told(found) == ["11:1 date-of-another-order (mistake)"]
    assert "write 2026-03-20 if that is the day" in message(found, "date-of-another-order")


def test_a_date_that_was_turned_round_stands_out_of_order() -> None:
    """A date that could be either way, and stands where only the other way fits, is doubtful."""
    found = read(column([f"{day}/4/2026" for day in range(13, 25)] + ["5/1/2026", "1/5/2026"]))
    assert told(found) == ["14:1 date-out-of-order (doubt)"]
    assert "write 2026-05-01 if that is meant" in message(found, "date-out-of-order")


def test_the_year_that_was_not_changed_in_january() -> None:
    """A row that falls back by a year is doubtful, also where the newest row stands first."""
    rows = ["2025-12-28", "2025-12-30", "2025-01-02", "2026-01-04"]
    found = read(column(rows))
    assert told(found) == ["4:1 date-out-of-order (doubt)"]
    assert "write 2026-01-02 if that is meant" in message(found, "date-out-of-order")
    last = read(column([*rows[:2], "2025-01-02"]))
    assert "write 2026-01-02 if that is meant" in message(last, "date-out-of-order")
    assert told(read(column(rows[::-1]))) == ["3:1 date-out-of-order (doubt)"]


def test_a_table_in_no_order_is_left_in_peace() -> None:
    """Where many rows stand out of order nothing is said of it."""
    rows = [f"2026-03-{day:02}" for day in (9, 2, 14, 5, 1, 20, 3, 11, 8, 4, 30, 7)]
    assert told(read(column(rows))) == []


def test_days_to_come_and_other_weekdays() -> None:
    """A day after today and a weekday that is not the day's are doubtful."""
    assert told(read(column(["2027-01-01"]))) == ["2:1 day-to-come (doubt)"]
    assert told(read(column(["Sun 2026-03-14"]))) == ["2:1 other-weekday (doubt)"]
