"""The sheet of the search: every note, month, area, task and part, and the words each is found by.

The words are cut and turned round here; the reader's browser only looks them up. Nothing goes in
that the public ledger does not hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from builderlog.deciding import addresses, words
from builderlog.deciding.public import PublicArea, PublicMonth, PublicNote, PublicTask
from builderlog.deciding.search_words import search_words
from builderlog.reading.prose import all_words
from builderlog.sheets.book import Book, area_row, link_to_month, month_row, task_state
from builderlog.sheets.lists import part_rows
from builderlog.sheets.rows import Link, PartRow, time_of
from builderlog.sheets.search_index import index_text


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """One thing that can be found, as the list shows it; `anchor` is "" or its place, with "#"."""

    label: str  # "Note 12", "Task W14"
    link: Link
    facts: tuple[str, ...]
    opening: str = ""
    anchor: str = ""


@dataclass(frozen=True, slots=True)
class SearchGroup:
    """All things of one kind: "area", "task", "note", "month" or "part"."""

    name: str
    kind: str
    entries: tuple[SearchEntry, ...]


@dataclass(frozen=True, slots=True)
class SearchSheet:
    """Everything that can be found, notes newest first; `index` counts entries over all groups."""

    count: str  # "5 areas, 31 tasks and 43 notes"
    groups: tuple[SearchGroup, ...]
    index: str  # as `search_index` writes it


Found = tuple[SearchEntry, str]  # an entry, and all other words that it is found by


def search_sheet(book: Book) -> SearchSheet:
    """The page of the search."""
    kinds: tuple[tuple[str, str, tuple[Found, ...]], ...] = (
        ("Areas", "area", tuple(_area(book, area) for area in book.areas.values())),
        ("Tasks", "task", tuple(_task(book, task) for task in book.tasks.values())),
        ("Months", "month", tuple(_month(book, each) for each in reversed(book.public.months))),
        ("Parts", "part", tuple(map(_part, part_rows(book)))),
        ("Notes", "note", tuple(_note(book, note) for note in reversed(book.public.notes))),
    )
    there = [kind for kind in kinds if kind[2]]
    return SearchSheet(
        count=words.listed([words.counted(len(found), kind) for _, kind, found in there]),
        groups=tuple(
            SearchGroup(name, kind, tuple(entry for entry, _ in found))
            for name, kind, found in there
        ),
        index=index_text(_words_of(*each) for _, _, found in there for each in found),
    )


@lru_cache(maxsize=4096)  # a live site asks for the same words each time a note is saved
def _words_of(entry: SearchEntry, more: str) -> frozenset[str]:
    shown = (entry.label, entry.link.words, entry.opening, *entry.facts)
    return frozenset(search_words("\n".join((*shown, more))))


@lru_cache(maxsize=4096)
def _prose_words(prose: str) -> str:
    return all_words(prose)


def _note(book: Book, note: PublicNote) -> Found:
    row = book.rows[note.key]
    spent = (row.time.words,) if row.time else ()
    pictures = (words.counted(row.pictures, "picture"),) if row.pictures else ()
    entry = SearchEntry(
        label=f"Note {row.number}",
        link=row.link,
        facts=(row.day.plain, *spent, *pictures, *row.tasks),
        opening=row.opening,
    )
    return entry, "\n".join(filter(None, _said_in(book, note)))


def _said_in(book: Book, note: PublicNote) -> Iterator[str | None]:
    """What the note's page says beside what its entry shows."""
    yield from (words.day_long(note.day), note.place)
    yield from (hours.label for hours in note.hours)
    for task in (*(line.task for line in note.tasks), *note.closes):
        yield from _names_of(book, task)
    for shot in book.shots[note.key]:
        yield shot.photo.caption
        for task in shot.shows:
            yield from _names_of(book, task)
    yield _prose_words(note.prose)
    yield from (word for part in note.parts for word in part)
    for one in note.decided:
        yield from (one.what, one.why, one.instead_of, one.again)
    for measured in note.measured:
        yield from (measured.what, measured.value, measured.limit)
    for snag in note.snags:
        yield from (snag.number, snag.text, snag.how)
    for visit in note.visits:
        yield from (visit.who, visit.capacity, visit.said)
    yield from note.next_steps


def _names_of(book: Book, name: str) -> Iterator[str]:
    """The id and name of a task or an area, and those of the task's area."""
    yield name
    if name in book.tasks:
        yield book.tasks[name].name
        name = book.tasks[name].area
    if name in book.areas:
        yield from (name, book.areas[name].name)


def _month(book: Book, month: PublicMonth) -> Found:
    row = month_row(month)
    facts = ("no notes",) if row.empty else (row.notes, row.time.words)
    done = dict.fromkeys((*month.tasks_begun, *month.tasks_done))
    about = (name for task in done for name in _names_of(book, task))
    told = (
        f"{each.title}\n{_prose_words(each.prose)}"
        for each in book.public.letters
        if each.month == month.month
    )
    entry = SearchEntry("Month", link_to_month(month.month), facts)
    return entry, "\n".join((month.month, *about, *told))


def _area(book: Book, area: PublicArea) -> Found:
    row = area_row(book, area)
    spent = (row.time.words,) if area.seconds else ()
    return SearchEntry(f"Area {area.id}".strip(), row.link, (row.standing, *spent)), ""


def _task(book: Book, task: PublicTask) -> Found:
    area = book.area_link(task.area)
    spent = (time_of(task.seconds).words,) if task.seconds else ()
    entry = SearchEntry(
        label="Task" if task.id == task.name else f"Task {task.id}",
        link=Link(task.name, addresses.task_path(book.task_slugs[task.id])),
        facts=(task_state(task), *((area.words,) if area else ()), *spent),
    )
    return entry, ""


def _part(part: PartRow) -> Found:
    counted = (f"{part.count} piece{'' if part.count == '1' else 's'}",) if part.count else ()
    entry = SearchEntry(
        label="Part",
        link=Link(part.name, addresses.PARTS),
        facts=(*((part.status,) if part.status else ()), *counted),
        anchor=f"#{part.anchor}",
    )
    task = part.task.words if part.task else None
    return entry, "\n".join(filter(None, (task, part.supplier, part.ref, part.cost)))
