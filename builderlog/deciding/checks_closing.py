"""Checks of closings: what was still open at work that a note has closed and that stays closed.

That no picture shows it is told by `checks_shown`. The longer list of what could still be mended,
while the work is in sight, is in `before_closing`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.coverage import coverage
from builderlog.deciding.stakes import stakes
from builderlog.deciding.task_record import Closing, TaskRecord
from builderlog.deciding.torque_register import Group, register
from builderlog.deciding.torque_words import name_of
from builderlog.deciding.visible import hiding
from builderlog.deciding.visits_first import Wish, named, unmet, wishes
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.reading.problem import Place, Problem, gap


@dataclass(frozen=True, slots=True)
class Closed:
    """One word that hides tasks up to the end of the record, with these tasks."""

    closing: Closing
    records: tuple[TaskRecord, ...]

    @property
    def day(self) -> date:
        """The day of its note."""
        return self.closing.note.day or date.max

    @property
    def tasks(self) -> frozenset[str]:
        """The ids of its tasks."""
        return frozenset(record.id for record in self.records)


def closings_in_force(ledger: Ledger) -> tuple[Closed, ...]:
    """What is closed at the end of the record; of an area the tasks that were begun by then."""
    if not any(note.closes for note in ledger.notes):
        return ()
    found: dict[tuple[str, Place], tuple[Closing, list[TaskRecord]]] = {}
    for record in coverage(ledger):
        closing = hiding(record.closings)
        if closing and _was_begun(record, closing):
            key = (closing.note.path, closing.word.place)
            found.setdefault(key, (closing, []))[1].append(record)
    return tuple(Closed(closing, tuple(records)) for closing, records in found.values())


def _was_begun(record: TaskRecord, closing: Closing) -> bool:
    day = closing.note.day or date.max
    return closing.word.text == record.id or any(row.day <= day for row in record.work)


def closed_with_snag(ledger: Ledger, closed: Closed) -> Iterator[Problem]:
    """A snag that was found before, and that no note puts right."""
    for snag in ledger.snags:
        if snag.fixed is None and snag.day <= closed.day and _is_of(snag, closed):
            told = _head([snag.line.task.text] if snag.line.task else [])
            told += f"'{closed.closing.word}' is closed, and snag {snag.number} "
            told += f"('{snag.line.snag}') is still open; put it right, or write "
            told += f"fixed: {snag.number} if it was"
            yield gap(closed.closing.word.place, "closed-with-snag", told)


def _head(tasks: Sequence[str]) -> str:
    """`W1: `, by which a message is about one task alone."""
    return f"{tasks[0]}: " if len(tasks) == 1 else ""


def _is_of(snag: Snag, closed: Closed) -> bool:
    """Of one of its tasks, or of the area that it names as a whole."""
    if snag.line.task:
        return snag.line.task.text in closed.tasks
    return bool(snag.line.area) and str(snag.line.area) == closed.closing.word.text


def closed_untorqued(closed: Closed, groups: Iterable[Group]) -> Iterator[Problem]:
    """Fasteners torqued before, of notes that name only what is closed, and something is open."""
    for group in groups:
        before = (group.note.day or date.min) <= closed.day
        if before and group.is_open and group.tasks and closed.tasks.issuperset(group.tasks):
            told = f"{_head(group.tasks)}'{closed.closing.word}' is closed, and of "
            told += f"{name_of(group.line)} the record has: {'; '.join(group.open_because)}; "
            told += "write what was done in the torqued entry, or torque them when it is opened"
            told += " again"
            yield gap(closed.closing.word.place, "closed-untorqued", told)


def closed_without_visit(ledger: Ledger, closed: Iterable[Closed]) -> Iterator[Problem]:
    """A visit that the builder or the rulebook wanted first is not on record."""
    wanted = wishes(ledger)
    at_stake = stakes(ledger) if wanted else {}
    for each in closed:
        yield from _without_visit(each, wanted, at_stake)


def _without_visit(
    closed: Closed, wanted: Iterable[Wish], at_stake: Mapping[str, int]
) -> Iterator[Problem]:
    for wish in wanted:
        for each in unmet(wish, closed.records):
            if not each.worked_since:
                word, head = closed.closing.word, _head(each.tasks)
                closes = "is closed" if head else f"closes {named(each.tasks)}"
                told = f"{head}'{word}' {closes}: {each.words}; write it under visits: if "
                told += "there was one"
                stake = sum(at_stake.get(task, 0) for task in each.tasks)
                yield gap(word.place, "closed-without-visit", told, stake)


def closing_problems(ledger: Ledger) -> Iterator[Problem]:
    """Everything about what is closed at the end of the record."""
    found = closings_in_force(ledger)
    groups = register(ledger) if found else ()
    for closed in found:
        yield from closed_with_snag(ledger, closed)
        yield from closed_untorqued(closed, groups)
    yield from closed_without_visit(ledger, found)


CLOSING_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (closing_problems,)
