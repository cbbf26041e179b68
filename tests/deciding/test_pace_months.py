"""The pace of each month: hours a week within the record, and its weeks with time."""

from __future__ import annotations

from builderlog.deciding.months import months
from builderlog.deciding.pace_months import MonthPace, month_paces
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.units import HOUR
from tests.deciding.pace_journals import holiday, journal, week_by_week
from tests.making import day, ledger, worked


def paces(book: Ledger) -> dict[str, MonthPace]:
    """The pace of every month of the rollup."""
    return dict(month_paces(book, months(book)))


def test_a_month_in_part_is_counted_by_its_days_in_the_record() -> None:
    """From 5 January, 27 days with 20 hours are 5:11 a week; a holiday is one of its weeks."""
    book = journal(
        week_by_week((5, 5, 5, 0, 5)), holidays=[holiday("2026-01-26", "2026-02-01", "harvest")]
    )
    found = paces(book)
    assert found["2026-01"] == MonthPace(14_000, 4, 3, 1)
    assert found["2026-02"] == MonthPace(15_750, 1, 1, 0)


def test_of_less_than_a_week_no_mean_is_told() -> None:
    """Three hours on the last day of a month are no 21 hours a week."""
    book = ledger(work=[worked("2026-01-31", 3 * HOUR), worked("2026-02-28", HOUR)])
    found = paces(book)
    assert found["2026-01"].per_week is None
    assert found["2026-02"].per_week == HOUR // 4


def test_a_journal_without_notes_and_the_calendar_s_last_days_do_no_harm() -> None:
    """No note gives no month; the week of 31 December 9999 has no Thursday in some calendars."""
    assert paces(ledger()) == {}
    assert day("9999-12-31").weekday() == 4
    assert paces(ledger(work=[worked("9999-12-31", HOUR)]))["9999-12"].worked == 1
