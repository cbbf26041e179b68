"""A cell of a column of dates: every day that it can mean, and no day that no calendar has."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.units import UnreadableError
from builderlog.noting.hours_table_days import Order, day_cell, full_year, is_weekday, weekday_of

YEAR = 2026
THE_14TH = date(2026, 3, 14)


@pytest.mark.parametrize(
    "text",
    [
        *("2026-03-14", "2026/3/14", "2026.3.14", "2026 3 14", "20260314", "2026-03-14T00:00:00"),
        *("14 March 2026", "14-Mar-26", "14 mar. 2026", "14th March, 2026", "March 14, 2026"),
        *("Mar 14 2026", "Sat 14 March 2026", "Saturday, March 14, 2026", "14 March 2026 (Sat)"),
        *("2026 March 14", "14/Mar/2026", "2026-03-14 00:00", "14 March '26"),
    ],
)
def test_dates_that_can_be_read_in_one_way(text: str) -> None:
    """A year of four figures in front, or a month by its name, leaves no choice."""
    cell = day_cell(text, YEAR)
    assert (cell.decided, set(cell.days.values()), cell.beside) == (True, {THE_14TH}, "")


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("3/4/2026", {Order.DAY_FIRST: "2026-04-03", Order.MONTH_FIRST: "2026-03-04"}),
        ("14.3.2026", {Order.DAY_FIRST: "2026-03-14"}),
        ("3-14-26", {Order.MONTH_FIRST: "2026-03-14"}),
        ("14. 3. 26", {Order.DAY_FIRST: "2026-03-14"}),
        (
            "26-03-14",
            {Order.DAY_FIRST: "2014-03-26", Order.YEAR_FIRST: "2026-03-14"},
        ),
        ("31/12/98", {Order.DAY_FIRST: "1998-12-31"}),
    ],
)
def test_dates_in_figures(text: str, days: dict[Order, str]) -> None:
    """Each order in which the figures are a day is kept; the column decides."""
    cell = day_cell(text, YEAR)
    assert not cell.decided
    assert {order: day.isoformat() for order, day in cell.days.items()} == days


def test_a_time_of_day_is_kept_beside() -> None:
    """Midnight is how programs write a bare date; any other time is kept."""
    assert day_cell("2026-03-14 19:10:00", YEAR).beside == "19:10:00"
    assert day_cell("3/14/26 7:10 PM", YEAR).beside == "7:10 pm".upper()
    assert day_cell("3/14/26 12:00:00 AM", YEAR).beside == ""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("46095", "how a spreadsheet keeps a date"),
        ("14.3.", "has no year"),
        ("14 March", "has no year"),
        ("March 2026", "has no year, or no day"),
        ("soon", "is not a date; write 2026-03-14"),
        ("31/2/2026", "days"),
        ("2026-13-01", "there is no month 13"),
        ("14 Mont 2026", "is not a date"),
    ],
)
def test_what_is_no_date(text: str, said: str) -> None:
    """What is no date is told in a sentence that fits it."""
    with pytest.raises(UnreadableError, match=said):
        day_cell(text, YEAR)


@given(st.text(max_size=20))
def test_any_text_is_a_date_or_told(text: str) -> None:
    """No text does anything but give days or a sentence."""
    try:
        days = day_cell(text, YEAR).days
    except UnreadableError:
        return
    assert days


@given(st.dates(date(1970, 1, 1), date(2027, 12, 31)), st.sampled_from("-./ "))
def test_a_day_written_in_any_order_can_mean_itself(day: date, sign: str) -> None:
    """Whatever the order and the sign, the day is among those that the cell can mean."""
    figures = (f"{day.day}", f"{day.month}", f"{day.year}")
    for order in ((0, 1, 2), (1, 0, 2), (2, 1, 0)):
        text = sign.join(figures[place] for place in order)
        assert day in day_cell(text, YEAR).days.values()


def test_years_of_two_figures() -> None:
    """They are of the last hundred years, next year included."""
    assert [full_year(text, YEAR) for text in ("26", "27", "28", "98", "1998")] == [
        *(2026, 2027, 1928, 1998, 1998)
    ]


def test_weekdays() -> None:
    """Weekdays are known by their first letters, and nothing else is one."""
    assert [weekday_of(text) for text in ("Mon", "tues", "SUNDAY", "Sat.")] == [0, 1, 6, 5]
    assert (weekday_of("Day"), is_weekday("May"), is_weekday("thurs")) == (None, False, True)
