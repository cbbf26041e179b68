"""The sheets of an area's and of a task's page: what it took, its notes and its pictures."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from builderlog.deciding.public import PublicNote, PublicTask
from builderlog.sheets.book import Book, area_row, snag_row, task_state
from builderlog.sheets.chart import area_chart
from builderlog.sheets.rows import (
    AreaRow,
    HoursChart,
    Link,
    NoteRow,
    Photo,
    SnagRow,
    TaskRow,
    Time,
    time_of,
)
from builderlog.sheets.shots import best_photo, each_once


@dataclass(frozen=True, slots=True)
class WorkNoteRow:
    """A note on an area or task: the time it gave to that work, the best picture of it."""

    row: NoteRow
    time: Time | None
    cover: Photo | None


@dataclass(frozen=True, slots=True)
class AreaSheet:
    """One area with its tasks, hours by month, notes and pictures."""

    name: str
    id: str
    row: AreaRow
    tasks: tuple[TaskRow, ...]
    estimate: Time | None  # of the tasks that apply and have one
    chart: HoursChart | None
    notes: tuple[WorkNoteRow, ...]  # in the order of reading
    photos: tuple[Photo, ...]
    more_photos: tuple[Photo, ...]  # of them those that stand beside no note
    snags: tuple[SnagRow, ...]


@dataclass(frozen=True, slots=True)
class TaskSheet:
    """One task with its notes and pictures."""

    name: str
    id: str
    area: Link | None
    kind: str | None
    state: str
    time: Time
    estimate: Time | None
    notes: tuple[WorkNoteRow, ...]  # in the order of reading
    photos: tuple[Photo, ...]
    more_photos: tuple[Photo, ...]
    parts: tuple[str, ...]
    snags: tuple[SnagRow, ...]
    earlier: Link | None  # the task before it in its area
    later: Link | None


def area_sheet(book: Book, area_id: str) -> AreaSheet:
    """The page of one area."""
    area = book.areas[area_id]
    tasks = tuple(book.tasks[name] for name in area.tasks if name in book.tasks)
    ids = frozenset(area.tasks)
    estimates = [task.estimate_seconds or 0 for task in tasks if task.applies]
    notes = _notes_on(book, ids, book.notes_by_area.get(area.id, ()))
    photos = photos_showing(book, ids)
    return AreaSheet(
        name=area.name,
        id=area.id,
        row=area_row(book, area),
        tasks=tuple(_task_row(book, task) for task in tasks),
        estimate=time_of(sum(estimates)) if any(estimates) else None,
        chart=area_chart(book, area.id, f"{area.name}: hours by month"),
        notes=notes,
        photos=photos,
        more_photos=_not_beside(photos, notes),
        snags=tuple(
            snag_row(book, snag)
            for snag in book.public.snags
            if (snag.area is not None and snag.area == area.id) or snag.task in ids
        ),
    )


def task_sheet(book: Book, task_id: str) -> TaskSheet:
    """The page of one task."""
    task = book.tasks[task_id]
    siblings = book.areas[task.area].tasks if task.area in book.areas else (task_id,)
    place = siblings.index(task_id) if task_id in siblings else 0
    earlier, later = siblings[place - 1 : place], siblings[place + 1 : place + 2]
    notes = _notes_on(book, {task_id}, book.notes_by_task.get(task_id, ()))
    photos = photos_showing(book, {task_id})
    return TaskSheet(
        name=task.name,
        id=task.id,
        area=book.area_link(task.area),
        kind=task.kind,
        state=task_state(task),
        time=time_of(task.seconds),
        estimate=time_of(task.estimate_seconds) if task.estimate_seconds else None,
        notes=notes,
        photos=photos,
        more_photos=_not_beside(photos, notes),
        parts=tuple(part.name for part in book.public.parts if part.task == task_id),
        snags=tuple(snag_row(book, snag) for snag in book.public.snags if snag.task == task_id),
        earlier=_first(map(book.task_link, earlier)),
        later=_first(map(book.task_link, later)),
    )


def _task_row(book: Book, task: PublicTask) -> TaskRow:
    estimate = time_of(task.estimate_seconds) if task.estimate_seconds else None
    link = Link(task.name, "")
    return TaskRow(
        task.id, book.task_link(task.id) or link, task_state(task), time_of(task.seconds), estimate
    )


def _notes_on(
    book: Book, tasks: AbstractSet[str], keys: tuple[str, ...]
) -> tuple[WorkNoteRow, ...]:
    """The notes of some tasks, as rows that speak of these tasks alone."""
    return tuple(_work_note(book, book.notes[key], tasks) for key in keys)


def _not_beside(photos: tuple[Photo, ...], notes: tuple[WorkNoteRow, ...]) -> tuple[Photo, ...]:
    """The pictures that no note of a list has beside it."""
    beside = {note.cover.digest for note in notes if note.cover}
    return tuple(photo for photo in photos if photo.digest not in beside)


def photos_showing(book: Book, tasks: AbstractSet[str]) -> tuple[Photo, ...]:
    """The pictures that show one of the tasks, oldest note first."""
    return each_once(shot for shot in book.all_shots if not tasks.isdisjoint(shot.shows))


def _work_note(book: Book, note: PublicNote, tasks: AbstractSet[str]) -> WorkNoteRow:
    seconds = sum(line.seconds for line in note.tasks if line.task in tasks)
    shots = (shot for shot in book.shots[note.key] if not tasks.isdisjoint(shot.shows))
    time = time_of(seconds) if seconds else None
    return WorkNoteRow(book.rows[note.key], time, best_photo(shots))


def _first(links: Iterable[Link | None]) -> Link | None:
    return next(iter(links), None)
