"""The count of a claim as rows of words: columns of the form, areas, tasks, the whole."""

from __future__ import annotations

from collections.abc import Iterator

from builderlog.deciding.claim_words import form_heading, percent_text, units_text
from builderlog.deciding.counting import Columns, Count
from builderlog.deciding.portion import Portion
from builderlog.deciding.task_columns import columns_of, marks_of
from builderlog.deciding.words import duration_clock, first_upper
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Area, Task
from builderlog.sheets.chapter import Cell, Column, anchor
from builderlog.sheets.places import titled

IN_ALL = "In all"
NOT_HERE = "N/A"


def count_headings(rulebook: Rulebook) -> tuple[str, ...]:
    """Over the columns of a count: the form's own words where the rulebook is that form's."""
    return tuple(first_upper(form_heading(side, rulebook)) for side in Side)


def count_columns(rulebook: Rulebook) -> tuple[Column, ...]:
    """A column for each side."""
    return tuple(Column(words, number=True) for words in count_headings(rulebook))


def count_cells(columns: Columns, measure: Measure) -> tuple[Cell, ...]:
    """A cell for each side, in the words of `claim --json`; hours as hours and minutes."""
    return tuple(Cell(side_text(columns, side, measure)) for side in Side)


def side_text(columns: Columns, side: Side, measure: Measure) -> str:
    """What one side has."""
    units = columns.of((side,))
    return duration_clock(units) if measure is Measure.HOURS else units_text(units, measure)


def part_cells(part: Count, rulebook: Rulebook) -> tuple[Cell, ...]:
    """Tasks that apply, a cell for each side, and the share."""
    share = percent_text(part.share, rulebook.limit)
    return Cell(str(part.tasks)), *count_cells(part.columns, rulebook.measure), Cell(share)


def task_rows(area: Area, counted: Portion) -> Iterator[tuple[Cell, ...]]:
    """The tasks as the form lists them, then their sums; a task that does not apply is N/A.

    None where hours are counted, since a task has no maker's hours.
    """
    measure = counted.rulebook.measure
    if measure is Measure.HOURS:
        return
    for task in area.tasks:
        yield _title(task, measure), *_cells(task, measure)
    part = next((each.count for each in counted.areas if each.area.id == area.id), None)
    yield Cell(IN_ALL), *count_cells(part.columns if part else Columns(), measure)


def _title(task: Task, measure: Measure) -> Cell:
    derived = measure is Measure.MARKS and task.applies and marks_of(task).derived
    remark = " (marks derived from the credit)" if derived else ""
    return Cell(f"{titled(task.id, task.name)}{remark}", to=anchor(task.id))


def _cells(task: Task, measure: Measure) -> tuple[Cell, ...]:
    if not task.applies:
        return tuple(Cell(NOT_HERE) for _ in Side)
    return count_cells(columns_of(task, measure), measure)


def claimed_words(task: Task, rulebook: Rulebook) -> str:
    """What is claimed of one task, the sides that have none left out: "maker 0.3, fabrication 0.5".

    Empty where hours are counted, which nobody claims by task.
    """
    if rulebook.measure is Measure.HOURS:
        return ""
    columns = columns_of(task, rulebook.measure)
    told = (
        f"{form_heading(side, rulebook)} {side_text(columns, side, rulebook.measure)}"
        for side in Side
        if columns.of((side,))
    )
    return "; ".join(told)
