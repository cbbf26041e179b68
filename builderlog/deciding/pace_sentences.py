"""The pace in sentences: why there is no window of finishing dates, and what one assumes."""

from __future__ import annotations

from collections.abc import Sequence

from builderlog.deciding.pace_estimates import Estimates
from builderlog.deciding.words import counted, day_plain
from builderlog.knowing.ledger import Ledger

LEAST_WEEKS = 10  # of fewer a window is too often wrong
LEAST_WORKED = 4
MOST_WITHOUT = 10  # one in so many open tasks may have no estimate
NAMED = 3
TOO_SLOW = (
    "No window is told: at this pace what is left takes more than twenty years, and such a date "
    "says nothing."
)


def why_none(ledger: Ledger, estimates: Estimates, sample: Sequence[int]) -> str:
    """Why the record gives no window; "" where it can. The first reason that holds."""
    certificated = ledger.settings.certificated
    if certificated:
        return f"No window is told: the aircraft is certificated, on {day_plain(certificated.day)}."
    lacking = _no_estimates(ledger, estimates)
    if lacking or not estimates.open:
        return lacking or "No window is told: no task of the work list is open."
    if not estimates.remaining:
        return (
            "No window is told: every open task has had its estimate; write what each will still "
            "take, as in estimate: 14h."
        )
    return _thin(sample)


def _no_estimates(ledger: Ledger, estimates: Estimates) -> str:
    if not ledger.worklist.written:
        return "No window is told: without a work list nobody knows what is left."
    lacking, still = len(estimates.without), len(estimates.open)
    if lacking * MOST_WITHOUT <= still:
        return ""
    first = ", ".join(task.id for task in estimates.without[:NAMED])
    more = " …" if lacking > NAMED else ""
    have = "has" if lacking == 1 else "have"
    return (
        f"No window is told: {lacking} of {counted(still, 'open task')} {have} no estimate "
        f"({first}{more}); write one in worklist.yaml, as in estimate: 14h."
    )


def _thin(sample: Sequence[int]) -> str:
    """A record of too few weeks, or of too few with work on the work list's tasks."""
    if len(sample) < LEAST_WEEKS:
        return (
            f"No window is told: the record has {counted(len(sample), 'whole week')} outside "
            f"holidays; a window wants {LEAST_WEEKS}."
        )
    worked = sum(seconds > 0 for seconds in sample)
    if worked < LEAST_WORKED:
        return (
            f"No window is told: {worked or 'none'} of {len(sample)} weeks "
            f"{'has' if worked == 1 else 'have'} time on tasks of the work list; "
            f"a window wants {LEAST_WORKED}."
        )
    return ""


def assumptions(estimates: Estimates, weeks: int, helped: str) -> str:
    """What the window takes for granted, in one line; `helped` says whose hours are counted."""
    nothing = [
        f"{counted(len(tasks), 'open task')} {told}"
        for tasks, told in (
            (estimates.without, "without an estimate"),
            (estimates.passed, "past the estimate"),
        )
        if tasks
    ]
    left = f", nothing is left of {' and '.join(nothing)}" if nothing else ""
    return (
        f"Assumed: weeks to come are as the {weeks} drawn from (holidays left out, holes not); "
        f"what is left takes what the work list estimates{left}; {helped}; the 10th to the 90th "
        "percentile of 1,000 resamples."
    )
