"""The major portion of a journal: counted by its rulebook, by area and in all, and beside it.

Beside the claim stand what the record already carries, what the done tasks come to, and what
the whole comes to if all goes as planned. We reckon; only the authority or its designee decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import add

from builderlog.deciding.counting import Columns, Count, count
from builderlog.deciding.task_columns import columns_of, kind_of, marks_of
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import Area, Role, Task


@dataclass(frozen=True, slots=True)
class AreaCount:
    """An area by itself; `open_builder` is what the builder claims in its open tasks."""

    area: Area
    count: Count
    open_builder: int


@dataclass(frozen=True, slots=True)
class Portion:
    """The whole count; all numbers in the measure's smallest unit (tenths, marks, seconds)."""

    rulebook: Rulebook
    whole: Count
    areas: tuple[AreaCount, ...]  # those with a task that applies, in the work list's order
    recorded: int  # of the builder's columns, what belongs to tasks with amateurs' work on record
    done: Count  # the done tasks alone
    planned: Count  # open tasks as planned, done ones only as far as work is on record
    open_builder: Mapping[str, int]  # by open task: what the builder claims of it, or has left
    open_headroom: int  # of the headroom, what lies in tasks still open
    derived: tuple[str, ...]  # tasks whose marks follow from their credit
    after_certificate: int  # seconds that are no build time any more


def build_work(ledger: Ledger) -> tuple[Worked, ...]:
    """The work up to the day of the certificate: what comes later is no build time."""
    end = ledger.settings.certificated
    return tuple(row for row in ledger.work if end is None or row.day <= end.day)


def portion(ledger: Ledger, rulebook: Rulebook) -> Portion:
    """The claim of a journal as this rulebook counts it."""
    work = build_work(ledger)
    reckon = _Hours(ledger, rulebook, work) if rulebook.measure is Measure.HOURS else None
    counter = reckon or _Tasks(ledger, rulebook, work)
    open_builder = {task.id: counter.left(task) for task in counter.tasks if not task.done}
    whole = counter.count(counter.tasks)
    return Portion(
        rulebook=rulebook,
        whole=whole,
        areas=tuple(
            _area(counter, area, open_builder) for area in ledger.worklist.areas if _applies(area)
        ),
        recorded=counter.recorded(),
        done=counter.part([task for task in counter.tasks if task.done]),
        planned=counter.planned(),
        open_builder=open_builder,
        open_headroom=min(whole.headroom, sum(open_builder.values())),
        derived=_derived(counter.tasks, rulebook),
        after_certificate=sum(row.seconds for row in ledger.work)
        - sum(row.seconds for row in work),
    )


def _applies(area: Area) -> bool:
    return any(task.applies for task in area.tasks)


def _area(counter: _Tasks | _Hours, area: Area, open_builder: Mapping[str, int]) -> AreaCount:
    tasks = [task for task in area.tasks if task.applies]
    still = sum(open_builder.get(task.id, 0) for task in tasks)
    return AreaCount(area, counter.part(tasks), still)


def _derived(tasks: Iterable[Task], rulebook: Rulebook) -> tuple[str, ...]:
    if rulebook.measure is not Measure.MARKS:
        return ()
    return tuple(task.id for task in tasks if marks_of(task).derived)


def amateur_seconds(work: Iterable[Worked], rulebook: Rulebook) -> dict[str, int]:
    """Seconds of the amateurs by task; time given to no task is left out."""
    sums: dict[str, int] = {}
    for row in work:
        if row.task is not None and row.role in rulebook.amateurs:
            sums[row.task] = sums.get(row.task, 0) + row.seconds
    return sums


class _Tasks:
    """Counts points or marks: everything stands in the work list."""

    def __init__(self, ledger: Ledger, rulebook: Rulebook, work: Iterable[Worked]) -> None:
        self.rulebook = rulebook
        self.tasks = [task for area in ledger.worklist.areas for task in area.tasks if task.applies]
        self._worked = amateur_seconds(work, rulebook)
        self._columns = {task.id: columns_of(task, rulebook.measure) for task in self.tasks}

    def count(self, tasks: list[Task]) -> Count:
        columns = reduce(add, (self._columns[task.id] for task in tasks), Columns())
        return count(columns, len(tasks), self.rulebook)

    part = count

    def left(self, task: Task) -> int:
        """What the builder claims of an open task."""
        return self._columns[task.id].of(self.rulebook.builder)

    def recorded(self) -> int:
        held = (self._columns[task.id] for task in self.tasks if self._worked.get(task.id))
        return sum(columns.of(self.rulebook.builder) for columns in held)

    def planned(self) -> Count:
        """A done task on which no amateur's work is on record claims nothing here."""
        columns = Columns()
        for task in self.tasks:
            own = self._columns[task.id]
            if task.done and not self._worked.get(task.id):
                lost = own.assembly + own.fabrication
                own = Columns(own.maker, own.paid, 0, 0, own.unclaimed + lost)
            columns += own
        return count(columns, len(self.tasks), self.rulebook)


class _Hours:
    """Counts hours: the amateurs' from the record, the maker's as declared for the kit."""

    def __init__(self, ledger: Ledger, rulebook: Rulebook, work: tuple[Worked, ...]) -> None:
        self.rulebook = rulebook
        self.tasks = [task for area in ledger.worklist.areas for task in area.tasks if task.applies]
        self._kit = ledger.settings.kit_hours
        self._maker = self._kit.seconds if self._kit else 0
        self._by_task: dict[str | None, Columns] = {}
        out = {task.id for area in ledger.worklist.areas for task in area.tasks if not task.applies}
        for row in work:
            own = Columns(unclaimed=row.seconds) if row.task in out else self._columns_of(row)
            self._by_task[row.task] = self._by_task.get(row.task, Columns()) + own

    def _columns_of(self, row: Worked) -> Columns:
        """Planning, inventory, doing again and time given to no task are shown, never claimed."""
        if row.role is Role.PAID:
            return Columns(paid=row.seconds)
        if row.role not in self.rulebook.amateurs or row.work is Work.OTHER:
            return Columns(unclaimed=row.seconds)
        if row.work is Work.FABRICATION:
            return Columns(fabrication=row.seconds)
        return Columns(assembly=row.seconds)

    def _whole(self) -> Columns:
        return reduce(add, self._by_task.values(), Columns(maker=self._maker))

    def _held_against_limit(self, columns: Columns) -> Count:
        """Without the maker's declared hours no share can be told."""
        if self._kit is None:
            return Count(len(self.tasks), columns)
        return count(columns, len(self.tasks), self.rulebook)

    def count(self, _tasks: list[Task]) -> Count:
        return self._held_against_limit(self._whole())

    def part(self, tasks: list[Task]) -> Count:
        """Some tasks' hours; the maker's are declared for the whole kit, so there is no share."""
        held = (self._by_task.get(task.id, Columns()) for task in tasks)
        return Count(len(tasks), reduce(add, held, Columns()))

    def left(self, task: Task) -> int:
        """What is still to be done of an open task by its estimate."""
        if task.done or not task.estimate:
            return 0
        own = self._by_task.get(task.id, Columns())
        return max(0, task.estimate.seconds - own.assembly - own.fabrication)

    def recorded(self) -> int:
        return self._whole().of(self.rulebook.builder)

    def planned(self) -> Count:
        columns = self._whole()
        for task in self.tasks:
            left = self.left(task)
            fabricates = kind_of(task) is Work.FABRICATION
            columns += Columns(fabrication=left) if fabricates else Columns(assembly=left)
        return self._held_against_limit(columns)
