"""Small journals on disk that make a claim, in a line a task and a few lines a note."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import TypeVar

from builderlog.deciding.checks_claim import claim_problems
from builderlog.deciding.coverage import coverage
from builderlog.deciding.task_record import TaskRecord
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem
from tests.knowing.journals import ledger_of

Thing = TypeVar("Thing")

PEOPLE = "{Ines: builder, Tomas: builder, Ada: helper, Osk: paid, Bo: paid}"
PICTURE = re.compile(r"photos/[\w-]+\.jpg")
NO_PICTURE = ("task-without-picture", "no-builder-seen")


def journal(
    root: Path, tasks: Iterable[str], notes: Mapping[str, str], more: str = "rulebook: us-checklist"
) -> Ledger:
    """The ledger of tasks like `W1, state: done` (their first letter is their area) and of notes.

    A note stands under its day; a path `photos/x.jpg` in it is a picture, taken on the day that
    its name begins with, if it does.
    """
    areas: dict[str, list[str]] = {}
    for row in tasks:
        areas.setdefault(row[0], []).append(f"      - {{task: {row}}}\n")
    lists = "".join(f"  - area: {area}\n    tasks:\n{''.join(areas[area])}" for area in areas)
    paths = {path for text in notes.values() for path in PICTURE.findall(text)}
    return ledger_of(
        root,
        {
            "journal.yaml": f"title: A\nbuilder: Ines\npeople: {PEOPLE}\n{more}\n",
            "worklist.yaml": f"areas:\n{lists}",
            **{f"notes/{day}.md": f"---\n{text}\n---\n" for day, text in notes.items()},
            **{path: _picture(path) for path in paths},
        },
    )


def _picture(path: str) -> str:
    day = re.match(r"photos/(\d{4}-\d{2}-\d{2})", path)
    return f"(picture of {day[1]})" if day else "(picture)"


def told(ledger: Ledger, *left_out: str) -> list[str]:
    """`code path:line stake` of everything that the claim and the record tell, sorted."""
    problems = (each for each in claim_problems(ledger) if each.code not in left_out)
    return sorted(f"{each.code} {_at(each)} {each.stake}" for each in problems)


def messages(ledger: Ledger, code: str) -> list[str]:
    """The messages of one code."""
    return [each.message for each in claim_problems(ledger) if each.code == code]


def _at(problem: Problem) -> str:
    return f"{problem.place.path.removeprefix('notes/')}:{problem.place.line}"


def record_of(ledger: Ledger, task: str) -> TaskRecord:
    """The record of one task."""
    return next(record for record in coverage(ledger) if record.id == task)


def in_another_order(ledger: Ledger, random: Random, *, lists_of_tasks: bool = False) -> Ledger:
    """The same ledger with its lists in another order; those of areas and tasks too if asked."""

    def turned(things: tuple[Thing, ...]) -> tuple[Thing, ...]:
        return tuple(random.sample(things, len(things)))

    areas = ledger.worklist.areas
    if lists_of_tasks:
        areas = tuple(replace(area, tasks=turned(area.tasks)) for area in turned(areas))
    return replace(
        ledger,
        worklist=replace(ledger.worklist, areas=areas),
        notes=turned(ledger.notes),
        work=turned(ledger.work),
        pictures=turned(ledger.pictures),
        snags=turned(ledger.snags),
        parts=turned(ledger.parts),
    )
