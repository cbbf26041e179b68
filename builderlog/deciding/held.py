"""The claim and the record side by side: what the checks of both need, found once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builderlog.deciding.coverage import coverage
from builderlog.deciding.stakes import stakes
from builderlog.deciding.task_record import TaskRecord
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.settings import Task
from builderlog.reading.problem import Place


@dataclass(frozen=True, slots=True)
class Held:
    """A ledger with the record and the stake of each task; no tasks without a work list."""

    ledger: Ledger
    tasks: tuple[tuple[Task, TaskRecord], ...]
    stakes: dict[str, int]

    @property
    def counts_hours(self) -> bool:
        """Whether the rulebook counts hours, so that no credit of the work list is claimed."""
        return self.ledger.rulebook is not None and self.ledger.rulebook.measure is Measure.HOURS

    @property
    def counts_marks(self) -> bool:
        """Whether the rulebook counts marks."""
        return self.ledger.rulebook is not None and self.ledger.rulebook.measure is Measure.MARKS

    @property
    def done(self) -> Iterator[tuple[Task, TaskRecord]]:
        """The done tasks."""
        return ((task, record) for task, record in self.tasks if task.done)

    def stake_of(self, tasks: Iterable[str]) -> int:
        """What hangs on these tasks together."""
        return sum(self.stakes.get(task, 0) for task in set(tasks))


def hold(ledger: Ledger) -> Held:
    """One pass over the ledger for all checks."""
    pairs = tuple((record.task, record) for record in coverage(ledger))
    tasks = tuple((task, record) for task, record in pairs if task is not None)
    return Held(ledger, tasks, stakes(ledger))


def place_text(place: Place) -> str:
    """`worklist.yaml:13`, as a message names another place."""
    return f"{place.path}:{place.line}"
