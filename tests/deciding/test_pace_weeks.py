"""The weeks of the record: whole ones, holidays, holes, and which are drawn from."""

from __future__ import annotations

import pytest

from builderlog.deciding.pace_weeks import (
    LONGEST_RECORD,
    PaceWeek,
    holiday_of,
    mean_of,
    monday_of,
    runs_without_time,
    sample_of,
    weeks_of,
)
from builderlog.knowing.settings import Holiday
from builderlog.knowing.units import HOUR
from tests.deciding.pace_journals import MONDAY, holiday, week_by_week
from tests.making import day, worked


def weeks(hours: tuple[int, ...], until: str, *holidays: Holiday) -> tuple[PaceWeek, ...]:
    """The weeks of this work on task W1, to the record's last day."""
    return weeks_of(week_by_week(hours), day(until), {"W1"}, holidays)


def test_weeks_without_time_are_there() -> None:
    """Every week from the first work to the record's end has its row, ISO name and Monday."""
    found = weeks((3, 0, 2), "2026-02-01")
    assert [(week.week, week.seconds) for week in found] == [
        *(("2026-W02", 3 * HOUR), ("2026-W03", 0), ("2026-W04", 2 * HOUR), ("2026-W05", 0)),
    ]
    assert found[0].monday == MONDAY


def test_a_week_in_part_outside_the_record_does_not_count() -> None:
    """The week in which the work begins on a Tuesday, and the one still running, are not whole."""
    rows = [worked("2026-01-06", HOUR, "W1"), worked("2026-01-12", HOUR, "W1")]
    found = weeks_of(rows, day("2026-01-24"), {"W1"}, ())
    assert [week.whole for week in found] == [False, True, False]
    assert sample_of(found) == (HOUR,)


@pytest.mark.parametrize(
    ("holidays", "told"),
    [
        ([holiday("2026-01-05", "2026-01-08", "harvest")], "harvest"),
        ([holiday("2026-01-05", "2026-01-07", "harvest")], None),
        ([holiday("2026-01-08", "2026-01-30")], ""),
        (
            [holiday("2026-01-05", "2026-01-06", "a"), holiday("2026-01-09", "2026-01-10", "b")],
            "a, b",
        ),
        (
            [holiday("2026-01-05", "2026-01-07", "a"), holiday("2026-01-05", "2026-01-07", "b")],
            None,
        ),
        ([holiday("2026-01-09", "2026-01-05")], None),
        ([holiday("2026-01-07")], None),
    ],
)
def test_most_of_a_week_makes_it_a_holiday(holidays: list[Holiday], told: str | None) -> None:
    """Four of its seven days do, each counted once; fewer do not, nor do days in reverse."""
    assert holiday_of(MONDAY, holidays) == told


def test_a_holiday_stays_out_of_the_means() -> None:
    """The mean of the last eight whole weeks passes over a holiday and stands still in it."""
    away = holiday("2026-02-23", "2026-03-01")
    found = weeks((8, 8, 8, 8, 8, 8, 8, 0, 0), "2026-03-08", away)
    assert [week.trailing for week in found] == [None] * 8 + [7 * HOUR]
    assert sample_of(found) == (8 * HOUR,) * 7 + (0,)


def test_the_sample_is_the_newest_year() -> None:
    """Of two years of weeks the newest 52 are drawn from, each season once."""
    found = weeks((*(9,) * 60, *(5,) * 52), "2028-02-27")
    assert sample_of(found) == (5 * HOUR,) * 52


def test_holes_are_runs_that_no_holiday_explains() -> None:
    """Two weeks and more without time are told; one alone and a holiday are not."""
    away = holiday("2026-02-23", "2026-03-08")
    found = weeks((3, 0, 3, 0, 0, 0, 3, 0, 0, 3, 0, 0), "2026-03-29", away)
    runs = [[week.week for week in run] for run in runs_without_time(found)]
    assert runs == [["2026-W05", "2026-W06", "2026-W07"], ["2026-W12", "2026-W13"]]


def test_the_ends_of_the_calendar_do_no_harm() -> None:
    """A slip of the pen in the year gives at most ten years of weeks, and no error."""
    rows = [worked("0001-01-01", HOUR), worked("9999-12-31", HOUR)]
    assert len(weeks_of(rows, day("9999-12-31"), set(), ())) == LONGEST_RECORD
    assert monday_of(day("0001-01-03")) == day("0001-01-01")


def test_the_mean_is_rounded_once_half_a_second_up() -> None:
    """Whole seconds: a half goes up, less goes down."""
    assert (mean_of([1, 2]), mean_of([1, 1, 2]), mean_of([0, 0])) == (2, 1, 0)
