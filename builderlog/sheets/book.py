"""The public ledger opened for drawing sheets: what is found by key, and the rows all sheets share.

Made once for a whole site; pure, and never more than the public ledger holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from builderlog.deciding import addresses, words
from builderlog.deciding.public import (
    PublicArea,
    PublicLedger,
    PublicMonth,
    PublicNote,
    PublicSnag,
    PublicTask,
)
from builderlog.deciding.sums import NO_AREA_NAME
from builderlog.reading.prose import first_paragraph
from builderlog.sheets.rows import (
    AreaRow,
    Hole,
    Link,
    MonthRow,
    NoteRow,
    SnagRow,
    Time,
    day_of,
    time_of,
)
from builderlog.sheets.shots import Shot, best_photo, link_to_note, shots_of

OPENING_LENGTH = 190


@dataclass(frozen=True, slots=True)
class Book:
    """A public ledger with its mappings by key; `areas` holds one for tasks outside any area."""

    public: PublicLedger
    notes: Mapping[str, PublicNote]
    tasks: Mapping[str, PublicTask]
    areas: Mapping[str, PublicArea]
    months: Mapping[str, PublicMonth]
    area_slugs: Mapping[str, str]
    task_slugs: Mapping[str, str]
    rows: Mapping[str, NoteRow]
    shots: Mapping[str, tuple[Shot, ...]]  # by note
    notes_by_task: Mapping[str, tuple[str, ...]]  # keys of notes that work on it or show it
    notes_by_area: Mapping[str, tuple[str, ...]]  # the same over all tasks of an area

    @property
    def all_shots(self) -> Iterator[Shot]:
        """Every picture of every note, oldest note first."""
        return (shot for shots in self.shots.values() for shot in shots)

    def note_link(self, key: str) -> Link | None:
        """The page of a note, None where friends may not read it."""
        row = self.rows.get(key)
        return row.link if row else None

    def task_link(self, task: str | None) -> Link | None:
        """The page of a task under its name."""
        known = self.tasks.get(task or "")
        return Link(known.name, addresses.task_path(self.task_slugs[known.id])) if known else None

    def area_link(self, area: str | None) -> Link | None:
        """The page of an area under its name; None asks for no area."""
        known = None if area is None else self.areas.get(area)
        return Link(known.name, addresses.area_path(self.area_slugs[known.id])) if known else None

    def month_link(self, month: str) -> Link | None:
        """The page of a month, None outside the record."""
        if month not in self.months:
            return None
        return link_to_month(month)

    def links_of(self, ids: Iterable[str]) -> tuple[Link, ...]:
        """The pages of tasks or areas; an id that is neither is left out."""
        links = (self.task_link(name) or self.area_link(name) for name in ids)
        return tuple(link for link in links if link)


def open_book(public: PublicLedger) -> Book:
    """The ledger with its mappings, and one row for each of its notes."""
    tasks = {task.id: task for task in public.tasks}
    areas = {area.id: area for area in _areas_with_free_tasks(public)}
    shots = {note.key: shots_of(note, tasks) for note in public.notes}
    by_task = _notes_by_task(public.notes, shots)
    return Book(
        public=public,
        notes={note.key: note for note in public.notes},
        tasks=tasks,
        areas=areas,
        months={month.month: month for month in public.months},
        area_slugs=addresses.slugs_for(areas),
        task_slugs=addresses.slugs_for(tasks),
        rows={
            note.key: _note_row(number, note, tasks, shots[note.key])
            for number, note in enumerate(public.notes, start=1)
        },
        shots=shots,
        notes_by_task=by_task,
        notes_by_area=_notes_by_area(public.notes, tasks, by_task),
    )


def _notes_by_task(
    notes: Iterable[PublicNote], shots: Mapping[str, tuple[Shot, ...]]
) -> Mapping[str, tuple[str, ...]]:
    """For each task the notes that gave time to it or show it in a picture, oldest first."""
    found: dict[str, dict[str, None]] = {}
    for note in notes:
        shown = (task for shot in shots[note.key] for task in shot.shows)
        for task in (*(line.task for line in note.tasks), *shown):
            found.setdefault(task, {})[note.key] = None
    return {task: tuple(keys) for task, keys in found.items()}


def _notes_by_area(
    notes: Iterable[PublicNote],
    tasks: Mapping[str, PublicTask],
    by_task: Mapping[str, tuple[str, ...]],
) -> Mapping[str, tuple[str, ...]]:
    """For each area the notes on any of its tasks, oldest first."""
    found: dict[str, set[str]] = {}
    for task, keys in by_task.items():
        if task in tasks:
            found.setdefault(tasks[task].area, set()).update(keys)
    return {
        area: tuple(note.key for note in notes if note.key in keys) for area, keys in found.items()
    }


def _areas_with_free_tasks(public: PublicLedger) -> tuple[PublicArea, ...]:
    """The areas, with one more where tasks stand outside any area."""
    if any(area.id == "" for area in public.areas):
        return tuple(
            area if area.name else replace(area, name=NO_AREA_NAME) for area in public.areas
        )
    free = [task for task in public.tasks if task.area == ""]
    if not free:
        return public.areas
    other = PublicArea(
        id="",
        name=NO_AREA_NAME,
        tasks=tuple(task.id for task in free),
        seconds=sum(task.seconds for task in free),
        done=sum(task.applies and task.done for task in free),
        applicable=sum(task.applies for task in free),
    )
    return (*public.areas, other)


def _note_row(
    number: int, note: PublicNote, tasks: Mapping[str, PublicTask], shots: tuple[Shot, ...]
) -> NoteRow:
    return NoteRow(
        number=number,
        link=link_to_note(note),
        day=day_of(note.day),
        time=time_of(note.seconds) if note.seconds else None,
        cover=best_photo(shots),
        opening=words.clipped(first_paragraph(note.prose), OPENING_LENGTH),
        tasks=tuple(
            dict.fromkeys(tasks[line.task].name for line in note.tasks if line.task in tasks)
        ),
        pictures=len(shots),
    )


def link_to_month(month: str) -> Link:
    """The page of a month, "2026-03"."""
    return Link(words.month_long(month), addresses.month_path(month))


def area_row(book: Book, area: PublicArea) -> AreaRow:
    """An area with one hole for each task that applies."""
    applying = [book.tasks[name] for name in area.tasks if name in book.tasks]
    holes = tuple(Hole(task.id, task.name, task_state(task)) for task in applying if task.applies)
    begun = sum(hole.state == "begun" for hole in holes)
    tasks = words.counted(area.applicable, "task")
    standing = f"{area.done} of {tasks} done" if area.applicable else tasks
    return AreaRow(
        id=area.id,
        link=Link(area.name, addresses.area_path(book.area_slugs[area.id])),
        time=time_of(area.seconds),
        done=area.done,
        applicable=area.applicable,
        standing=f"{standing}, {begun} begun" if begun else standing,
        holes=holes,
    )


def task_state(task: PublicTask) -> str:
    """How far a task is: done, begun (it has time), open, or not needed where it does not apply."""
    if not task.applies:
        return "not needed"
    if task.done:
        return "done"
    return "begun" if task.seconds else "open"


def month_row(month: PublicMonth) -> MonthRow:
    """A month as lists show it."""
    return MonthRow(
        link=link_to_month(month.month),
        month=month.month,
        time=time_of(month.seconds),
        notes=words.counted(month.evenings, "note"),
        pictures=words.counted(month.photos, "picture"),
        empty=month.evenings == 0,
        per_week=per_week_of(month),
    )


def per_week_of(month: PublicMonth) -> Time | None:
    """A month's hours a week; None where it has none, or the record less than a week of it."""
    seconds = month.pace.per_week if month.pace and month.evenings else None
    return time_of(seconds) if seconds else None


def snag_row(book: Book, snag: PublicSnag) -> SnagRow:
    """A snag with links to where it stands."""
    places = (book.area_link(snag.area), book.task_link(snag.task))
    return SnagRow(
        number=snag.number,
        text=snag.text,
        day=day_of(snag.day),
        note=book.note_link(snag.note),
        at=tuple(link for link in places if link),
        fixed_on=day_of(snag.fixed_on) if snag.fixed_on else None,
        how=snag.how,
    )
