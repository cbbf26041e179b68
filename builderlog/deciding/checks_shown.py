"""Checks of what pictures show: the work before it is covered, and a builder at it.

Common practice, not a rule; AC 20-27G, paragraph 8.h(2), names photographs of all the steps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from builderlog.deciding.held import Held
from builderlog.deciding.task_record import Closing, TaskRecord
from builderlog.deciding.visible import could_be_seen, hiding
from builderlog.deciding.words import counted, listed
from builderlog.knowing.hours import length_text
from builderlog.knowing.settings import Area, Role, Task
from builderlog.reading.problem import Place, Problem, doubt, gap

MANY_NOTES = 3  # from so many on an area without a done task is worth a look


def tasks_without_picture(held: Held) -> Iterator[Problem]:
    """A task with work on record that no picture shows; a scanned page shows words, not work."""
    told_already = {record.id for _, records in _closed_unseen(held) for record in records}
    for task, record in held.tasks:
        if record.seconds and not record.shots and task.id not in told_already:
            but = " but a scanned page" if record.pictures else ""
            told = f"{task.id}: {length_text(record.seconds)} of work and no picture that shows it"
            told = f"{told}{but}; add shows: [{task.id}] to one"
            yield gap(task.place, "task-without-picture", told, held.stake_of([task.id]))


def closed_without_picture(held: Held) -> Iterator[Problem]:
    """Work that can no longer be seen and of which no picture was taken while it could be."""
    for closing, records in _closed_unseen(held):
        ids = [record.id for record in records]
        told = f"'{closing.word}' closes {listed(ids)}, and no picture from before shows "
        told += f"{'it' if len(ids) == 1 else 'them'}; add shows: [{', '.join(ids)}] to one that "
        told += "does, or take one when it is opened again"
        yield gap(closing.word.place, "closed-without-picture", told, held.stake_of(ids))


def _closed_unseen(held: Held) -> list[tuple[Closing, list[TaskRecord]]]:
    """By closing, the tasks that it hides to the end of the record and that were never shown."""
    found: dict[tuple[str, Place], tuple[Closing, list[TaskRecord]]] = {}
    for task, record in held.tasks:
        closing = hiding(record.closings)
        if closing and _concerned(task, record, closing, held) and not _was_shown(record):
            key = (closing.note.path, closing.word.place)
            found.setdefault(key, (closing, []))[1].append(record)
    return list(found.values())


def _concerned(task: Task, record: TaskRecord, closing: Closing, held: Held) -> bool:
    """Of an area that is closed, the tasks of which something was there to be seen."""
    if closing.word.text == task.id:
        return True
    day = closing.note.day or date.max
    worked = any(row.day <= day for row in record.amateur_work)
    return worked or (task.done and held.stake_of([task.id]) > 0)


def _was_shown(record: TaskRecord) -> bool:
    """Whether a picture was taken on a day on which the task could be seen."""
    return any(could_be_seen(record.closings, shot.taken) for shot in record.shots)


def builder_not_seen(held: Held) -> Iterator[Problem]:
    """An area in whose pictures no builder is seen (practice of inspectors, second hand)."""
    builders = [
        person.name for person in held.ledger.settings.people if person.role is Role.BUILDER
    ]
    for area in held.ledger.worklist.areas if builders else ():
        records = [record for task, record in held.tasks if task.area == area.id]
        shots = {shot.path: shot for record in records for shot in record.shots}
        if shots and far_enough(records) and not any(s.builder_seen for s in shots.values()):
            name = held.ledger.settings.builder
            name = name if name in builders else builders[0]
            told = _not_seen(area, len(shots), name)
            at_stake = (record.id for record in records if record.amateur_seconds)
            yield doubt(area.place, "no-builder-seen", told, held.stake_of(at_stake))


def far_enough(records: Iterable[TaskRecord]) -> bool:
    """Amateurs' work is on record, and a task is done or several notes work on the area."""
    held = list(records)
    notes = {note.path for record in held for note in record.worked_on}
    far = len(notes) >= MANY_NOTES or any(record.done for record in held)
    return far and any(record.amateur_seconds for record in held)


def _not_seen(area: Area, pictures: int, name: str) -> str:
    told = f"{area.id}: {counted(pictures, 'picture')} of it, and in none is a builder seen. This "
    told += "is practice and no rule, and who builds alone has no photographer: write "
    told += f"seen: [{name}] at a picture that shows one, or explain it in journal.yaml: "
    return f'{told}answers: [{{gap: "no-builder-seen: {area.id}:", because: …}}]'


SHOWN_CHECKS: tuple[Callable[[Held], Iterable[Problem]], ...] = (
    tasks_without_picture,
    closed_without_picture,
    builder_not_seen,
)
