"""Sheets of time: hours row by row, totals, months, areas by month, tasks, people, notes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.costs import shown
from builderlog.deciding.months import MonthRollup, months, task_spans
from builderlog.deciding.totals import Tally, TaskTally, tally
from builderlog.deciding.weeks import week_of
from builderlog.deciding.words import duration_clock
from builderlog.knowing.entries import Note, Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.settings import Credit, Person, Role, Task
from builderlog.sheets.table import (
    Column,
    Row,
    Sheet,
    decimal_hours,
    number,
    sheet,
    text,
)


def time_columns(seconds: Callable[[Row], int]) -> tuple[Column[Row], ...]:
    """One length of time three ways: exact, in decimal hours, in hours and minutes."""
    return (
        number("seconds", "whole seconds; exact, the other two are rounded", seconds),
        number(
            "hours", "the same in hours, four decimals", lambda row: decimal_hours(seconds(row))
        ),
        text("h:mm", "the same in hours and minutes", lambda row: duration_clock(seconds(row))),
    )


def hours(ledger: Ledger) -> Sheet:
    """Everything that the totals are summed from."""
    areas = ledger.worklist
    columns: tuple[Column[Worked], ...] = (
        text("date", "day of the work", lambda row: row.day),
        text("week", "its week by ISO 8601", lambda row: week_of(row.day)),
        text("person", "who worked", lambda row: row.person),
        text("role", "builder, helper (unpaid) or paid", lambda row: row.role),
        text("task", "the task; empty: given to no task", lambda row: row.task),
        text("area", "the task's area", lambda row: sums.area_of(row.task, areas)),
        text("kind", "fabrication, assembly or other", lambda row: row.work),
        *time_columns(lambda row: row.seconds),
        text("note", "the note that says so", lambda row: row.note),
    )
    title = "Every stretch of work: one row for a person's time on a task in a note."
    return sheet("hours", title, columns, ledger.work)


@dataclass(frozen=True, slots=True)
class _Total:
    """A sum of seconds: what it is a sum by, and over whom or what."""

    by: str
    of: str
    seconds: int


def totals(ledger: Ledger) -> Sheet:
    """The sums of `hours`, so that a reader need not add them up."""
    columns: tuple[Column[_Total], ...] = (
        text("by", "what is summed: all, role, person, kind, area, task, untasked", lambda r: r.by),
        text("of", "which one of them", lambda row: row.of),
        *time_columns(lambda row: row.seconds),
    )
    return sheet("totals", "Sums of hours.csv.", columns, _totals(tally(ledger)))


def _totals(found: Tally) -> Iterator[_Total]:
    yield _Total("all", "", found.seconds)
    tasks = {task: row.seconds for task, row in found.by_task.items()}
    named: tuple[tuple[str, Mapping[str, int]], ...] = (
        ("role", found.by_role),
        ("person", found.by_person),
        ("kind", found.by_kind),
        ("area", found.by_area),
        ("task", tasks),
    )
    for by, seconds in named:
        yield from (_Total(by, of, seconds[of]) for of in seconds)
    yield _Total("untasked", "", found.untasked)


def month_table(ledger: Ledger) -> Sheet:
    """The monthly rollup."""
    columns: tuple[Column[MonthRollup], ...] = (
        text("month", "calendar month", lambda row: row.month),
        *time_columns(lambda row: row.seconds),
        *(_seconds_column(role.value, lambda row: row.by_role) for role in Role),
        *(_seconds_column(kind.value, lambda row: row.by_kind) for kind in Work),
        number("untasked_seconds", "seconds given to no task", lambda row: row.untasked),
        number("notes", "notes dated in the month", lambda row: row.notes),
        number("days", "days with time on them", lambda row: row.days),
        number("longest_gap_days", _GAP, lambda row: row.longest_gap_days),
        number("photos", "distinct pictures named in its notes", lambda row: row.photos),
        text("spent", "by currency, rounded to its smallest unit", _spent),
        text("tasks_begun", "tasks with their first time here", lambda row: row.tasks_begun),
        text("tasks_finished", "done tasks with their last time here", lambda r: r.tasks_finished),
        number("running_seconds", "all seconds up to the month's end", lambda r: r.running_seconds),
    )
    title = "Every calendar month from the first note to the last, those without a note too."
    return sheet("months", title, columns, months(ledger))


_GAP = "longest run of days without time up to the month's end, counted from the last day with time"


def _seconds_column(
    name: str, sums_of: Callable[[MonthRollup], Mapping[str, int]]
) -> Column[MonthRollup]:
    return number(f"{name}_seconds", f"{name}, whole seconds", lambda row: sums_of(row)[name])


def _spent(month: MonthRollup) -> str:
    return "; ".join(f"{amount} {code}" for code, amount in shown(month.spent).items())


def areas_by_month(ledger: Ledger) -> Sheet:
    """Which part of the aircraft each month's time went into."""
    names = {area.id: area.name for area in ledger.worklist.areas}
    columns: tuple[Column[_Total], ...] = (
        text("month", "calendar month", lambda row: row.by),
        text("area", "area id; empty: time that belongs to no area", lambda row: row.of),
        text("name", "the area's name", lambda row: names.get(row.of)),
        *time_columns(lambda row: row.seconds),
    )
    rows = [
        _Total(month.month, area, seconds)
        for month in months(ledger)
        for area, seconds in month.by_area.items()
    ]
    return sheet("areas_by_month", "Time by month and area.", columns, rows)


@dataclass(frozen=True, slots=True)
class _TaskRow:
    """A task with what the work list says of it and what the notes came to."""

    id: str
    told: TaskTally
    listed: Task | None
    span: tuple[date, date] | None


def tasks(ledger: Ledger) -> Sheet:
    """The work list with its credit, and the tasks that only notes name at the end."""
    columns: tuple[Column[_TaskRow], ...] = (
        text("task", "task id", lambda row: row.id),
        *_listed_columns(),
        *_credit_columns(),
        *time_columns(lambda row: row.told.seconds),
        *(_kind_column(kind) for kind in Work),
        number("notes", "notes that name it", lambda row: row.told.notes),
        number("photos", "distinct pictures that show it", lambda row: row.told.photos),
        text("first", "first day with time on it", lambda row: row.span[0] if row.span else None),
        text("last", "last day with time on it", lambda row: row.span[1] if row.span else None),
    )
    return sheet("tasks", "Every task, with credit and time.", columns, _task_rows(ledger))


def _listed_columns() -> tuple[Column[_TaskRow], ...]:
    """What the work list says; all empty for a task that it lacks."""
    return (
        text(
            "name", "its name in the work list", lambda row: row.listed.name if row.listed else None
        ),
        text("area", "its area", lambda row: row.listed.area if row.listed else None),
        text("kind", "its own kind of work", lambda row: row.listed.work if row.listed else None),
        text(
            "applies",
            "no: not part of this aircraft",
            lambda r: r.listed.applies if r.listed else None,
        ),
        text("state", "open or done", lambda row: _state(row.listed)),
        number("estimate_seconds", "all amateurs together", lambda row: _estimate(row.listed)),
    )


def _state(task: Task | None) -> str | None:
    if task is None:
        return None
    return "done" if task.done else "open"


def _estimate(task: Task | None) -> int | None:
    return task.estimate.seconds if task and task.estimate else None


def _credit_columns() -> tuple[Column[_TaskRow], ...]:
    """The task's one point as the form writes it, and marks where the work list gives them."""
    return (
        number("credit_maker", "of 1 point, by the maker", _credit(lambda c: c.maker)),
        number("credit_paid", "of 1 point, by paid help", _credit(lambda c: c.paid)),
        number("credit_assembly", "of 1 point, assembly", _credit(lambda c: c.assembly)),
        number("credit_fabrication", "of 1 point, fabrication", _credit(lambda c: c.fabrication)),
        number("credit_unclaimed", "what is missing to 1 point", _credit(_unclaimed)),
        number("marks_maker", "as the work list gives it", lambda row: _mark(row.listed, 0)),
        number("marks_builder", "as the work list gives it", lambda row: _mark(row.listed, 1)),
    )


def _credit(side: Callable[[Credit], int]) -> Callable[[_TaskRow], str | None]:
    """Tenths as decimal text, "0.3"; nothing where the work list gives no credit."""

    def cell(row: _TaskRow) -> str | None:
        credit = row.listed.credit if row.listed else None
        return f"{side(credit) // 10}.{side(credit) % 10}" if credit else None

    return cell


def _unclaimed(credit: Credit) -> int:
    """Never below nothing: more than a point is a mistake that `check` tells."""
    return max(0, 10 - credit.maker - credit.paid - credit.assembly - credit.fabrication)


def _mark(task: Task | None, side: int) -> int | None:
    return task.marks[side] if task and task.marks else None


def _kind_column(kind: Work) -> Column[_TaskRow]:
    meaning = f"{kind.value}, whole seconds"
    return number(f"{kind.value}_seconds", meaning, lambda row: row.told.by_kind[kind.value])


def _task_rows(ledger: Ledger) -> Iterator[_TaskRow]:
    found, spans = tally(ledger).by_task, task_spans(ledger.work)
    nothing = TaskTally(0, sums.by_kind(()), 0, 0)
    for task in sums.in_task_order({*ledger.worklist.by_id, *found}, ledger.worklist):
        told = found.get(task, nothing)
        yield _TaskRow(task, told, ledger.worklist.by_id.get(task), spans.get(task))


def people(ledger: Ledger) -> Sheet:
    """Everyone who is declared, and in what capacity."""
    time = tally(ledger).by_person
    columns: tuple[Column[Person], ...] = (
        text("name", "the name that notes use", lambda row: row.name),
        text("full_name", "the full name", lambda row: row.full_name),
        text("role", "builder, helper (unpaid) or paid", lambda row: row.role),
        text("from", "first day in this role", lambda row: row.since),
        text("until", "last day in this role", lambda row: row.until),
        *time_columns(lambda row: time.get(row.name, 0)),
    )
    return sheet(
        "people", "Everyone who works, with role and time.", columns, ledger.settings.people
    )


def notes(ledger: Ledger) -> Sheet:
    """How soon each note was written after the work, and how much time is on it."""
    seconds = sums.seconds_by(ledger.work, lambda row: row.note)
    columns: tuple[Column[Note], ...] = (
        text("date", "day of the work", lambda row: row.day),
        text("written", "day of writing, where it was another", lambda row: row.written),
        text("title", "its title", lambda row: row.title),
        text("private", "no, yes (not for friends) or hours only", lambda row: row.privacy),
        text("place", "where, if not at the usual place", lambda row: row.where),
        *time_columns(lambda row: seconds.get(row.path, 0)),
        text("note", "the file", lambda row: row.path),
    )
    return sheet("notes", "Every note.", columns, ledger.notes)
