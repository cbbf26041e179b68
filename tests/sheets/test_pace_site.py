"""The pace on the newest month's page, and each month's hours a week."""

from __future__ import annotations

from builderlog.deciding.publishing import public_ledger
from builderlog.sheets.book import open_book
from builderlog.sheets.month import month_sheet
from builderlog.sheets.pace import CAUTION
from tests.deciding.pace_journals import estimated, holiday, journal, week_by_week

STEADY = journal(
    week_by_week((5, 5, 0, 0, 5, 5, 5, 5, 5, 5, 5, 5)),
    estimated("W1", 150),
    holidays=[holiday("2026-01-19", "2026-02-01")],
)


def test_only_the_newest_month_tells_the_window() -> None:
    """An older page would show a window that the record has left behind."""
    book = open_book(public_ledger(STEADY))
    told = [month_sheet(book, position).pace for position in range(3)]
    assert told[:2] == [None, None]
    assert told[2] is not None
    assert told[2].told.replace("\N{NO-BREAK SPACE}", " ") == (
        "If work goes on as in the 10 whole weeks up to 29 March 2026, all will be done by "
        "16 August 2026: by the estimates 100 h are left, and 5 h a week went into them."
    )
    assert told[2].caution == CAUTION


def test_each_month_tells_its_hours_a_week_and_its_weeks() -> None:
    """January from the 5th: ten hours in 27 days, time in two of four weeks, two on holiday."""
    sheet = month_sheet(open_book(public_ledger(STEADY)), 0)
    assert sheet.per_week is not None
    assert sheet.per_week.clock == "2:36"
    assert sheet.weeks == "2 of 4, 2 on holiday"
