"""Everything that an inspector asks about help: unpaid and paid hours, work away, parts sent back.

A paint shop (work away for pay) and a part back at its maker are different things and stand apart.
AC 20-27G, paragraph 8.h, asks for the use of commercial and of non-commercial assistance.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from builderlog.deciding import sums
from builderlog.deciding.portion import build_work
from builderlog.knowing.entries import Away, Note, PartLine, PartStatus, Privacy
from builderlog.knowing.ledger import Ledger, Part, Worked
from builderlog.knowing.settings import Role
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

Value = TypeVar("Value")

NO_TASK = ""  # stands where a task id would, for time that was given to no task


@dataclass(frozen=True, slots=True)
class Help:
    """One person's help during the building; whole seconds."""

    person: str
    role: Role
    seconds: int
    by_task: Mapping[str, int]  # in the work list's order, NO_TASK last
    days: tuple[date, ...]  # distinct, oldest first
    notes: tuple[str, ...]  # paths, oldest first
    receipts: tuple[str, ...]  # of paid help: in its notes, for its task there or for none


@dataclass(frozen=True, slots=True)
class WorkAway:
    """A piece of work that left the shop, told in one note or in several.

    Two entries are one piece of work where what, firm and task are the same, the first has not
    come back and the second was not sent again.
    """

    what: str
    firm: str | None
    task: str | None
    capacity: str | None  # paid, maker or unpaid; None: not said
    sent: date | None
    due: date | None
    back: date | None
    receipts: tuple[str, ...]
    notes: tuple[str, ...]  # paths, oldest first
    day: date  # of the first note
    place: Place  # of the first entry


@dataclass(frozen=True, slots=True)
class SentBack:
    """A part that went back to its maker, and when it or another came in its stead."""

    part: str
    ref: str | None
    maker: str | None
    task: str | None
    day: date
    back: date | None
    receipts: tuple[str, ...]
    note: str
    place: Place


@dataclass(frozen=True, slots=True)
class Assistance:
    """All help of a journal. Notes of which only the time reaches anyone give their time alone."""

    unpaid: tuple[Help, ...]  # by alphabet
    paid: tuple[Help, ...]
    away: tuple[WorkAway, ...]  # oldest first
    sent_back: tuple[SentBack, ...]  # oldest first

    def away_as(self, capacity: str | None) -> tuple[WorkAway, ...]:
        """The work away of one capacity: paid, maker, unpaid, or None where none is said."""
        return tuple(each for each in self.away if each.capacity == capacity)


def assistance(ledger: Ledger) -> Assistance:
    """All help up to the day of the certificate; later work is no build time."""
    notes = building_notes(ledger)
    told = [note for note in notes if note.privacy is not Privacy.HOURS_ONLY]
    return Assistance(
        unpaid=_helps(ledger, told, Role.HELPER),
        paid=_helps(ledger, told, Role.PAID),
        away=works_away(told),
        sent_back=sent_back(ledger.parts, {note.path for note in told}),
    )


def building_notes(ledger: Ledger) -> list[Note]:
    """The notes up to the day of the certificate, in order of day and path."""
    end = ledger.settings.certificated
    notes = (note for note in ledger.notes if note.day and (not end or note.day <= end.day))
    return sorted(notes, key=lambda note: note.order)


def _helps(ledger: Ledger, told: Iterable[Note], role: Role) -> tuple[Help, ...]:
    by_path = {note.path: note for note in told}
    rows: dict[str, list[Worked]] = {}
    for row in build_work(ledger):
        if row.role is role:
            rows.setdefault(row.person, []).append(row)
    return tuple(_help(ledger, person, rows[person], by_path) for person in sorted(rows))


def _help(ledger: Ledger, person: str, rows: list[Worked], by_path: Mapping[str, Note]) -> Help:
    tasks = sums.seconds_by(rows, lambda row: row.task if row.task is not None else NO_TASK)
    order = sums.in_task_order(tasks.keys() - {NO_TASK}, ledger.worklist)
    unpaid = rows[0].role is not Role.PAID
    return Help(
        person=person,
        role=rows[0].role,
        seconds=sums.seconds_of(rows),
        by_task={task: tasks[task] for task in (*order, NO_TASK) if tasks.get(task)},
        days=tuple(sums.days_with_time(rows)),
        notes=tuple(path for _, path in sorted({(row.day, row.note) for row in rows})),
        receipts=() if unpaid else tuple(dict.fromkeys(_receipts_beside(rows, by_path))),
    )


def _receipts_beside(rows: Iterable[Worked], by_path: Mapping[str, Note]) -> Iterator[str]:
    """Receipts in a note in which a person worked, unless they are for a task of somebody else."""
    for row in sorted(rows, key=lambda row: (row.day, row.note, row.place)):
        for line in by_path[row.note].parts if row.note in by_path else ():
            if line.receipt and _text(line.task) in (None, row.task):
                yield line.receipt.text


def works_away(notes: Iterable[Note]) -> tuple[WorkAway, ...]:
    """The work away that these notes tell, which stand in order of day and path."""
    held = tuple(notes)
    pieces: list[list[tuple[Note, Away]]] = []
    waiting: dict[tuple[str | None, ...], list[tuple[Note, Away]]] = {}
    for note in held:
        for line in note.away:
            key = (line.what.text, _text(line.firm), _text(line.task))
            piece = waiting.get(key)
            if piece is None or line.sent:
                piece = []
                pieces.append(piece)
            piece.append((note, line))
            waiting[key] = piece
            if line.back:
                del waiting[key]
    receipts = _Receipts(held)
    return tuple(_work_away(piece, receipts) for piece in pieces)


def _work_away(piece: list[tuple[Note, Away]], receipts: _Receipts) -> WorkAway:
    lines = [line for _, line in piece]
    paths = tuple(dict.fromkeys(note.path for note, _ in piece))
    first_note, first = piece[0]
    return WorkAway(
        what=first.what.text,
        firm=_text(first.firm),
        task=_text(first.task),
        capacity=_last(line.capacity for line in lines),
        sent=_last(line.sent.day if line.sent else None for line in lines),
        due=_last(line.due.day if line.due else None for line in lines),
        back=_last(line.back.day if line.back else None for line in lines),
        receipts=receipts.of(first, paths),
        notes=paths,
        day=first_note.day or date.min,
        place=first.place,
    )


class _Receipts:
    """The receipts of notes, in their order, found by note and by firm and task."""

    def __init__(self, notes: Iterable[Note]) -> None:
        self._beside: dict[str, list[tuple[int, PartLine]]] = {}
        self._own: dict[tuple[str | None, str | None], list[tuple[int, PartLine]]] = {}
        told = ((note, part) for note in notes for part in note.parts if part.receipt)
        for place, (note, part) in enumerate(told):
            self._beside.setdefault(note.path, []).append((place, part))
            self._own.setdefault(_firm_and_task(part), []).append((place, part))

    def of(self, line: Away, paths: Iterable[str]) -> tuple[str, ...]:
        """In the same note what nothing contradicts; elsewhere what is of its firm and its task."""
        firm, task = _text(line.firm), _text(line.task)
        found = [
            (place, part)
            for path in paths
            for place, part in self._beside.get(path, ())
            if _text(part.source) in (None, firm) and _text(part.task) in (None, task)
        ]
        found += self._own.get((firm, task), ()) if firm and task else ()
        ordered = sorted(found, key=lambda each: each[0])
        return tuple(dict.fromkeys(str(part.receipt) for _, part in ordered))


def _firm_and_task(part: PartLine) -> tuple[str | None, str | None]:
    return _text(part.source), _text(part.task)


def sent_back(parts: Iterable[Part], paths: set[str]) -> tuple[SentBack, ...]:
    """The parts that went back to their maker, of notes with these paths."""
    found = [
        _sent_back(part, at)
        for part in parts
        for at, event in enumerate(part.events)
        if event.line.status is PartStatus.SENT_BACK and event.note in paths
    ]
    return tuple(sorted(found, key=lambda each: (each.day, each.note, each.place, each.part)))


def _sent_back(part: Part, at: int) -> SentBack:
    event, later = part.events[at], part.events[at + 1 :]
    lines = [each.line for each in part.events]
    came = (PartStatus.RECEIVED, PartStatus.FITTED)
    return SentBack(
        part=part.name,
        ref=part.ref,
        maker=_last(_text(line.source) for line in lines),
        task=_last(_text(line.task) for line in lines),
        day=event.day,
        back=next((each.day for each in later if each.line.status in came), None),
        receipts=tuple(dict.fromkeys(line.receipt.text for line in lines if line.receipt)),
        note=event.note,
        place=event.line.place,
    )


def _text(word: Word | None) -> str | None:
    return word.text if word else None


def _last(values: Iterable[Value | None]) -> Value | None:
    """The newest that was said."""
    said = [value for value in values if value is not None]
    return said[-1] if said else None
