"""Weeks and months against published examples; not against the code that computes them."""

from __future__ import annotations

import pytest

from builderlog.deciding.weeks import first_day_of, last_day_of, months_between, week_of
from tests.making import day

# ISO 8601 week dates at the turns of years, as the standard and its encyclopedic tables print them.
PUBLISHED = (
    ("1976-12-31", "1976-W53"),
    ("1977-01-01", "1976-W53"),
    ("1977-01-02", "1976-W53"),
    ("1977-12-31", "1977-W52"),
    ("1978-01-01", "1977-W52"),
    ("1978-01-02", "1978-W01"),
    ("1980-12-28", "1980-W52"),
    ("1980-12-29", "1981-W01"),
    ("2008-12-28", "2008-W52"),
    ("2008-12-29", "2009-W01"),
    ("2009-12-31", "2009-W53"),
    ("2010-01-03", "2009-W53"),
    ("2010-01-04", "2010-W01"),
    ("2026-03-14", "2026-W11"),
)


@pytest.mark.parametrize(("text", "week"), PUBLISHED)
def test_weeks_are_those_of_the_standard(text: str, week: str) -> None:
    """A day at the turn of the year has the week, and the week's year, that ISO 8601 says."""
    assert week_of(day(text)) == week


def test_months_between_counts_both_ends() -> None:
    """Every month from the first day's to the last day's is there, over a turn of the year too."""
    found = list(months_between(day("2025-11-30"), day("2026-02-01")))
    assert found == ["2025-11", "2025-12", "2026-01", "2026-02"]


def test_no_month_lies_between_days_in_the_wrong_order() -> None:
    """A last day before the first month gives no month."""
    assert list(months_between(day("2026-02-01"), day("2026-01-31"))) == []


def test_a_month_knows_its_days() -> None:
    """February ends on the 29th in a leap year and begins on the 1st."""
    assert last_day_of("2028-02") == day("2028-02-29")
    assert last_day_of("2100-02") == day("2100-02-28")
    assert first_day_of("2028-02") == day("2028-02-01")
