"""The pace in words: facts, weeks with their holes and holidays, the window and its caution."""

from __future__ import annotations

from builderlog.deciding.pace import pace
from builderlog.sheets.pace import CAUTION, PaceWords, finished_between, pace_words
from tests.deciding.pace_journals import estimated, holiday, journal, week_by_week
from tests.making import day

HOURS = (5, 5, 0, 0, 0, 5, 5, 4, 0, 5, 6, 5)


def words(*, until: str | None = None, today: str | None = None) -> PaceWords:
    """The words of a journal with a hole, a holiday and two odd estimates."""
    tasks = (*(estimated(f"W{n}", 20) for n in range(1, 11)), estimated("X1", None))
    work = (*week_by_week(HOURS, "W2"), *week_by_week((1,) * 2, "D1"))
    away = holiday("2026-03-02", "2026-03-08", "harvest")
    done = estimated("D1", 4, done=True)
    book = journal(work, *tasks, done, holidays=[away], until=day(until) if until else None)
    return pace_words(pace(book), day(today) if today else None)


def test_the_facts_are_told_in_order() -> None:
    """Done, to do and what the estimates lack, how they held, both means, hole and holiday."""
    assert words().facts == (
        ("done", "42:00 hours of builders and helpers"),
        ("to do", "180:00 hours by the estimates of 11 open tasks, 1 without one and 1 past it"),
        ("estimates", "1 done task took 50 % of theirs"),
        ("a week", "3:45 hours over the last eight whole weeks"),
        ("on tasks", "3:49 hours a week on tasks of the work list, over 11 whole weeks"),
        ("without time", "2026-W04 to 2026-W06 (3 weeks)"),
        ("holidays", "1 week, left out of the means"),
    )


def test_holes_and_holidays_stand_in_the_list_of_weeks() -> None:
    """Each week has its days, time and mean; one without time says so, a holiday why."""
    weeks = words(until="2026-03-30").weeks
    assert [(week.week, week.time, week.told) for week in weeks] == [
        ("2026-W02", "6:00", ""),
        ("2026-W03", "6:00", ""),
        *((f"2026-W0{number}", "", "no time") for number in (4, 5, 6)),
        *(("2026-W07", "5:00", ""), ("2026-W08", "5:00", ""), ("2026-W09", "4:00", "")),
        ("2026-W10", "", "holiday: harvest"),
        *(("2026-W11", "5:00", ""), ("2026-W12", "6:00", ""), ("2026-W13", "5:00", "")),
        ("2026-W14", "", "not whole"),
    ]
    assert [weeks[at].span for at in (0, 3, 12)] == [
        *("5 to 11 Jan 2026", "26 Jan to 1 Feb 2026", "30 Mar to 5 Apr 2026"),
    ]


def test_a_window_never_stands_without_its_caution() -> None:
    """The sentence names the record, the days and the weeks; assumptions and caution go along."""
    told = words()
    assert told.has_window
    assert told.window.startswith("On the record of 29 March 2026 all would be done between ")
    assert told.assumptions.startswith("Assumed: ")
    assert told.caution == CAUTION
    assert "no promise" in CAUTION


def test_without_a_window_its_reason_stands_there() -> None:
    """Then there is nothing to assume."""
    told = pace_words(pace(journal(week_by_week((5,)), estimated("W1", 60))))
    assert (told.has_window, told.assumptions) == (False, "")
    assert told.window.startswith("No window is told: ")


def test_one_day_is_no_between() -> None:
    """A steady builder's window is one Sunday."""
    assert finished_between(day("2026-08-16"), day("2026-08-16")) == "by 16 August 2026"


def test_an_old_record_is_told_where_today_is_known() -> None:
    """Two weeks after its end the record says so; a day earlier, or without a clock, nothing."""
    assert words().stale == ""
    assert words(today="2026-04-11").stale == ""
    assert words(today="2026-04-12").stale == (
        "The record ends 14 days ago: the weeks since then are not in it."
    )
