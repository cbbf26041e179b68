"""The sheet of the work list as a form: one row a task, as `claim --import` reads it back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from builderlog.knowing.form_cells import one_line, tenths_text
from builderlog.knowing.hours import length_text
from builderlog.knowing.settings import Area, Credit, Task, Worklist
from builderlog.sheets.table import Column, Sheet, number, sheet, text


@dataclass(frozen=True, slots=True)
class _Row:
    """A task and the area it stands in."""

    area: Area
    task: Task


def form_sheet(worklist: Worklist) -> Sheet:
    """Every task of the work list in its order; a cell is empty where the list gives nothing.

    A credit that is given in part counts as nothing in its other columns, and is written so.
    """
    columns: tuple[Column[_Row], ...] = (
        text("area", "the area's id", lambda row: one_line(row.area.id)),
        text("area_name", "its name, if it has one", lambda row: _name(row.area)),
        text("task", "the task's id", lambda row: one_line(row.task.id)),
        text("name", "its name, if it has one", lambda row: _name(row.task)),
        text("kind", "fabrication or assembly", lambda row: row.task.work),
        text("applies", "no: not part of this aircraft", lambda row: row.task.applies),
        text("state", "open or done", lambda row: "done" if row.task.done else "open"),
        text("estimate", "time of all amateurs together", lambda row: _estimate(row.task)),
        number("maker", "of 1 point, by the maker", _tenths(lambda credit: credit.maker)),
        number("paid", "of 1 point, by paid help", _tenths(lambda credit: credit.paid)),
        number("assembly", "of 1 point, assembly", _tenths(lambda credit: credit.assembly)),
        number("fabrication", "of 1 point, fabrication", _tenths(lambda c: c.fabrication)),
        number("marks_maker", "the maker's marks, where marks count", _mark(0)),
        number("marks_builder", "the builder's marks, where marks count", _mark(1)),
    )
    rows = (_Row(area, task) for area in worklist.areas for task in area.tasks)
    return sheet("form", "The work list, a row a task.", columns, rows)


def _name(thing: Area | Task) -> str | None:
    """The name in one line; nothing where the id stands for it."""
    name = one_line(thing.name)
    return name if name != one_line(thing.id) else None


def _estimate(task: Task) -> str | None:
    return length_text(task.estimate.seconds) if task.estimate else None


def _tenths(side: Callable[[Credit], int]) -> Callable[[_Row], str | None]:
    return lambda row: tenths_text(side(row.task.credit)) if row.task.credit else None


def _mark(side: int) -> Callable[[_Row], int | None]:
    return lambda row: row.task.marks[side] if row.task.marks else None
