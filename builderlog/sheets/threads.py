"""The ways to read on from a note: by each area and task it speaks of, with its place there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding.public import PublicNote
from builderlog.sheets.book import Book
from builderlog.sheets.rows import Link


@dataclass(frozen=True, slots=True)
class Thread:
    """The notes of one area or task as a row to read along; this note is one of them."""

    kind: str  # "area" or "task"
    name: str
    link: Link | None  # the page of the area or task
    place: str  # "4 of 11"
    earlier: Link | None  # the note before this one on the same work
    later: Link | None


def threads_of(book: Book, note: PublicNote) -> tuple[Thread, ...]:
    """The threads through a note, areas first.

    One that leads nowhere is left out, and so is a task's that is the same as its area's.
    """
    shown = (task for shot in book.shots[note.key] for task in shot.shows)
    tasks = dict.fromkeys((*(line.task for line in note.tasks), *shown))
    known = [task for task in tasks if task in book.tasks]
    return (*_of_areas(book, note, known), *_of_tasks(book, note, known))


def _of_areas(book: Book, note: PublicNote, tasks: list[str]) -> Iterator[Thread]:
    for area in dict.fromkeys(book.tasks[task].area for task in tasks):
        keys = book.notes_by_area[area]
        link = book.area_link(area)
        if len(keys) > 1 and link:
            yield _thread(book, note, ("area", link), keys)


def _of_tasks(book: Book, note: PublicNote, tasks: list[str]) -> Iterator[Thread]:
    for task in tasks:
        keys = book.notes_by_task[task]
        link = book.task_link(task)
        if len(keys) > 1 and link and keys != book.notes_by_area[book.tasks[task].area]:
            yield _thread(book, note, ("task", link), keys)


def _thread(book: Book, note: PublicNote, what: tuple[str, Link], keys: tuple[str, ...]) -> Thread:
    kind, link = what
    at = keys.index(note.key)
    return Thread(
        kind=kind,
        name=link.words,
        link=link,
        place=f"{at + 1} of {len(keys)}",
        earlier=book.note_link(keys[at - 1]) if at else None,
        later=book.note_link(keys[at + 1]) if at + 1 < len(keys) else None,
    )
