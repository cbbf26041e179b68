"""What the estimates leave to do, and how those of done tasks held."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.pace_estimates import Held, estimates_of
from builderlog.knowing.units import HOUR
from tests.deciding.pace_journals import estimated
from tests.making import worked, worklist

TASKS = (
    estimated("W1", 10),
    estimated("W2", 10),
    estimated("W3", None),
    estimated("W4", 20, done=True),
    replace(estimated("W5", 99), applies=False),
    estimated("W6", 5, done=True),
)
WORK = (
    worked("2026-03-02", 4 * HOUR, "W1"),
    worked("2026-03-03", 11 * HOUR, "W2"),
    worked("2026-03-04", 25 * HOUR, "W4"),
    worked("2026-03-04", 2 * HOUR, "W6"),
    worked("2026-03-05", HOUR),
)


def test_what_is_left_is_summed_over_open_tasks_that_apply() -> None:
    """What a task took beyond its estimate does not shorten another; no estimate is no hour."""
    found = estimates_of(worklist(*TASKS), WORK, frozenset())
    assert found.remaining == 6 * HOUR
    assert [task.id for task in found.open] == ["W1", "W2", "W3"]
    assert [task.id for task in found.without] == ["W3"]
    assert [task.id for task in found.passed] == ["W2"]


def test_how_estimates_held_leaves_out_tasks_with_paid_help() -> None:
    """Of done tasks their own time stands against their estimates, where nobody was paid."""
    assert estimates_of(worklist(*TASKS), WORK, frozenset()).held == Held(2, 27 * HOUR, 25 * HOUR)
    assert estimates_of(worklist(*TASKS), WORK, frozenset({"W4"})).held == Held(
        1, 2 * HOUR, 5 * HOUR
    )


def test_without_estimates_nothing_is_known() -> None:
    """Where no open task has an estimate, what remains is None and not nought."""
    found = estimates_of(worklist(estimated("W3", None)), (), frozenset())
    assert (found.remaining, found.held) == (None, None)
