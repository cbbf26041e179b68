"""What a month's page tells beside its sums: the work by area, what was closed, what was next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.deciding.next_steps import last_written
from builderlog.deciding.public import PublicMonth, PublicNote
from builderlog.sheets.book import Book
from builderlog.sheets.rows import Day, Link, NextRow, TaskTimeRow, day_of


@dataclass(frozen=True, slots=True)
class TaskMark:
    """A task that was worked on, and how far it came in this month: done, begun or worked on."""

    link: Link
    state: str


@dataclass(frozen=True, slots=True)
class AreaWork:
    """An area with its time in the month, and the tasks that were worked on."""

    area: TaskTimeRow
    tasks: tuple[TaskMark, ...]


@dataclass(frozen=True, slots=True)
class Closed:
    """What a note closed up."""

    name: str
    note: Link
    day: Day


def area_work(
    book: Book, month: PublicMonth, areas: tuple[TaskTimeRow, ...]
) -> tuple[AreaWork, ...]:
    """The areas of a month, each with its tasks in the order of the work list."""
    named = {line.task for note in _notes(book, month) for line in note.tasks}
    touched = {*month.tasks_done, *month.tasks_begun, *named}
    marks = [
        (task.area, TaskMark(link, _state(task.id, month)))
        for task in book.public.tasks
        if task.id in touched and (link := book.task_link(task.id))
    ]
    return tuple(
        AreaWork(row, tuple(mark for area, mark in marks if area == row.id)) for row in areas
    )


def _notes(book: Book, month: PublicMonth) -> tuple[PublicNote, ...]:
    return tuple(book.notes[key] for key in month.notes if key in book.notes)


def _state(task: str, month: PublicMonth) -> str:
    if task in month.tasks_done:
        return "done"
    return "begun" if task in month.tasks_begun else "worked on"


def closings(book: Book, month: PublicMonth) -> tuple[Closed, ...]:
    """What the month's public notes closed up, in the order of their days."""
    return tuple(
        Closed(names_told(names_of(book, note.closes)), book.rows[note.key].link, day_of(note.day))
        for note in _notes(book, month)
        if note.closes
    )


def names_told(names: Sequence[str]) -> str:
    """Names in a row; where one holds an "and" or a comma itself, told apart by semicolons."""
    apart = any(" and " in name or "," in name for name in names)
    return "; ".join(names) if apart else words.listed(names)


def names_of(book: Book, ids: tuple[str, ...]) -> tuple[str, ...]:
    """The names of tasks or areas; the id itself where it is neither."""
    links = ((name, book.links_of((name,))) for name in ids)
    return tuple(found[0].words if found else name for name, found in links)


def next_as_written(book: Book, month: PublicMonth) -> tuple[NextRow, ...]:
    """The next steps as last written in this month, area by area; the newest first."""
    return tuple(_next_as_written(book, month))


def _next_as_written(book: Book, month: PublicMonth) -> Iterator[NextRow]:
    def areas(note: PublicNote) -> Iterator[str]:
        known = (book.tasks.get(line.task) for line in note.tasks)
        return (task.area if task else "" for task in known)

    for note, fresh in last_written(_notes(book, month), areas):
        links = tuple(link for link in map(book.area_link, fresh) if link)
        for step in note.next_steps:
            yield NextRow(step, day_of(note.day), book.note_link(note.key), links)


def next_heading(book: Book, month: PublicMonth) -> str:
    """What stands over them: on an older month's page they have long been done."""
    return "Next" if month is book.public.months[-1] else "What was next then"
