"""The pace of each month: its hours a week, and in how many of its weeks there was work.

A week belongs to the month of its Thursday, as ISO 8601 gives it to a year. All time counts, as
in the sums of the monthly rollup, whoever worked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from builderlog.deciding.months import MonthRollup
from builderlog.deciding.pace_weeks import PaceWeek, weeks_of
from builderlog.deciding.weeks import first_day_of, last_day_of
from builderlog.deciding.words import month_of
from builderlog.knowing.ledger import Ledger

THURSDAY = timedelta(days=3)
LEAST_DAYS = 7  # of a month in the record: of fewer no week's mean is told


@dataclass(frozen=True, slots=True)
class MonthPace:
    """One month's pace."""

    per_week: int | None  # seconds; None where the record has less than a week of the month
    weeks: int  # of the record
    worked: int  # of them, those with time
    holidays: int  # of them, those that are holidays


def month_paces(ledger: Ledger, months: Iterable[MonthRollup]) -> Mapping[str, MonthPace]:
    """The pace of each month, by its name, within the days of the record."""
    days = [note.day for note in ledger.notes if note.day]
    if not days:
        return {}
    rows = [row for row in ledger.work if row.seconds > 0]
    record = (min(days), ledger.record_date or max(days))
    weeks: dict[str, list[PaceWeek]] = {}
    for week in weeks_of(rows, record[1], frozenset(), ledger.settings.holidays):
        weeks.setdefault(_month_of(week), []).append(week)
    return {
        month.month: _month_pace(weeks.get(month.month, ()), _per_week(month, record))
        for month in months
    }


def _month_of(week: PaceWeek) -> str:
    """That of its Thursday; the calendar's last week has none."""
    near_the_end = date.max - week.monday < THURSDAY
    return month_of(week.monday if near_the_end else week.monday + THURSDAY)


def _per_week(month: MonthRollup, record: tuple[date, date]) -> int | None:
    first = max(record[0], first_day_of(month.month))
    last = min(record[1], last_day_of(month.month))
    days = (last - first).days + 1
    return (14 * month.seconds + days) // (2 * days) if days >= LEAST_DAYS else None


def _month_pace(weeks: Iterable[PaceWeek], per_week: int | None) -> MonthPace:
    found = tuple(weeks)
    return MonthPace(
        per_week,
        len(found),
        sum(week.seconds > 0 for week in found),
        sum(week.holiday is not None for week in found),
    )
