"""How much of the claim hangs on each task: by this doubts and gaps are ordered."""

from __future__ import annotations

from builderlog.deciding.portion import amateur_seconds, build_work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.settings import WHOLE_POINT, Task


def stakes(ledger: Ledger) -> dict[str, int]:
    """The stake of every task that applies, in the claim's smallest unit.

    Tenths of a point or of a mark; whole seconds of the amateurs where the rulebook counts hours.
    """
    tasks = [task for area in ledger.worklist.areas for task in area.tasks if task.applies]
    rulebook = ledger.rulebook
    if rulebook is None or rulebook.measure is not Measure.HOURS:
        return {task.id: builder_tenths(task) for task in tasks}
    seconds = amateur_seconds(build_work(ledger), rulebook)
    return {task.id: seconds.get(task.id, 0) for task in tasks}


def builder_tenths(task: Task) -> int:
    """What the builder claims of a task by its credit; ten for each mark where marks alone are."""
    if task.credit is not None and task.credit.builder:
        return task.credit.builder
    return task.marks[1] * WHOLE_POINT if task.marks else 0
