"""What an area or task still lacks before it is closed and can no longer be seen.

It asks more than `check` does: what is thin can be mended for as long as the work is in sight.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from builderlog.deciding import sums
from builderlog.deciding.checks_claim import claim_problems
from builderlog.deciding.coverage import coverage
from builderlog.deciding.explaining import explain
from builderlog.deciding.stakes import builder_tenths
from builderlog.deciding.task_record import PROOF_PLURALS, PROOF_WORDS, TaskRecord
from builderlog.deciding.torque_register import Group, register
from builderlog.deciding.torque_words import name_of
from builderlog.deciding.visible import could_be_seen, hiding
from builderlog.deciding.visits_first import Unmet, named, unmet, wishes
from builderlog.deciding.words import counted, listed
from builderlog.knowing.entries import Note
from builderlog.knowing.forms import nearest
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.knowing.settings import Role
from builderlog.reading.problem import Place

A_DAY = timedelta(days=1)  # a picture of the morning after shows the evening's work


class Lack(StrEnum):
    """What is missing, in the order in which it is told."""

    VISIT = "visit"
    SNAG = "snag"
    TORQUE = "torque"
    PICTURE = "picture"
    BUILDER = "builder in a picture"
    MEASUREMENT = "measurement"
    WORK = "work"


# What `check` tells of the same, so that one answer of the builder explains both.
_CODES = {
    Lack.PICTURE: "task-without-picture",
    Lack.BUILDER: "no-builder-seen",
    Lack.MEASUREMENT: "done-without-proof",
}


@dataclass(frozen=True, slots=True)
class ClosingLine:
    """One thing to see to first; `because` is the builder's explanation of it, if any."""

    kind: Lack
    task: str  # its id; "" where it is of several, or of the area as a whole
    message: str  # without the task at its head and without a full stop
    place: Place
    because: str = ""


@dataclass(frozen=True, slots=True)
class BeforeClosing:
    """What the record shows to be missing for one area or task."""

    subject: str  # the id as written
    name: str
    lines: tuple[ClosingLine, ...]
    closed_since: date | None = None  # it was closed by an earlier note, and not opened since


class UnknownSubjectError(Exception):
    """Neither an area nor a task has that name; says so in a sentence."""


def before_closing(ledger: Ledger, subject: str) -> BeforeClosing:
    """What is to be seen to before it is closed. Raises UnknownSubjectError."""
    return ClosingDesk(ledger).before(subject)


def closing_now(ledger: Ledger, note: Note) -> tuple[BeforeClosing, ...]:
    """The same for each word in the note's `closes`; a line stands but once.

    A word that is no area and no task is left out: it is told as a mistake.
    """
    if not note.closes:
        return ()
    desk = ClosingDesk(ledger, note)
    found: list[BeforeClosing] = []
    seen: set[tuple[Place, Lack, str, str]] = set()
    for word in dict.fromkeys(word.text for word in note.closes):
        if not desk.knows(word):
            continue
        one = desk.before(word)
        keys = {line: (line.place, line.kind, line.task, line.message) for line in one.lines}
        fresh = tuple(line for line in one.lines if keys[line] not in seen)
        seen.update(keys.values())
        found.append(replace(one, lines=fresh))
    return tuple(found)


def closed_last(ledger: Ledger) -> tuple[BeforeClosing, ...]:
    """The same for what is closed by the notes of the record's last day with a note."""
    last = max((note.day for note in ledger.notes if note.day), default=None)
    newest = (note for note in ledger.notes if note.day == last)
    return tuple(each for note in newest for each in closing_now(ledger, note))


class ClosingDesk:
    """A ledger with all that is asked of it before work is closed, found once.

    `now` is a note whose own closings are looked at as they are made: what it closes is in sight.
    """

    def __init__(self, ledger: Ledger, now: Note | None = None) -> None:
        self._ledger = ledger
        self._now = now
        self.records = {record.id: record for record in coverage(ledger)}
        self._areas = {area.id: area for area in ledger.worklist.areas}
        self._open_groups = [group for group in register(ledger) if group.is_open]
        self._open_snags = [snag for snag in ledger.snags if snag.fixed is None]
        self._wishes = wishes(ledger)
        self._because = _explanations(ledger)
        self._has_builders = any(p.role is Role.BUILDER for p in ledger.settings.people)

    def knows(self, subject: str) -> bool:
        """Whether an area, or a task that applies, has that id."""
        return subject in self.records or subject in self._areas

    def before(self, subject: str) -> BeforeClosing:
        """What is to be seen to before it is closed. Raises UnknownSubjectError."""
        if not self.knows(subject):
            raise UnknownSubjectError(self._unknown(subject))
        records, own = self._records_of(subject), self.records.get(subject)
        area = self._areas.get(subject)
        name = area.name if area else own.name if own else subject
        closed = self.closed_before(own) if own and not area else None
        seen = [each for each in records if each is own or not self.closed_before(each)]
        lines = [
            *self._visits(seen),
            *self._snags(subject, records),
            *self.torque({record.id for record in records}),
            *_together([line for record in seen for line in self._shown(record)]),
            *self._undone(subject),
        ]
        order = list(Lack)
        lines.sort(key=lambda line: order.index(line.kind))
        return BeforeClosing(subject, name, tuple(lines), closed)

    def _unknown(self, subject: str) -> str:
        task = self._ledger.worklist.by_id.get(subject)
        if task is not None:
            return f"worklist.yaml says that {subject} does not apply to this aircraft"
        ids = [*self._areas, *self.records]
        told = f"'{subject}' is no area and no task"
        if not ids:
            return f"{told}: no note names a task yet"
        areas = listed(list(self._areas))
        known = f"{areas}, or a task of these" if areas else named(self.records)
        return f"{told}{nearest(subject, ids) or f'; write one of {known}'}"

    def _records_of(self, subject: str) -> list[TaskRecord]:
        """The task, however little is on record; of an area what was begun."""
        own = self.records.get(subject)
        in_area = [
            each
            for each in self.records.values()
            if each.area == subject and each is not own and is_begun(each)
        ]
        return [*([own] if own else []), *(in_area if subject in self._areas else [])]

    def closed_before(self, record: TaskRecord) -> date | None:
        """The day since which it cannot be seen, unless the note at hand is what closes it."""
        closing = hiding(record.closings)
        if closing is None or (self._now and closing.note.path == self._now.path):
            return None
        return closing.note.day

    def unmet(self, records: Iterable[TaskRecord]) -> tuple[Unmet, ...]:
        """The wishes for a visit that are not met for some of these tasks."""
        held = list(records)
        return tuple(each for wish in self._wishes for each in unmet(wish, held))

    def _visits(self, records: Iterable[TaskRecord]) -> Iterator[ClosingLine]:
        for each in self.unmet(records):
            alone = each.tasks[0] if len(each.tasks) == 1 else ""
            words = each.words if alone else f"{named(each.tasks)}: {each.words}"
            yield ClosingLine(Lack.VISIT, alone, words, each.wish.place)

    def _snags(self, subject: str, records: Iterable[TaskRecord]) -> Iterator[ClosingLine]:
        """Those of the tasks; of an area all, and before a task is closed those of its area too."""
        tasks = {record.id for record in records}
        areas = {subject, *(record.area for record in records)}
        for snag in self._open_snags:
            task = snag.line.task.text if snag.line.task else ""
            area = snag.line.area.text if snag.line.area else ""
            listed_in = self._ledger.worklist.by_id.get(task)
            of_area = subject in self._areas and listed_in and listed_in.area == subject
            if task in tasks or of_area or (not task and area and area in areas):
                yield ClosingLine(Lack.SNAG, task, snag_words(snag), snag.line.place)

    def torque(self, tasks: set[str]) -> Iterator[ClosingLine]:
        """What is still to be done at fasteners of notes that name one of these tasks."""
        for group in self._open_groups:
            if tasks & set(group.tasks):
                alone = group.tasks[0] if len(group.tasks) == 1 else ""
                yield ClosingLine(Lack.TORQUE, alone, torque_open_words(group), group.line.place)

    def _shown(self, record: TaskRecord) -> Iterator[ClosingLine]:
        found = (
            self.picture(record) or _old_picture(record),
            self.builder(record),
            self.measurement(record),
        )
        return (line for line in found if line)

    def picture(self, record: TaskRecord) -> ClosingLine | None:
        """No picture shows it, taken while it could be seen."""
        if any(could_be_seen(record.closings, shot.taken) for shot in record.shots):
            return None
        but = " but a scanned page" if record.pictures and not record.shots else ""
        told = f"no picture{but} shows it"
        return self._line(Lack.PICTURE, record, told, record.id)

    def builder(self, record: TaskRecord) -> ClosingLine | None:
        """Pictures show it, and none a builder at it."""
        shots = record.shots
        if not shots or not self._has_builders or any(shot.builder_seen for shot in shots):
            return None
        where = "its only picture" if len(shots) == 1 else f"any of its {len(shots)} pictures"
        return self._line(Lack.BUILDER, record, f"no builder is seen in {where}", record.area)

    def measurement(self, record: TaskRecord) -> ClosingLine | None:
        """Nothing was measured; what else speaks for the work is named."""
        if record.measured:
            return None
        others = [counted(n, PROOF_WORDS[p], PROOF_PLURALS[p]) for p, n in record.proofs.items()]
        speak = f" (but {listed(others)})" if others else ""
        return self._line(Lack.MEASUREMENT, record, f"no measurement on record{speak}", record.id)

    def _line(self, kind: Lack, record: TaskRecord, told: str, head: str) -> ClosingLine:
        """At the task's place in the work list; without one, at the first note that names it."""
        first = record.notes[0].place if record.notes else Place("worklist.yaml")
        place = record.task.place if record.task else first
        return ClosingLine(
            kind, record.id, told, place, self._because.get((_CODES[kind], head), "")
        )

    def _undone(self, subject: str) -> Iterator[ClosingLine]:
        """Tasks of an area that the work list has not as done."""
        area = self._areas.get(subject)
        tasks = [task for task in area.tasks if task.applies and not task.done] if area else []
        if area and tasks:
            told = f"not done by the work list: {named([task.id for task in tasks])}"
            yield ClosingLine(Lack.WORK, "", told, area.place)


def is_begun(record: TaskRecord) -> bool:
    """Something of it is there to be seen that is the builder's to show."""
    claimed = record.task is not None and builder_tenths(record.task) > 0
    return bool(record.seconds) or (record.done and claimed)


def _together(lines: Iterable[ClosingLine]) -> Iterator[ClosingLine]:
    """The lines; where no builder is seen at several tasks, one for all with one explanation."""
    alone: dict[str, list[ClosingLine]] = {}
    for line in lines:
        if line.kind is Lack.BUILDER:
            alone.setdefault(line.because, []).append(line)
        else:
            yield line
    for same in alone.values():
        tasks = named([line.task for line in same])
        told = f"{tasks}: no builder is seen in any of their pictures"
        yield same[0] if len(same) == 1 else replace(same[0], task="", message=told)


def snag_words(snag: Snag) -> str:
    """`snag 2026-03-31.2: No grommet in the cable hole`."""
    return f"snag {snag.number}: {snag.line.snag}"


def torque_open_words(group: Group) -> str:
    """`Rudder cable links, AN3-6A: no mark applied`."""
    return f"{name_of(group.line)}: {'; '.join(group.open_because)}"


def _old_picture(record: TaskRecord) -> ClosingLine | None:
    """Its newest picture is from before work that is in no picture."""
    newest = max((shot.taken for shot in record.shots), default=None)
    since = [row for row in record.work if newest and row.day > newest + A_DAY]
    seconds = sums.seconds_of(since)
    if newest is None or not seconds or record.task is None:
        return None
    told = f"its newest picture is of {newest}, with {length_text(seconds)} of work since"
    return ClosingLine(Lack.PICTURE, record.id, told, record.task.place)


def _explanations(ledger: Ledger) -> dict[tuple[str, str], str]:
    """What the builder answered to gaps and doubts, by their code and the id at their head."""
    answers = ledger.settings.answers
    explained = explain(claim_problems(ledger), answers) if answers else ()
    return {
        (problem.code, problem.message.partition(":")[0]): problem.because
        for problem in explained
        if problem.because
    }
