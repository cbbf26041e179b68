"""Evidence that is missing of work still in sight, ordered by how soon other work will hide it.

Nobody writes down when that will be. The order of the work list is taken for the order of work:
what follows a task in its area hides it, and soonest where that has begun.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import IntEnum

from builderlog.deciding.before_closing import ClosingDesk, ClosingLine, Lack, is_begun
from builderlog.deciding.checks_shown import far_enough
from builderlog.deciding.stakes import stakes
from builderlog.deciding.task_columns import kind_of
from builderlog.deciding.task_record import PROOF_WORDS, TaskRecord
from builderlog.deciding.visits_first import named
from builderlog.deciding.words import any_of, counted
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Proof
from builderlog.knowing.settings import Area


class Soon(IntEnum):
    """How soon a task may be hidden, the soonest first."""

    NOW = 0  # what follows it in its area has begun
    NEXT = 1  # it is done, and what follows has not begun
    LATER = 2  # it is not done itself


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the record does not show of a task, or of an area, that can still be seen."""

    line: ClosingLine
    area: str  # "" without a work list
    soon: Soon
    hidden_by: str  # the id of the task that follows; "" where none does
    last: date  # the last day of work on what hides it, else on the task itself

    @property
    def order(self) -> tuple[int, int]:
        """Soonest first; what was worked on last comes before what has rested."""
        return self.soon, -self.last.toordinal()


@dataclass(frozen=True, slots=True)
class _Cover:
    soon: Soon
    hidden_by: str
    last: date


def missing_evidence(ledger: Ledger, desk: ClosingDesk) -> tuple[Evidence, ...]:
    """All of it that no answer of the builder explains; within a day the costliest first."""
    at_stake = stakes(ledger)
    found = [each for each in _Finder(ledger, desk).found() if not each.line.because]
    found.sort(key=lambda each: (*each.order, -at_stake.get(each.line.task, 0)))
    return tuple(found)


class _Finder:
    """The tasks in sight of which something is on record, with what will hide each."""

    def __init__(self, ledger: Ledger, desk: ClosingDesk) -> None:
        self._ledger = ledger
        self._desk = desk
        self._quality = ledger.rulebook.quality if ledger.rulebook else {}
        by_area: dict[str, list[TaskRecord]] = {}
        for record in desk.records.values():
            by_area.setdefault(record.area, []).append(record)
        self._by_area = by_area
        self._covers = {
            record.id: _cover(record, records[at + 1 :] if area else [])
            for area, records in by_area.items()
            for at, record in enumerate(records)
        }

    def found(self) -> Iterator[Evidence]:
        for area, records in self._by_area.items():
            seen = [r for r in records if is_begun(r) and not self._desk.closed_before(r)]
            for record in seen:
                for line in (self._desk.picture(record), self._proof(record)):
                    if line:
                        yield self._evidence(line, area, [record])
            yield from self._builders(area, seen)
            for each in self._desk.unmet(seen):
                if each.worked_since:
                    continue
                about = [self._desk.records[task] for task in each.tasks]
                alone = each.tasks[0] if len(each.tasks) == 1 else ""
                told = each.words if alone else f"{named(each.tasks)}: {each.words}"
                line = ClosingLine(Lack.VISIT, alone, told, each.wish.place)
                yield self._evidence(line, area, about)

    def _evidence(self, line: ClosingLine, area: str, about: Iterable[TaskRecord]) -> Evidence:
        """Of several tasks that counts which is hidden soonest."""
        covers = (self._covers[record.id] for record in about)
        cover = min(covers, key=lambda each: (each.soon, -each.last.toordinal()))
        return Evidence(line, area, cover.soon, cover.hidden_by, cover.last)

    def _proof(self, record: TaskRecord) -> ClosingLine | None:
        """Nothing speaks for the quality of work that is done or that is being covered."""
        task = record.task
        ready = record.done or self._covers[record.id].soon is Soon.NOW
        line = self._desk.measurement(record) if task and ready and record.amateur_work else None
        if task is None or line is None:
            return None
        asked = self._quality.get(kind_of(task)) or tuple(Proof)
        if record.proofs.keys() & set(asked):
            return None
        told = f"no {any_of([PROOF_WORDS[proof] for proof in asked])} on record"
        return ClosingLine(line.kind, line.task, told, line.place, line.because)

    def _builders(self, area: str, seen: list[TaskRecord]) -> Iterator[Evidence]:
        """Once an area, as `check` asks; one can still be shown at any task that is not done."""
        all_shots = {s.path: s for record in self._by_area[area] for s in record.shots}
        seen_at_work = any(shot.builder_seen for shot in all_shots.values())
        if not area or seen_at_work or not far_enough(self._by_area[area]):
            return
        lines = (self._desk.builder(record) for record in seen if record.amateur_work)
        missing = [line for line in lines if line]
        if missing:
            line = missing[-1]
            pictures = counted(len(all_shots), "picture")
            told = f"{pictures} of the area, and in none is a builder seen"
            place = self._areas[area].place if area in self._areas else line.place
            asked = ClosingLine(Lack.BUILDER, "", told, place, line.because)
            done = all(record.done for record in self._by_area[area])
            last = max(_last(record) for record in self._by_area[area])
            yield Evidence(asked, area, Soon.NEXT if done else Soon.LATER, "", last)

    @property
    def _areas(self) -> Mapping[str, Area]:
        return {area.id: area for area in self._ledger.worklist.areas}


def _cover(record: TaskRecord, following: Iterable[TaskRecord]) -> _Cover:
    """The first task after it that was begun, else the first at all."""
    later = list(following)
    begun = next((each for each in later if each.seconds), None)
    if begun is not None:
        return _Cover(Soon.NOW, begun.id, _last(begun))
    soon = Soon.NEXT if record.done else Soon.LATER
    return _Cover(soon, later[0].id if later else "", _last(record))


def _last(record: TaskRecord) -> date:
    return record.days[-1] if record.days else date.min
