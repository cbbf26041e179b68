"""Why there is no window, sentence by sentence, and what one assumes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.deciding.pace import pace
from builderlog.knowing.settings import Task, Worklist
from tests.deciding.pace_journals import estimated, journal, week_by_week

FULL = (5,) * 12
MANY = tuple(estimated(f"W{number}", 20) for number in range(1, 11))
OVER = estimated("W1", 60)


@pytest.mark.parametrize(
    ("hours", "tasks", "why"),
    [
        (FULL, (estimated("W1", 90, done=True),), "no task of the work list is open."),
        (FULL, (OVER,), "every open task has had its estimate; write what each will still take"),
        (FULL, (estimated("W1", None), OVER), "1 of 2 open tasks has no estimate (W1); write one"),
        (
            FULL,
            (*MANY, *(estimated(f"X{number}", None) for number in range(4))),
            "4 of 14 open tasks have no estimate (X0, X1, X2 …); write one in worklist.yaml",
        ),
        ((5,) * 9, MANY, "the record has 9 whole weeks outside holidays; a window wants 10."),
        ((5, 5, *(0,) * 7, 5), MANY, "3 of 10 weeks have time on tasks of the work list"),
    ],
)
def test_a_thin_record_gets_no_window(
    hours: tuple[int, ...], tasks: tuple[Task, ...], why: str
) -> None:
    """Each lack is told with its number, what a window wants, and what to write."""
    found = pace(journal(week_by_week(hours), *tasks))
    assert found.window is None
    assert why in found.why_no_window
    assert found.why_no_window.startswith("No window is told: ")


def test_no_work_list_no_window() -> None:
    """Where task ids are free text nobody knows what is left."""
    book = replace(journal(week_by_week(FULL)), worklist=Worklist())
    assert "without a work list" in pace(book).why_no_window


def test_one_task_in_ten_may_lack_an_estimate_and_is_named_as_assumed() -> None:
    """The line of assumptions counts the tasks of which nothing is said to be left."""
    found = pace(journal(week_by_week(FULL), *MANY[1:], OVER, estimated("W0", None)))
    assert found.why_no_window == ""
    assert found.assumptions == (
        "Assumed: weeks to come are as the 12 drawn from (holidays left out, holes not); what is "
        "left takes what the work list estimates, nothing is left of 1 open task without an "
        "estimate and 1 open task past the estimate; paid help does none of it; the 10th to the "
        "90th percentile of 1,000 resamples."
    )
    assert "\n" not in found.assumptions
