"""What the record says of each task, found in one pass over the ledger; nothing is judged here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.assistance import WorkAway, building_notes, works_away
from builderlog.deciding.task_record import Closing, PersonTime, Shot, TaskRecord, Told, WorkPlace
from builderlog.knowing.entries import (
    Measured,
    Note,
    PartLine,
    Privacy,
    Process,
    TaskLine,
    Torqued,
    Visit,
)
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture, Snag, Worked
from builderlog.knowing.settings import Role
from builderlog.reading.words import Word

AMATEURS = (Role.BUILDER, Role.HELPER)  # where the journal names no rulebook that says otherwise


def coverage(ledger: Ledger) -> tuple[TaskRecord, ...]:
    """The record of each task of the work list that applies, in its order.

    Without a work list: of each task id that notes name, by alphabet.
    """
    gatherer = _Gatherer(ledger)
    gatherer.gather()
    return tuple(gatherer.record(task) for task in gatherer.found)


@dataclass(slots=True)
class _Found:
    """What has been found of one task so far."""

    work: list[Worked] = field(default_factory=list)
    late: list[Worked] = field(default_factory=list)
    notes: dict[str, Note] = field(default_factory=dict)
    worked_on: dict[str, Note] = field(default_factory=dict)
    places: dict[str, list[str]] = field(default_factory=dict)
    methods: list[Told[TaskLine]] = field(default_factory=list)
    pictures: list[Shot] = field(default_factory=list)
    measured: list[Told[Measured]] = field(default_factory=list)
    torqued: list[Told[Torqued]] = field(default_factory=list)
    process: list[Told[Process]] = field(default_factory=list)
    visits: list[Told[Visit]] = field(default_factory=list)
    snags: list[Snag] = field(default_factory=list)
    parts: list[Told[PartLine]] = field(default_factory=list)
    away: list[WorkAway] = field(default_factory=list)
    closings: list[Closing] = field(default_factory=list)


class _Gatherer:
    """Gives every fact of the ledger to the tasks that it speaks of."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._usual_place = ledger.settings.place
        self._roles = {person.name: person.role for person in ledger.settings.people}
        self._amateurs = ledger.rulebook.amateurs if ledger.rulebook else AMATEURS
        self._notes = sorted(ledger.notes, key=lambda note: note.order)
        self._hidden = {n.path for n in self._notes if n.privacy is Privacy.HOURS_ONLY}
        self._built = {note.path for note in building_notes(ledger)}
        self.found = {task: _Found() for task in _task_ids(ledger)}
        self._in_area = {
            area.id: [self.found[task.id] for task in area.tasks if task.applies]
            for area in ledger.worklist.areas
        }

    def gather(self) -> None:
        """Every list of the ledger once."""
        self._gather_work()
        for note in self._notes:
            self._gather_names(note)
            if note.path not in self._hidden:
                self._gather_entries(note)
        self._gather_pictures()
        self._gather_others()

    def _of(self, word: Word | str | None) -> Iterator[_Found]:
        """The task of that id, if there is one with a record."""
        found = self.found.get(str(word)) if word is not None else None
        if found is not None:
            yield found

    def _of_task_or_area(self, words: tuple[Word, ...]) -> list[_Found]:
        """The tasks that the words name, by their own id or their area's, each once."""
        named = (each for word in words for each in self._of(word))
        in_areas = (each for word in words for each in self._in_area.get(word.text, ()))
        return list({id(each): each for each in (*named, *in_areas)}.values())

    def _gather_work(self) -> None:
        end = self._ledger.settings.certificated
        for row in sorted(self._ledger.work, key=_order):
            for found in self._of(row.task):
                (found.late if end and row.day > end.day else found.work).append(row)

    def _gather_names(self, note: Note) -> None:
        """Which tasks the note names; a hidden note's pictures name none."""
        for line in note.tasks:
            for found in self._of(line.task):
                found.notes[note.path] = note
                if note.path in self._built:
                    found.worked_on[note.path] = note
        for photo in note.photos if note.path not in self._hidden else ():
            for word in photo.shows:
                for found in self._of(word):
                    found.notes[note.path] = note

    def _gather_entries(self, note: Note) -> None:
        for line in note.parts:
            for found in self._of(line.task):
                found.parts.append(Told(note, line))
        for word, closed in _closings(note):
            for found in self._of_task_or_area((word,)):
                found.closings.append(Closing(note, word, closed))
        for visit in note.visits:
            for found in self._looked_at(note, visit):
                found.visits.append(Told(note, visit))
        if note.path in self._built:
            self._gather_proofs(note)

    def _looked_at(self, note: Note, visit: Visit) -> list[_Found]:
        """What it names, of an area what was begun; if it names nothing, the tasks of its note."""
        words = visit.looked_at or tuple(line.task for line in note.tasks)
        named = {id(found) for word in words for found in self._of(word)}
        return [
            found
            for found in self._of_task_or_area(words)
            if id(found) in named or any(row.day <= (note.day or row.day) for row in found.work)
        ]

    def _gather_proofs(self, note: Note) -> None:
        named = {line.task.text: None for line in note.tasks}
        place = note.where.text if note.where else self._usual_place
        for found in (found for task in named for found in self._of(task)):
            found.measured += [Told(note, line) for line in note.measured]
            found.torqued += [Told(note, line) for line in note.torqued]
            found.process += [Told(note, line) for line in note.process]
            if place:
                found.places.setdefault(place, []).append(note.path)
        for line in note.tasks:
            for found in self._of(line.task) if line.per else ():
                found.methods.append(Told(note, line))

    def _gather_pictures(self) -> None:
        """Who is in a picture is what any of its notes says; a task it shows, these notes alone."""
        for picture in self._ledger.pictures:
            uses = [use for use in picture.uses if use.note not in self._hidden]
            uses.sort(key=lambda use: (use.day, use.note))
            shown: dict[str, list[PhotoUse]] = {}
            for use in uses:
                for task in use.shows:
                    shown.setdefault(task, []).append(use)
            for task, showing in shown.items():
                for found in self._of(task):
                    found.pictures.append(self._shot(picture, uses, showing))

    def _shot(self, picture: Picture, uses: list[PhotoUse], showing: list[PhotoUse]) -> Shot:
        taken = picture.file.taken
        seen = tuple(dict.fromkeys(name for use in uses for name in use.seen))
        return Shot(
            path=picture.path,
            digest=picture.file.digest,
            taken=date.fromisoformat(taken[:10]) if taken else uses[0].day,
            note=showing[0].note,
            notes=tuple(dict.fromkeys(use.note for use in showing)),
            caption=next((use.caption for use in uses if use.caption), None),
            seen=seen,
            builder_seen=any(self._roles.get(name) is Role.BUILDER for name in seen),
            page=all(use.page for use in showing),
        )

    def _gather_others(self) -> None:
        told = self._built - self._hidden
        for away in works_away(note for note in self._notes if note.path in told):
            for found in self._of(away.task):
                found.away.append(away)
        for snag in sorted(self._ledger.snags, key=lambda snag: (snag.day, snag.note, snag.number)):
            for found in self._of(snag.line.task) if snag.note not in self._hidden else ():
                found.snags.append(snag)

    def record(self, task_id: str) -> TaskRecord:
        """What was found of one task."""
        task, found = self._ledger.worklist.by_id.get(task_id), self.found[task_id]
        return TaskRecord(
            id=task_id,
            name=task.name if task else task_id,
            area=task.area if task else "",
            task=task,
            work=tuple(found.work),
            late=tuple(found.late),
            amateur_work=tuple(row for row in found.work if row.role in self._amateurs),
            people=_people(found.work),
            notes=tuple(found.notes.values()),
            worked_on=tuple(found.worked_on.values()),
            places=tuple(WorkPlace(words, tuple(on)) for words, on in found.places.items()),
            methods=tuple(found.methods),
            pictures=tuple(sorted(found.pictures, key=lambda shot: (shot.taken, shot.path))),
            measured=tuple(found.measured),
            torqued=tuple(found.torqued),
            process=tuple(found.process),
            visits=tuple(found.visits),
            snags=tuple(found.snags),
            parts=tuple(found.parts),
            away=tuple(found.away),
            closings=tuple(found.closings),
        )


def _task_ids(ledger: Ledger) -> list[str]:
    if ledger.worklist.written:
        return [task.id for area in ledger.worklist.areas for task in area.tasks if task.applies]
    return sorted({word.text for note in ledger.notes for word in _task_words(note)})


def _task_words(note: Note) -> Iterator[Word]:
    """Every word of a note that must be a task."""
    yield from (line.task for line in note.tasks)
    if note.privacy is Privacy.HOURS_ONLY:
        return
    yield from (word for line in note.photos for word in line.shows)
    yield from (line.task for line in note.parts if line.task)
    yield from (line.task for line in note.snags if line.task)
    yield from (line.task for visit in note.visits for line in visit.found if line.task)
    yield from (line.task for line in note.away if line.task)


def _closings(note: Note) -> Iterator[tuple[Word, bool]]:
    """What was opened in a note was open while it was written, and then closed."""
    yield from ((word, False) for word in note.opens)
    yield from ((word, True) for word in note.closes)


def _order(row: Worked) -> tuple[date, str, int, int, str]:
    return row.day, row.note, row.place.line, row.place.column, row.person


def _people(work: Iterable[Worked]) -> tuple[PersonTime, ...]:
    """Each person with time: builders first, then helpers, then paid; who gave most first."""
    rows: dict[tuple[str, Role], list[Worked]] = {}
    for row in work:
        if row.seconds:
            rows.setdefault((row.person, row.role), []).append(row)
    people = (
        PersonTime(
            name,
            role,
            sums.seconds_of(given),
            tuple(dict.fromkeys(row.note for row in given)),
        )
        for (name, role), given in rows.items()
    )
    ranks = {role: rank for rank, role in enumerate(Role)}
    return tuple(sorted(people, key=lambda each: (ranks[each.role], -each.seconds, each.name)))
