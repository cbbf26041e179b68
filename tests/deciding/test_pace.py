"""The pace of made-up builders: whose hours it counts, and when a window is told."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from builderlog.deciding.pace import pace, pace_document, pace_of_all
from builderlog.knowing.journal import read_journal
from builderlog.knowing.units import HOUR, Length
from builderlog.reading.folder import Folder
from tests.deciding.pace_journals import estimated, holiday, journal, week_by_week
from tests.making import dated, day

EXAMPLE = Path(__file__).parents[2] / "example_journal"
STEADY = (5,) * 12  # ends on Sunday 29 March 2026


def test_the_window_of_a_steady_builder_is_exact() -> None:
    """Five hours every week and 100 left: done in 20 weeks, on their last Sunday, to the day."""
    found = pace(journal(week_by_week(STEADY), estimated("W1", 160)))
    assert (found.done_seconds, found.remaining_seconds) == (60 * HOUR, 100 * HOUR)
    assert found.window is not None
    assert found.window.weeks == (20, 20)
    assert found.window.earliest == found.window.latest == day("2026-08-16")


def test_a_second_more_takes_a_week_more() -> None:
    """What is left is compared in whole seconds: one second beyond twenty weeks is a 21st."""
    longer = replace(estimated("W1", 160), estimate=Length(160 * HOUR + 1))
    found = pace(journal(week_by_week(STEADY), longer))
    assert found.window is not None
    assert found.window.weeks == (21, 21)


def test_holidays_to_come_move_the_window() -> None:
    """Three weeks of declared holiday in the twenty that it takes end three weeks later."""
    away = holiday("2026-05-04", "2026-05-24")
    found = pace(journal(week_by_week(STEADY), estimated("W1", 160), holidays=[away]))
    assert found.window is not None
    assert found.window.latest == day("2026-09-06")


def test_past_holidays_slow_nobody_down_and_holes_do() -> None:
    """A fortnight without time widens the window, unless journal.yaml calls it a holiday."""
    work = week_by_week((5, 5, 5, 5, 5, 0, 0, 5, 5, 5, 5, 5))
    away = holiday("2026-02-09", "2026-02-22")
    hole = pace(journal(work, estimated("W1", 150))).window
    told = pace(journal(work, estimated("W1", 150), holidays=[away])).window
    assert hole is not None
    assert told is not None
    assert told.weeks == (20, 20)
    assert hole.weeks[1] > 20


def test_paid_help_neither_shortens_what_is_left_nor_fills_a_week() -> None:
    """Estimates are hours of builders and helpers: with paid hours beside them all stays as is."""
    own = (*week_by_week(STEADY[:6]), *week_by_week((0,) * 6 + STEADY[6:], person="Ada"))
    paid = week_by_week((9,) * 12, person="Shop & Co")
    task = estimated("W1", 160)
    assert pace(journal((*own, *paid), task)) == pace(journal(own, task))
    assert pace_of_all(journal((*own, *paid), task)) != pace_of_all(journal(own, task))


def test_time_that_no_task_was_given_finishes_none() -> None:
    """Hours beside the work list are done hours, but the window draws only from hours on tasks."""
    beside = week_by_week((3,) * 12, task_id=None)
    found = pace(journal((*week_by_week(STEADY), *beside), estimated("W1", 160)))
    assert found.done_seconds == 96 * HOUR
    assert found.weekly_seconds == 5 * HOUR
    assert found.window is not None
    assert found.window.weeks == (20, 20)


def test_time_after_the_certificate_is_no_build_time() -> None:
    """What was flown and mended later is not in the pace, and no window is told any more."""
    book = journal(week_by_week(STEADY), estimated("W1", 160))
    book = replace(book, settings=replace(book.settings, certificated=dated("2026-02-01")))
    found = pace(book)
    assert found.done_seconds == 20 * HOUR
    assert found.window is None
    assert "certificated, on 1 February 2026" in found.why_no_window


def test_a_pace_of_more_than_twenty_years_is_no_window() -> None:
    """With minutes a week for thousands of hours a date would say nothing, and none is said."""
    found = pace(journal(week_by_week((1,) * 12), estimated("W1", 5_000)))
    assert found.window is None
    assert "more than twenty years" in found.why_no_window
    assert found.assumptions == ""


def test_an_empty_journal_has_a_pace_too() -> None:
    """Without a note nothing is done, nothing known, no window told, and nothing fails."""
    found = pace(replace(journal(()), record_date=None))
    assert (found.done_seconds, found.remaining_seconds, found.weeks) == (0, None, ())
    assert found.weekly_seconds is None
    assert found.why_no_window


def test_the_example_has_a_window() -> None:
    """The example's pace adds up, has its hole in April, and its document is plain JSON."""
    ledger = read_journal(Folder.at(EXAMPLE))
    found = pace(ledger)
    assert found.window is not None
    assert sum(week.seconds for week in found.weeks) == found.done_seconds
    assert [week.week for week in found.weeks if not week.seconds and week.week > "2026-W10"] == [
        *("2026-W15", "2026-W16", "2026-W17"),
    ]
    assert pace(ledger) == found
    told = json.loads(json.dumps(pace_document(found)))
    assert told["window"]["earliest"] == found.window.earliest.isoformat()
    assert sum(week["seconds"] for week in told["weeks"]) == told["done"]


def test_without_a_window_the_document_says_why() -> None:
    """`window` is null then, and `why_no_window` holds the sentence."""
    told = pace_document(pace(journal(week_by_week((5, 5)), estimated("W1", 60))))
    assert told["window"] is None
    assert "the record has 2 whole weeks" in str(told["why_no_window"])
