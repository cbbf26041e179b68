"""The pace of the build: what is done and left, week by week, and when it may be finished.

Hours are those of builders and helpers, as the estimates of a work list are: paid help neither
shortens what is left nor fills a week. There is no clock in it: it ends with the record.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.pace_estimates import AMATEURS, Estimates, estimates_of
from builderlog.deciding.pace_sentences import TOO_SLOW, assumptions, why_none
from builderlog.deciding.pace_weeks import PaceWeek, mean_of, sample_of, weeks_of
from builderlog.deciding.pace_window import Window, window_after
from builderlog.deciding.portion import build_work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.settings import Role

BY_AMATEURS = "paid help does none of it"
BY_ALL = "all hours on record count alike"


@dataclass(frozen=True, slots=True)
class Pace:
    """The pace on the record of `record_date`; seconds are whole, of builders and helpers."""

    record_date: date | None
    done_seconds: int  # all build time, given to a task or not
    remaining_seconds: int | None  # by the estimates of open tasks; None: there are none
    weeks: tuple[PaceWeek, ...]  # oldest first
    window: Window | None
    why_no_window: str  # a sentence; "" where there is a window
    assumptions: str  # one line; "" where there is no window
    estimates: Estimates
    sample: tuple[int, ...]  # the weeks that are drawn from: seconds on the work list's tasks

    @property
    def weekly_seconds(self) -> int | None:
        """A week's mean of the weeks that are drawn from; None where there are none."""
        return mean_of(self.sample) if self.sample else None


def pace(ledger: Ledger) -> Pace:
    """The pace of the build on its record, in the hours of builders and helpers."""
    return _pace(ledger, [row for row in build_work(ledger) if row.role in AMATEURS], BY_AMATEURS)


def pace_of_all(ledger: Ledger) -> Pace:
    """The same in the hours of all together: who is paid makes no difference to it anywhere."""
    return _pace(ledger, build_work(ledger), BY_ALL)


def _pace(ledger: Ledger, work: Sequence[Worked], helped: str) -> Pace:
    rows = [row for row in work if row.seconds > 0]
    holidays = ledger.settings.holidays
    listed = {task.id for task in ledger.worklist.by_id.values() if task.applies}
    weeks = weeks_of(rows, ledger.record_date, listed, holidays)
    sample, estimates = sample_of(weeks), estimates_of(ledger.worklist, rows, _paid(ledger))
    why, window = why_none(ledger, estimates, sample), None
    if not why and ledger.record_date:
        window = window_after(ledger.record_date, estimates.remaining or 0, sample, holidays)
        why = "" if window else TOO_SLOW
    return Pace(
        record_date=ledger.record_date,
        done_seconds=sum(row.seconds for row in rows),
        remaining_seconds=estimates.remaining,
        weeks=weeks,
        window=window,
        why_no_window=why,
        assumptions=assumptions(estimates, len(sample), helped) if window else "",
        estimates=estimates,
        sample=sample,
    )


def pace_document(found: Pace) -> dict[str, object]:
    """What `tally --json` prints as `pace`: keys that other programs rely on; whole seconds."""
    estimates, held, window = found.estimates, found.estimates.held, found.window
    return {
        "record_date": found.record_date.isoformat() if found.record_date else None,
        "done": found.done_seconds,
        "remaining": found.remaining_seconds,
        "open_tasks": len(estimates.open),
        "without_estimate": [task.id for task in estimates.without],
        "past_estimate": [task.id for task in estimates.passed],
        "estimates_held": held
        and {"tasks": held.tasks, "seconds": held.seconds, "estimated": held.estimated},
        "weekly": found.weekly_seconds,
        "weeks_drawn_from": len(found.sample),
        "weeks": [_week_document(week) for week in found.weeks],
        "window": window
        and {
            "earliest": window.earliest.isoformat(),
            "latest": window.latest.isoformat(),
            "weeks": list(window.weeks),
        },
        "why_no_window": found.why_no_window,
        "assumptions": found.assumptions,
    }


def _week_document(week: PaceWeek) -> dict[str, object]:
    return {
        "week": week.week,
        "seconds": week.seconds,
        "on_listed_tasks": week.listed,
        "holiday": week.holiday,
        "whole": week.whole,
        "trailing": week.trailing,
    }


def _paid(ledger: Ledger) -> frozenset[str]:
    """The tasks on which paid help worked."""
    paid = (row for row in ledger.work if row.role is Role.PAID)
    return frozenset(row.task for row in paid if row.task is not None)
