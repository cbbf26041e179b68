"""The pace in ready words, for terminal, bench and site: facts, weeks, window, what is assumed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from builderlog.deciding.pace import Pace
from builderlog.deciding.pace_weeks import PaceWeek, runs_without_time
from builderlog.deciding.pace_window import Window
from builderlog.deciding.words import counted, day_plain, day_short, duration_clock

CAUTION = "A window is arithmetic on the past, no promise: hang no inspection and no flight on it."
NEWEST_WEEKS = 13
HOLES_TOLD = 3
OLD_DAYS = 14


@dataclass(frozen=True, slots=True)
class WeekWords:
    """One week in words; times are those of builders and helpers."""

    week: str  # "2026-W11"
    span: str  # "9 to 15 Mar 2026"
    time: str  # "7:45"; "" where there is none
    trailing: str  # "6:30", a week's mean of the last eight; "" where none can be told
    told: str  # "holiday: harvest", "no time", "not whole" or ""
    seconds: int  # for a drawing


@dataclass(frozen=True, slots=True)
class PaceWords:
    """The pace as its readers on this machine are told it; friends see `PublicPace`."""

    facts: tuple[tuple[str, str], ...]  # label, words: done, to do, a week, without time …
    weeks: tuple[WeekWords, ...]  # the newest thirteen, oldest first
    window: str  # a sentence: the window, or why there is none
    has_window: bool
    assumptions: str  # one line; "" where there is no window
    caution: str
    stale: str  # that the record ends long before `today`; "" where it does not


def pace_words(pace: Pace, today: date | None = None) -> PaceWords:
    """The pace in words; `today` where it is known, to tell that the record is old."""
    return PaceWords(
        facts=tuple(_facts(pace)),
        weeks=tuple(map(_week_words, pace.weeks[-NEWEST_WEEKS:])),
        window=window_words(pace.window, pace.record_date) or pace.why_no_window,
        has_window=pace.window is not None,
        assumptions=pace.assumptions,
        caution=CAUTION,
        stale=_stale(pace, today),
    )


def window_words(window: Window | None, record: date | None) -> str:
    """The window in one sentence; "" where there is none."""
    if window is None or record is None:
        return ""
    days = finished_between(window.earliest, window.latest)
    return (
        f"On the record of {day_plain(record)} all would be done {days} "
        f"({_in_weeks(window.weeks)})."
    )


def finished_between(earliest: date, latest: date) -> str:
    """The days of a window: "between 21 May 2028 and 1 April 2029"."""
    if earliest == latest:
        return f"by {day_plain(earliest)}"
    return f"between {day_plain(earliest)} and {day_plain(latest)}"


def _in_weeks(weeks: tuple[int, int]) -> str:
    first, last = weeks
    return f"in {counted(first, 'week')}" if first == last else f"in {first} to {last} weeks"


def _facts(pace: Pace) -> Iterator[tuple[str, str]]:
    yield "done", f"{duration_clock(pace.done_seconds)} hours of builders and helpers"
    estimates = pace.estimates
    if pace.remaining_seconds is not None:
        tasks = counted(len(estimates.open), "open task")
        left = duration_clock(pace.remaining_seconds)
        yield "to do", f"{left} hours by the estimates of {tasks}{_but(pace)}"
    if held := estimates.held:
        share = (200 * held.seconds + held.estimated) // (2 * held.estimated)
        tasks = counted(held.tasks, "done task")
        yield "estimates", f"{tasks} took {share} % of theirs"
    newest = pace.weeks[-1].trailing if pace.weeks else None
    if newest is not None:
        yield "a week", f"{duration_clock(newest)} hours over the last eight whole weeks"
    if pace.weekly_seconds is not None:
        mean = duration_clock(pace.weekly_seconds)
        weeks = counted(len(pace.sample), "whole week")
        yield "on tasks", f"{mean} hours a week on tasks of the work list, over {weeks}"
    yield from _pauses(pace)


def _but(pace: Pace) -> str:
    """What the estimates do not speak of."""
    told = [
        f"{len(tasks)} {words}"
        for tasks, words in (
            (pace.estimates.without, "without one"),
            (pace.estimates.passed, "past it"),
        )
        if tasks
    ]
    return f", {' and '.join(told)}" if told else ""


def _pauses(pace: Pace) -> Iterator[tuple[str, str]]:
    """Holes, the longest first told; weeks of holiday in one number."""
    holes = sorted(runs_without_time(pace.weeks), key=len, reverse=True)
    if holes:
        told = ", ".join(
            f"{hole[0].week} to {hole[-1].week} ({len(hole)} weeks)" for hole in holes[:HOLES_TOLD]
        )
        more = len(holes) - HOLES_TOLD
        yield "without time", f"{told} and {more} more" if more > 0 else told
    away = sum(week.holiday is not None for week in pace.weeks)
    if away:
        yield "holidays", f"{counted(away, 'week')}, left out of the means"


def _week_words(week: PaceWeek) -> WeekWords:
    return WeekWords(
        week=week.week,
        span=_span(week.monday),
        time=duration_clock(week.seconds) if week.seconds else "",
        trailing="" if week.trailing is None else duration_clock(week.trailing),
        told=_told(week),
        seconds=week.seconds,
    )


def _span(monday: date) -> str:
    """The week's days: "9 to 15 Mar 2026", "30 Mar to 5 Apr 2026"."""
    sunday = monday + timedelta(days=6)
    first = day_short(monday)
    if monday.month == sunday.month:
        first = str(monday.day)
    elif monday.year == sunday.year:
        first = first[:-5]
    return f"{first} to {day_short(sunday)}"


def _told(week: PaceWeek) -> str:
    if week.holiday is not None:
        return f"holiday: {week.holiday}" if week.holiday else "holiday"
    if not week.whole:
        return "not whole"
    return "" if week.seconds else "no time"


def _stale(pace: Pace, today: date | None) -> str:
    if pace.record_date is None or today is None:
        return ""
    days = (today - pace.record_date).days
    if days < OLD_DAYS:
        return ""
    return f"The record ends {days} days ago: the weeks since then are not in it."
