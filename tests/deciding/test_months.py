"""The monthly rollup: every calendar month, its gap, its tasks begun and finished."""

from __future__ import annotations

import pytest

from builderlog.deciding.months import longest_gaps, months
from tests.making import day, ledger, note, part, picture, task, worked

# Each row: days with time, first and last day of the record, and each month's gap in days.
GAPS: tuple[tuple[list[str], tuple[str, str], dict[str, int]], ...] = (
    (["2026-03-01"], ("2026-03-01", "2026-03-01"), {"2026-03": 0}),
    (["2026-03-01", "2026-03-02"], ("2026-03-01", "2026-03-02"), {"2026-03": 0}),
    (["2026-03-01", "2026-03-03"], ("2026-03-01", "2026-03-03"), {"2026-03": 1}),
    (["2026-03-10", "2026-04-20"], ("2026-03-10", "2026-04-20"), {"2026-03": 21, "2026-04": 40}),
    (
        ["2026-01-31", "2026-04-01"],
        ("2026-01-31", "2026-04-01"),
        {"2026-01": 0, "2026-02": 28, "2026-03": 59, "2026-04": 0},
    ),
    ([], ("2026-02-27", "2026-03-02"), {"2026-02": 2, "2026-03": 4}),
    (["2026-03-20"], ("2026-03-05", "2026-03-25"), {"2026-03": 15}),
    (["2026-03-06"], ("2026-03-05", "2026-03-25"), {"2026-03": 19}),
)


@pytest.mark.parametrize(("worked_on", "record", "gaps"), GAPS)
def test_the_longest_gap_runs_on_over_the_turn_of_the_month(
    worked_on: list[str], record: tuple[str, str], gaps: dict[str, int]
) -> None:
    """A pause counts from the day after the last work to each month's end or the record's."""
    found = longest_gaps([day(text) for text in worked_on], (day(record[0]), day(record[1])))
    assert dict(found) == gaps


def test_the_first_day_of_the_calendar_does_no_harm() -> None:
    """A note dated in the year 1 gives a gap and no error."""
    assert dict(longest_gaps([], (day("0001-01-01"), day("0001-01-03")))) == {"0001-01": 2}


def test_no_note_gives_no_month() -> None:
    """An empty journal has no months."""
    assert months(ledger()) == ()


def test_a_month_without_a_note_is_there() -> None:
    """Between the first note's month and the last one's none is left out, and sums run on."""
    found = months(ledger(work=[worked("2026-01-10", 60), worked("2026-03-10", 30)]))
    told = [(one.month, one.notes, one.seconds, one.running_seconds) for one in found]
    assert told == [("2026-01", 1, 60, 60), ("2026-02", 0, 0, 60), ("2026-03", 1, 30, 90)]


def test_tasks_begin_with_their_first_time_and_finish_with_their_last() -> None:
    """A done task finishes in the month of its last time; an open one or one without time never."""
    book = ledger(
        work=[
            worked("2026-01-10", 60, "W1"),
            worked("2026-01-10", 60, "W2"),
            worked("2026-02-10", 60, "W2"),
            worked("2026-02-11", 0, "W4"),
            worked("2026-02-11", 60, "free text"),
        ],
        tasks=[task("W2", done=True), task("W1"), task("W3", done=True), task("W4", done=True)],
    )
    told = [(one.tasks_begun, one.tasks_finished) for one in months(book)]
    assert told == [(("W2", "W1"), ()), (("free text",), ("W2",))]


def test_areas_and_the_rest_add_to_the_month() -> None:
    """Time by area, with what belongs to none under the empty name, adds to the month's time."""
    book = ledger(
        work=[
            worked("2026-01-10", 1, "W1"),
            worked("2026-01-10", 2, "E1"),
            worked("2026-01-10", 4, "unknown"),
            worked("2026-01-10", 8),
        ],
        tasks=[task("E1"), task("W1"), task("X1")],
    )
    (month,) = months(book)
    assert list(month.by_area.items()) == [("E", 2), ("W", 1), ("", 12)]
    assert (month.seconds, month.untasked) == (15, 8)


def test_a_month_counts_its_notes_days_and_pictures() -> None:
    """Notes without time count as notes and not as days; a picture named twice counts once."""
    pictures = [picture("photos/a.jpg", ("2026-01-10", ()), ("2026-01-11", ()), ("2026-02-01", ()))]
    book = ledger(
        work=[worked("2026-01-10", 60), worked("2026-01-10", 60, person="Ada")],
        notes=[note("2026-01-11"), note("2026-02-01")],
        pictures=[*pictures, picture("photos/b.jpg", linked=("notes/2026-01-10.md",))],
        parts=[part("a", ("2026-01-11", "1.5 USD"))],
    )
    first, second = months(book)
    assert (first.notes, first.days, first.photos) == (2, 1, 1)
    assert (second.notes, second.days, second.photos) == (1, 0, 1)
    assert (dict(first.by_role), str(first.spent["USD"])) == (
        {"builder": 60, "helper": 60, "paid": 0},
        "1.5",
    )
