"""One task's columns: its point in tenths, or its marks, as its rulebook counts."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding.counting import Columns
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.settings import Credit, Task


@dataclass(frozen=True, slots=True)
class Marks:
    """A row's marks; `derived` where they follow from the credit and nobody gave them."""

    maker: int
    builder: int
    derived: bool


def marks_of(task: Task) -> Marks:
    """The marks as given, else one for each side that has any credit; paid help marks nowhere."""
    if task.marks is not None:
        return Marks(*task.marks, derived=False)
    credit = task.credit or Credit()
    return Marks(int(credit.maker > 0), int(credit.builder > 0), derived=task.credit is not None)


def columns_of(task: Task, measure: Measure) -> Columns:
    """What a task that applies brings into the count of points or marks; nothing where not."""
    if not task.applies or measure is Measure.HOURS:
        return Columns()
    return _points(task) if measure is Measure.POINTS else _marks(task)


def _points(task: Task) -> Columns:
    credit = task.credit or Credit()
    return Columns(credit.maker, credit.paid, credit.assembly, credit.fabrication, credit.unclaimed)


def _marks(task: Task) -> Columns:
    """A builder's mark stands in the column of the task's kind, since a form's row has one kind.

    A row without any mark is one mark unclaimed; one on which paid help has credit is one of
    paid help, and counts on no side.
    """
    marks = marks_of(task)
    paid = int(task.credit is not None and task.credit.paid > 0)
    fabricates = kind_of(task) is Work.FABRICATION
    return Columns(
        maker=marks.maker,
        paid=paid,
        assembly=0 if fabricates else marks.builder,
        fabrication=marks.builder if fabricates else 0,
        unclaimed=int(not (marks.maker or marks.builder or paid)),
    )


def kind_of(task: Task) -> Work:
    """The task's own kind; where none is given, the one of which more credit is claimed."""
    if task.work:
        return task.work
    credit = task.credit or Credit()
    return Work.FABRICATION if credit.fabrication > credit.assembly else Work.ASSEMBLY
