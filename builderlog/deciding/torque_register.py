"""Every group of fasteners that notes bring to torque, by area from tail to nose; what is open.

Only what notes state: fasteners that no note names are not here, and nothing can tell of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.calibration import Calibration, calibration_on
from builderlog.deciding.joints import Joint, aircraft_of, joint_of
from builderlog.deciding.tail_to_nose import tail_to_nose
from builderlog.deciding.torque import Setting, judge_setting
from builderlog.deciding.torque_range import Held, judge_range
from builderlog.knowing.entries import Note, Privacy, Torqued
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Area

_Moment = tuple[date, str]  # a note's day and path: the order in which things were told


@dataclass(frozen=True, slots=True)
class Group:
    """One entry of `torqued` with all that follows from the rest of the journal."""

    note: Note
    line: Torqued
    tasks: tuple[str, ...]  # of its note; an entry carries none of its own
    areas: tuple[Area, ...]  # of these tasks, tail to nose; several where the note has several
    calibration: Calibration
    setting: Setting
    held: Held
    again: date | None  # the day on which the same fasteners were torqued again
    open_because: tuple[str, ...]  # what is still to be done; empty where `again` is a day

    @property
    def is_open(self) -> bool:
        """Whether anything is still to be done."""
        return bool(self.open_because)

    @property
    def state(self) -> str:
        """`open`, `closed`, or `done again` where a later entry took its place."""
        return "done again" if self.again else "open" if self.is_open else "closed"


@dataclass(frozen=True, slots=True)
class _Entry:
    """An entry in its note, at its moment."""

    moment: _Moment
    note: Note
    line: Torqued


def register(ledger: Ledger) -> tuple[Group, ...]:
    """All groups: areas from tail to nose, those without an area last; in each, open ones first.

    Within that in order of day and path. A group whose note works in several areas stands with
    the first of them. Notes of which only the time reaches anyone are left out.
    """
    maker = _Maker(ledger)
    return tuple(sorted(maker.groups(), key=maker.order))


class _Maker:
    """What all entries of a journal are seen against."""

    def __init__(self, ledger: Ledger) -> None:
        self._wrenches = {wrench.name: wrench for wrench in ledger.settings.wrenches}
        self._tasks = ledger.worklist.by_id
        self._areas = {area.id: area for area in tail_to_nose(ledger.worklist.areas)}
        self._ranks = {area: rank for rank, area in enumerate(self._areas)}
        self._whole = aircraft_of(ledger)
        told = [note for note in ledger.notes if note.privacy is not Privacy.HOURS_ONLY]
        self._notes = sorted(told, key=_moment)
        self._opened = {word.text: _moment(note) for note in self._notes for word in note.opens}

    def groups(self) -> Iterator[Group]:
        """Every entry, oldest first. Of one note all stand: it may tell of two alike."""
        entries = [
            _Entry(_moment(note), note, line) for note in self._notes for line in note.torqued
        ]
        newest = {key: entry.moment for entry in entries for key in self._keys(entry)}
        for entry in entries:
            last = max((newest[key] for key in self._keys(entry)), default=entry.moment)
            yield self._group(entry, last[0] if last > entry.moment else None)

    def _keys(self, entry: _Entry) -> list[tuple[str, str, str]]:
        """The same words in another area are other fasteners; those of no area stand apart."""
        fasteners = same_fasteners(entry.line)
        if fasteners is None:
            return []
        areas = [area.id for area in self._areas_of(_tasks(entry.note))]
        return [(*fasteners, area) for area in areas or [""]]

    def _group(self, entry: _Entry, again: date | None) -> Group:
        line = entry.line
        tasks = _tasks(entry.note)
        areas = self._areas_of(tasks)
        wrench = self._wrenches.get(line.wrench.text) if line.wrench else None
        opened = self._opened_after(entry.moment, {*tasks, *(area.id for area in areas)})
        return Group(
            note=entry.note,
            line=line,
            tasks=tasks,
            areas=areas,
            calibration=calibration_on(wrench, entry.note.day),
            setting=judge_setting(line, wrench),
            held=judge_range(line, self._joint(line, tasks, areas)),
            again=again,
            open_because=() if again else tuple(_missing(line, opened)),
        )

    def _areas_of(self, tasks: Iterable[str]) -> tuple[Area, ...]:
        named = {self._tasks[task].area for task in tasks if task in self._tasks}
        return tuple(area for key, area in self._areas.items() if key in named)

    def _joint(self, line: Torqued, tasks: Iterable[str], areas: Iterable[Area]) -> Joint:
        own = [word.text for word in (line.where, line.bolt) if word]
        around = [self._tasks[task].name for task in tasks if task in self._tasks]
        return joint_of(own, (*around, *(area.name for area in areas)), self._whole)

    def _opened_after(self, moment: _Moment, names: set[str]) -> tuple[str, date] | None:
        """The newest opening of its tasks or areas after it; one in its own note came first.

        An opening may be for another reason; the record does not say, so the group is open.
        """
        later = [(self._opened[name], name) for name in names if name in self._opened]
        newest, word = max(later, default=(moment, ""))
        return (word, newest[0]) if newest > moment else None

    def order(self, group: Group) -> tuple[int, bool, _Moment]:
        """By area, then what is open first, then by moment."""
        ranks = [self._ranks[area.id] for area in group.areas]
        return min(ranks, default=len(self._ranks)), not group.is_open, _moment(group.note)


def _tasks(note: Note) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line.task.text for line in note.tasks))


def _moment(note: Note) -> _Moment:
    return note.day or date.min, note.path


def same_fasteners(line: Torqued) -> tuple[str, str] | None:
    """What two entries must share to speak of the same fasteners: where, and which bolt.

    Case and blanks do not matter. None where the entry does not say where.
    """
    if line.where is None:
        return None
    return _folded(line.where.text), _folded(line.bolt.text if line.bolt else "")


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _missing(line: Torqued, opened: tuple[str, date] | None) -> Iterator[str]:
    """What a close-out needs and the record does not show."""
    if line.wanted is None:
        yield "no torque value on record"
    if line.wrench is None:
        yield "no wrench named"
    if line.marked is None:
        yield "nothing said of a mark"
    elif not line.marked:
        yield "no mark applied"
    if opened:
        yield f"{opened[0]} was opened again on {opened[1]}, and it was not torqued since"
