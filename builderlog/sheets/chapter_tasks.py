"""The areas, one chapter each: who did what at a glance, the count, an evidence sheet a task."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from builderlog.deciding import sums
from builderlog.deciding.claim_words import percent_text
from builderlog.deciding.task_record import TaskRecord
from builderlog.deciding.words import counted, duration
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.settings import Area, Role, Task
from builderlog.sheets.chapter import (
    Block,
    Cell,
    Chapter,
    Column,
    Paragraph,
    Rows,
    Section,
    anchor,
)
from builderlog.sheets.evidence_count import count_columns, task_rows
from builderlog.sheets.evidence_gaps import told_of
from builderlog.sheets.evidence_people import people_of
from builderlog.sheets.evidence_sheet import Desk, evidence_sheet, standing
from builderlog.sheets.material import Material
from builderlog.sheets.places import (
    ALL_TASKS,
    ALL_TASKS_CHAPTER,
    area_chapters,
    area_title,
    titled,
)
from builderlog.sheets.record_evidence import is_begun

GLANCE = (
    Column("Task", share=5),
    Column("Standing"),
    Column("Who worked on it", share=4),
    Column("When", share=3),
    Column("Who looked at it", share=4),
)
NOBODY = "nobody on record"


@dataclass(frozen=True, slots=True)
class _Tasks:
    """The tasks of one chapter: those with a sheet, those to come, those not on the aircraft."""

    begun: tuple[TaskRecord, ...]
    to_come: tuple[TaskRecord, ...]
    left_out: tuple[Task, ...] = ()


def task_chapters(material: Material) -> Iterator[Chapter]:
    """A chapter for each area of the work list; one for all tasks where there is no list."""
    ledger, records = material.ledger, material.found.records
    desk = Desk(material, people_of(ledger), told_of(material.found))
    if not ledger.worklist.written:
        tasks = _sorted_out(records)
        blocks = (*_overview(tasks, desk), *_sheets(tasks, desk, ALL_TASKS_CHAPTER))
        said = Paragraph("The journal has no work list: these are the tasks that its notes name.")
        yield Chapter(ALL_TASKS_CHAPTER, ALL_TASKS, (said, *blocks))
        return
    by_id, chapters = {record.id: record for record in records}, area_chapters(ledger)
    for area in ledger.worklist.areas:
        yield _area(area, by_id, desk, chapters[area.id])


def _area(area: Area, by_id: Mapping[str, TaskRecord], desk: Desk, chapter: str) -> Chapter:
    here = [by_id[task.id] for task in area.tasks if task.id in by_id]
    tasks = _sorted_out(here, [task for task in area.tasks if not task.applies])
    missing = (each for each in desk.told.by_area.get(area.id, ()) if each.task is None)
    blocks: tuple[Block, ...] = (
        Paragraph(_summary(area, here, desk), kind="lead"),
        *(each.paragraph for each in missing),
        *_overview(tasks, desk),
        *_count(area, desk, chapter),
        *_sheets(tasks, desk, chapter),
    )
    return Chapter(chapter, area_title(area), blocks)


def _sorted_out(records: Iterable[TaskRecord], left_out: Iterable[Task] = ()) -> _Tasks:
    held = tuple(records)
    begun = tuple(record for record in held if is_begun(record))
    return _Tasks(begun, tuple(each for each in held if not is_begun(each)), tuple(left_out))


def _summary(area: Area, records: Sequence[TaskRecord], desk: Desk) -> str:
    """How far the area is, by whose time, and what share of it is claimed."""
    done = sum(record.done for record in records)
    rows = [row for record in records for row in record.work]
    told = [f"{counted(len(records), 'task')} on this aircraft, {done or 'none'} done"]
    time = [
        f"{duration(sums.seconds_of(row for row in rows if row.role is role))} of {words}"
        for role, words in _WHOSE.items()
        if any(row.seconds for row in rows if row.role is role)
    ]
    told.append(f"build time on record: {', '.join(time) or 'none'}")
    counts = desk.material.found.portion
    part = next((c for c in counts.areas if c.area.id == area.id), None) if counts else None
    if counts and part and part.count.share is not None:
        told.append(f"share claimed: {percent_text(part.count.share, counts.rulebook.limit)}")
    return f"{'; '.join(told)}."


_WHOSE = {Role.BUILDER: "the builders", Role.HELPER: "unpaid helpers", Role.PAID: "paid help"}


def _overview(tasks: _Tasks, desk: Desk) -> Iterator[Block]:
    if tasks.begun:
        rows = tuple(_glance(record, desk) for record in tasks.begun)
        yield Rows("The tasks of this chapter that were begun, at a glance", GLANCE, rows)
    elif not tasks.to_come:
        yield Paragraph("No task of the record belongs here.")


def _glance(record: TaskRecord, desk: Desk) -> tuple[Cell, ...]:
    """One task with the answer to who did it, when, and who saw it."""
    people, looks = desk.people, desk.people.looks(record)
    away = [f"{each.what} away" for each in record.away]
    who = "; ".join(words for words in (people.worked(record.people), *away) if words)
    saw = "; ".join(look.words for look in looks)
    return (
        Cell(titled(record.id, record.name), to=anchor(record.id)),
        Cell(standing(record)),
        Cell(who) if who else Cell(NOBODY, weak=True),
        Cell(span_words(record)),
        Cell(saw) if saw else Cell(NOBODY, weak=True),
    )


def span_words(record: TaskRecord) -> str:
    """From the first day with time to the last: "2026-01-13 to 2026-01-21"."""
    days = record.days
    if len(days) < 2:
        return "".join(map(str, days))
    return f"{days[0]} to {days[-1]}"


def _count(area: Area, desk: Desk, chapter: str) -> Iterator[Section]:
    counted_by = desk.material.found.portion
    if counted_by is None or counted_by.rulebook.measure is Measure.HOURS:
        return
    rows = tuple(task_rows(area, counted_by))
    columns = (Column("Task", share=6), *count_columns(counted_by.rulebook))
    table = Rows(f"The count of area {area.id}, task by task", columns, rows, sums=1)
    yield Section(f"{chapter}-count", "The count of these tasks", (table,))


def _sheets(tasks: _Tasks, desk: Desk, chapter: str) -> Iterator[Section]:
    yield from (evidence_sheet(record, desk) for record in tasks.begun)
    if tasks.to_come:
        lines = tuple(_line(record, desk) for record in tasks.to_come)
        yield Section(f"{chapter}-to-come", "Not begun", lines)
    if tasks.left_out:
        parts = tuple(
            Section(anchor(task.id), titled(task.id, task.name), (), "N/A")
            for task in tasks.left_out
        )
        yield Section(f"{chapter}-left-out", "Not on this aircraft", parts)


def _line(record: TaskRecord, desk: Desk) -> Section:
    """A task of which nothing is on record yet: a line with its kind of work and its estimate."""
    task = record.task
    told = [task.work.value] if task and task.work else []
    told += [f"estimate {duration(task.estimate.seconds)}"] if task and task.estimate else []
    missing = desk.told.by_task.get(record.id, ())
    return Section(
        anchor(record.id),
        titled(record.id, record.name),
        tuple(each.paragraph for each in missing),
        ", ".join(told),
    )
