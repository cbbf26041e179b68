"""The work list's estimates against the record: what is left, what has no estimate, what held."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builderlog.knowing.ledger import Worked
from builderlog.knowing.settings import Role, Task, Worklist

AMATEURS = (Role.BUILDER, Role.HELPER)  # whose hours an estimate means


@dataclass(frozen=True, slots=True)
class Held:
    """How the estimates of done tasks held, as far as builders and helpers alone did them."""

    tasks: int
    seconds: int  # that they took
    estimated: int


@dataclass(frozen=True, slots=True)
class Estimates:
    """The work list against the record; seconds are whole."""

    open: tuple[Task, ...] = ()  # that apply
    without: tuple[Task, ...] = ()  # of them, those that have no estimate
    passed: tuple[Task, ...] = ()  # of them, those that have had it: nothing is left of them
    remaining: int | None = None  # what is left of the others; None where none has an estimate
    held: Held | None = None


def estimates_of(worklist: Worklist, work: Iterable[Worked], paid: frozenset[str]) -> Estimates:
    """What the work list leaves to do after this work; `paid`: tasks on which paid help worked."""
    spent: dict[str, int] = {}
    for row in work:
        if row.task is not None:
            spent[row.task] = spent.get(row.task, 0) + row.seconds
    tasks = [task for area in worklist.areas for task in area.tasks if task.applies]
    still = tuple(task for task in tasks if not task.done)
    left = {task: task.estimate.seconds - spent.get(task.id, 0) for task in still if task.estimate}
    done = [task for task in tasks if task.done and task.id not in paid and spent.get(task.id)]
    return Estimates(
        open=still,
        without=tuple(task for task in still if not task.estimate),
        passed=tuple(task for task, seconds in left.items() if seconds <= 0),
        remaining=sum(max(0, seconds) for seconds in left.values()) if left else None,
        held=_held(done, spent),
    )


def _held(done: Iterable[Task], spent: Mapping[str, int]) -> Held | None:
    estimated = {task.id: task.estimate.seconds for task in done if task.estimate}
    if not estimated:
        return None
    took = sum(spent[task] for task in estimated)
    return Held(len(estimated), took, sum(estimated.values()))
