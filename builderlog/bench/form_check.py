"""A note that is not written yet, read as if it were: what would be a mistake in it, by field."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from builderlog.deciding.checks_time import TIME_CHECKS
from builderlog.knowing.entries import Note
from builderlog.knowing.hours import apportion
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.notes import note_of
from builderlog.noting.new_note import NewNote, note_path, note_text
from builderlog.reading.front_matter import read_note
from builderlog.reading.problem import Problem, Weight


def mistakes_in(note: NewNote, ledger: Ledger, tasks: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Field and sentence of each mistake; `tasks` are the names of the tasks' rows, in order."""
    path = note_path(note.day, note.title, ledger.files)
    raw, told = read_note(path, note_text(note).encode())
    read, told_note = note_of(raw, ledger.settings.currency)
    work, told_time = apportion(read, ledger.settings, ledger.worklist)
    after = replace(ledger, notes=(*ledger.notes, read), work=(*ledger.work, *work))
    told_beside = set(_of_time(after)) - set(_of_time(ledger))
    beside = sorted(told_beside, key=lambda problem: problem.order)
    for problem in (*told, *told_note, *told_time, *beside):
        if problem.weight is Weight.MISTAKE:
            yield _field(problem, read, tasks), problem.message


def _of_time(ledger: Ledger) -> Iterator[Problem]:
    """What is told of the hours of all notes together: a day too full, spans one over another."""
    for check in TIME_CHECKS:
        yield from check(ledger)


def _field(problem: Problem, note: Note, tasks: Sequence[str]) -> str:
    for line, name in zip(note.tasks, tasks, strict=False):
        if line.place == problem.place:
            return name
    return ""
