"""The sheets of a note's page and of the archive of all notes."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from typing import ClassVar

from builderlog.deciding.public import PublicDecision, PublicMeasured, PublicNote, PublicVisit
from builderlog.deciding.words import month_of
from builderlog.reading.prose import body_in
from builderlog.sheets.book import (
    Book,
    month_row,
    snag_row,
)
from builderlog.sheets.chart import hours_chart
from builderlog.sheets.milestones import milestones_page
from builderlog.sheets.rows import (
    Day,
    HoursChart,
    Link,
    MonthRow,
    NoteRow,
    Photo,
    SnagRow,
    TaskTimeRow,
    Time,
    TimeRow,
    day_of,
    time_of,
)
from builderlog.sheets.shots import best_photo
from builderlog.sheets.threads import Thread, threads_of


@dataclass(frozen=True, slots=True)
class ProseLink:
    """What a target in the prose is: a shown picture, another page, or (neither) unlinked."""

    untold: ClassVar[tuple[str, ...]] = ("target",)

    target: str = field(repr=False)  # as CommonMark reads it
    photo: Photo | None = None
    page: Link | None = None


@dataclass(frozen=True, slots=True, repr=False)
class ProseText:
    """A note's Markdown with what its links are; `has_heading`: it begins with the title.

    As written it names files that friends are not told of (a private note, a receipt), so a
    template gets it as HTML alone: `untold` is what none may read, and its words print as a digest.
    """

    untold: ClassVar[tuple[str, ...]] = ("text",)

    text: str
    links: tuple[ProseLink, ...]
    has_heading: bool

    def __repr__(self) -> str:
        """Another one for another prose; with its pictures, whose copies are asked for by it."""
        targets = [(link.target, link) for link in self.links]
        said = repr((self.text, targets, self.has_heading)).encode("utf-8", "surrogatepass")
        photos = tuple(link.photo for link in self.links if link.photo)
        return f"ProseText({hashlib.sha256(said).hexdigest()}, {photos})"


@dataclass(frozen=True, slots=True)
class NotePartRow:
    """A part as this note names it."""

    name: str
    count: str | None
    status: str | None


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A visit, only where the journal shows visits."""

    who: str
    capacity: str | None
    looked_at: tuple[str, ...]
    said: str | None


@dataclass(frozen=True, slots=True)
class NoteSheet:
    """One note. `cover` opens it, `gallery` follows the prose; neither stands in the prose."""

    number: int
    title: str
    day: Day
    time: Time | None
    hours: tuple[TimeRow, ...]
    tasks: tuple[TaskTimeRow, ...]
    cover: Photo | None
    prose: ProseText
    gallery: tuple[Photo, ...]
    measured: tuple[PublicMeasured, ...]
    parts: tuple[NotePartRow, ...]
    decided: tuple[PublicDecision, ...]
    snags: tuple[SnagRow, ...]
    visits: tuple[VisitRow, ...]
    next_steps: tuple[str, ...]
    closes: tuple[str, ...]
    place: str | None
    written_later: Day | None
    month: Link | None
    earlier: Link | None
    later: Link | None
    first: Link | None  # where reading begins; None where that is this note or the one before
    threads: tuple[Thread, ...]


def note_sheet(book: Book, position: int) -> NoteSheet:
    """The note at a position of the ledger, from 0."""
    note = book.public.notes[position]
    cover, gallery = _cover_and_gallery(book, note)
    return NoteSheet(
        number=position + 1,
        title=note.title,
        day=day_of(note.day),
        time=time_of(note.seconds) if note.seconds else None,
        hours=tuple(TimeRow(row.label, time_of(row.seconds)) for row in note.hours),
        tasks=tuple(_task_row(book, line.task, line.seconds) for line in note.tasks),
        cover=cover,
        prose=ProseText(note.prose, _prose_links(book, note), note.has_heading),
        gallery=gallery,
        measured=note.measured,
        parts=tuple(NotePartRow(*part) for part in note.parts),
        decided=note.decided,
        snags=tuple(snag_row(book, snag) for snag in note.snags),
        visits=tuple(_visit_row(book, visit) for visit in note.visits),
        next_steps=note.next_steps,
        closes=tuple(_name_of(book, name) for name in note.closes),
        place=note.place,
        written_later=day_of(note.written_later) if note.written_later else None,
        month=book.month_link(month_of(note.day)),
        earlier=_neighbour(book, position - 1),
        later=_neighbour(book, position + 1),
        first=_neighbour(book, 0) if position > 1 else None,
        threads=threads_of(book, note),
    )


def _cover_and_gallery(book: Book, note: PublicNote) -> tuple[Photo | None, tuple[Photo, ...]]:
    """The opening picture and the others, leaving out those that the prose shows.

    Where it shows all, the note opens with its words and they come in their place.
    """
    named = {use.digest for use in note.photos} - _shown_by_prose(note)
    shots = tuple(shot for shot in book.shots[note.key] if shot.photo.digest in named)
    cover = best_photo(shots)
    return cover, tuple(shot.photo for shot in shots if shot.photo is not cover)


def _shown_by_prose(note: PublicNote) -> set[str]:
    """The pictures that stand in the prose; one that its words only lead to does not."""
    pictures = {target: digest for target, kind, digest in note.links if kind == "picture"}
    if not pictures:
        return set()
    targets = body_in(note.prose).pictures(has_heading=note.has_heading)
    return {pictures[target] for target in targets & pictures.keys()}


def photos_shown(prose: ProseText) -> tuple[Photo, ...]:
    """The pictures that stand in a prose, in the order of its links."""
    targets = body_in(prose.text).pictures(has_heading=prose.has_heading)
    return tuple(link.photo for link in prose.links if link.photo and link.target in targets)


def _task_row(book: Book, task: str, seconds: int) -> TaskTimeRow:
    link = book.task_link(task)
    return TaskTimeRow(task, link.words if link else task, link, time_of(seconds))


def _prose_links(book: Book, note: PublicNote) -> tuple[ProseLink, ...]:
    photos = {shot.photo.digest: shot.photo for shot in book.shots[note.key]}
    return tuple(
        ProseLink(
            target,
            photo=photos[value] if kind == "picture" else None,
            page=book.note_link(value) if kind == "note" else None,
        )
        for target, kind, value in note.links
    )


def _visit_row(book: Book, visit: PublicVisit) -> VisitRow:
    seen = tuple(_name_of(book, name) for name in visit.looked_at)
    return VisitRow(visit.who, visit.capacity, seen, visit.said)


def _name_of(book: Book, name: str) -> str:
    """The name of a task or area by its id; the id itself where it is neither."""
    links = book.links_of((name,))
    return links[0].words if links else name


def _neighbour(book: Book, position: int) -> Link | None:
    notes = book.public.notes
    if not 0 <= position < len(notes):
        return None
    return book.rows[notes[position].key].link


@dataclass(frozen=True, slots=True)
class ArchiveMonth:
    """A month of the archive with its notes, oldest first."""

    month: MonthRow
    notes: tuple[NoteRow, ...]


@dataclass(frozen=True, slots=True)
class ArchiveSheet:
    """All notes by month, newest month first; months without one keep their place."""

    months: tuple[ArchiveMonth, ...]
    chart: HoursChart | None
    first: Link | None  # the note to begin with; None without any
    milestones_page: Link | None


def archive_sheet(book: Book) -> ArchiveSheet:
    """The archive of all notes."""
    months = tuple(
        ArchiveMonth(month_row(month), rows_of(book, month.notes))
        for month in reversed(book.public.months)
    )
    whole = book.public.months
    chart = hours_chart(book, whole, "Hours by month") if book.public.seconds and whole else None
    return ArchiveSheet(months, chart, _neighbour(book, 0), milestones_page(book))


def rows_of(book: Book, keys: tuple[str, ...]) -> tuple[NoteRow, ...]:
    """The rows of some notes, in the order of their keys."""
    return tuple(book.rows[key] for key in keys if key in book.rows)
