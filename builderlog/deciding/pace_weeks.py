"""The weeks of the record, those without time and holidays too, and which of them are drawn from.

Weeks are those of ISO 8601, from Monday to Sunday.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date, timedelta

from builderlog.deciding.weeks import week_of
from builderlog.knowing.ledger import Worked
from builderlog.knowing.settings import Holiday

WEEK = 7
TRAILING_WEEKS = 8
SAMPLE_WEEKS = 52  # a year, so that no season counts twice
LONGEST_RECORD = 520  # weeks: what is older says nothing of the pace
MOST_OF_A_WEEK = 4  # days of holiday that make a week one


@dataclass(frozen=True, slots=True)
class PaceWeek:
    """One week of the record, weeks without time too; whole seconds."""

    week: str  # "2026-W11"
    monday: date
    seconds: int  # all time
    listed: int  # of it, what was given to tasks of the work list that apply
    holiday: str | None  # its reason ("" where none is given); None where it is no holiday
    whole: bool  # all seven days lie in the record
    trailing: int | None = None  # a week's mean of the last eight whole ones, holidays left out

    @property
    def counts(self) -> bool:
        """Whether it says something of the pace: it is whole and no holiday."""
        return self.whole and self.holiday is None


def monday_of(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=min(day.weekday(), day.toordinal() - 1))


def holiday_of(monday: date, holidays: Iterable[Holiday]) -> str | None:
    """The reason of the holiday that takes most of this week; "" without one, None for none."""
    days: set[int] = set()
    reasons: list[str] = []
    begin = monday.toordinal()
    for holiday in holidays:
        first = max(begin, holiday.since.day.toordinal())
        last = min(begin + WEEK - 1, holiday.last.toordinal())
        if first <= last:
            days |= set(range(first, last + 1))
            reasons += [holiday.why] if holiday.why else []
    return ", ".join(dict.fromkeys(reasons)) if len(days) >= MOST_OF_A_WEEK else None


def weeks_of(
    work: Sequence[Worked],
    record_date: date | None,
    listed: AbstractSet[str],
    holidays: Sequence[Holiday],
) -> tuple[PaceWeek, ...]:
    """Every week from that of the first work to that of the record's last day, oldest first.

    Of a record of more than ten years the newest ten. `listed` are the tasks that can get done.
    """
    days = [row.day for row in work]
    if not days or record_date is None:
        return ()
    span = (min(days), max(record_date, *days))
    times = _times(work, listed)
    bare = [_week(monday, span, times.get(monday, (0, 0)), holidays) for monday in _mondays(*span)]
    return tuple(_with_trailing(bare))


def _mondays(first: date, last: date) -> Iterator[date]:
    newest = monday_of(last)
    count = (newest - monday_of(first)).days // WEEK
    for back in range(min(count, LONGEST_RECORD - 1), -1, -1):
        yield newest - timedelta(weeks=back)


def _times(work: Iterable[Worked], listed: AbstractSet[str]) -> dict[date, tuple[int, int]]:
    """By Monday all seconds, and those given to listed tasks."""
    found: dict[date, tuple[int, int]] = {}
    for row in work:
        monday = monday_of(row.day)
        whole, part = found.get(monday, (0, 0))
        found[monday] = (whole + row.seconds, part + (row.seconds if row.task in listed else 0))
    return found


def _week(
    monday: date, span: tuple[date, date], times: tuple[int, int], holidays: Sequence[Holiday]
) -> PaceWeek:
    return PaceWeek(
        week=week_of(monday),
        monday=monday,
        seconds=times[0],
        listed=times[1],
        holiday=holiday_of(monday, holidays),
        whole=span[0] <= monday and (span[1] - monday).days >= WEEK - 1,
    )


def _with_trailing(weeks: Iterable[PaceWeek]) -> Iterator[PaceWeek]:
    """Each with the mean at its end; where it does not count itself, that of the one before."""
    counted: list[int] = []
    for week in weeks:
        if week.counts:
            counted.append(week.seconds)
        last = counted[-TRAILING_WEEKS:]
        mean = mean_of(last) if len(last) == TRAILING_WEEKS else None
        yield PaceWeek(
            week.week,
            week.monday,
            week.seconds,
            week.listed,
            week.holiday,
            whole=week.whole,
            trailing=mean,
        )


def mean_of(seconds: Sequence[int]) -> int:
    """The mean to the nearest second, half a second up."""
    return (2 * sum(seconds) + len(seconds)) // (2 * len(seconds))


def sample_of(weeks: Iterable[PaceWeek]) -> tuple[int, ...]:
    """The weeks that are drawn from: a year's newest that count, their seconds on listed tasks."""
    return tuple(week.listed for week in weeks if week.counts)[-SAMPLE_WEEKS:]


def runs_without_time(weeks: Iterable[PaceWeek]) -> tuple[tuple[PaceWeek, ...], ...]:
    """Runs of two weeks or more without time that no holiday explains; the last may go on."""
    runs: list[list[PaceWeek]] = [[]]
    for week in weeks:
        if week.counts and not week.seconds:
            runs[-1].append(week)
        elif runs[-1]:
            runs.append([])
    return tuple(tuple(run) for run in runs if len(run) > 1)
