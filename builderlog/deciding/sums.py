"""Sums of seconds over the ledger's work, and the order in which tasks are told."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture, Worked
from builderlog.knowing.settings import Role, Worklist

NO_AREA = ""  # stands where an area id would, for time that belongs to no area
NO_AREA_NAME = "Other work"  # what friends read there


def seconds_of(work: Iterable[Worked]) -> int:
    """All seconds together."""
    return sum(row.seconds for row in work)


def seconds_by(work: Iterable[Worked], key: Callable[[Worked], str]) -> dict[str, int]:
    """Seconds by what `key` says of a row, in the order in which it first says it."""
    sums: dict[str, int] = {}
    for row in work:
        sums[key(row)] = sums.get(key(row), 0) + row.seconds
    return sums


def by_role(work: Iterable[Worked]) -> dict[str, int]:
    """Seconds by role; always all roles, in the order builder, helper, paid."""
    return {role.value: 0 for role in Role} | seconds_by(work, lambda row: row.role.value)


def by_kind(work: Iterable[Worked]) -> dict[str, int]:
    """Seconds by kind of work; always all kinds, in the order fabrication, assembly, other."""
    return {kind.value: 0 for kind in Work} | seconds_by(work, lambda row: row.work.value)


def by_area(work: Iterable[Worked], worklist: Worklist) -> dict[str, int]:
    """Seconds by area, in the work list's order; only areas with time, then `NO_AREA` if any.

    What belongs to no area is time with no task, and time of a task that no work list names.
    """
    sums = seconds_by(work, lambda row: area_of(row.task, worklist))
    ids = [area.id for area in worklist.areas] + [NO_AREA]
    return {area: sums[area] for area in ids if sums.get(area)}


def area_of(task: str | None, worklist: Worklist) -> str:
    """The id of a task's area; `NO_AREA` for no task and for one that the work list lacks."""
    known = worklist.by_id.get(task) if task is not None else None
    return known.area if known else NO_AREA


def days_with_time(work: Iterable[Worked]) -> list[date]:
    """The distinct days with more than no time on them, oldest first."""
    return sorted({row.day for row in work if row.seconds > 0})


def in_task_order(ids: Iterable[str], worklist: Worklist) -> list[str]:
    """Distinct task ids in the work list's order, then those that it lacks by alphabet."""
    listed = [task.id for area in worklist.areas for task in area.tasks]
    ranks = {task: rank for rank, task in reversed(list(enumerate(listed)))}
    return sorted(set(ids), key=lambda task: (ranks.get(task, len(ranks)), task))


def named_pictures(ledger: Ledger) -> list[Picture]:
    """The pictures that a note names in `photos`; those only linked in its words do not count."""
    return [picture for picture in ledger.pictures if picture.uses]


def uses_of(ledger: Ledger) -> list[tuple[Picture, PhotoUse]]:
    """Every use of every picture, in the ledger's order."""
    return [(picture, use) for picture in ledger.pictures for use in picture.uses]
