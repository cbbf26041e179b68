"""Journals made by hand for tests of the pace: so much work a week, and tasks with estimates."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from builderlog.knowing.entries import DatedWord
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.settings import Holiday, Settings, Task
from builderlog.knowing.units import HOUR, Length
from tests.making import NOWHERE, dated, day, ledger, settings, task, worked

MONDAY = day("2026-01-05")


def estimated(name: str, hours: int | None, *, done: bool = False) -> Task:
    """A task with an estimate of so many hours; None: without."""
    return replace(task(name, done=done), estimate=Length(hours * HOUR) if hours else None)


def week_by_week(
    hours: Iterable[int], task_id: str | None = "W1", person: str = "Ines"
) -> tuple[Worked, ...]:
    """Work on the Mondays of weeks that follow each other from January 2026, none where it is 0."""
    days = (MONDAY + timedelta(weeks=count) for count in range(10_000))
    return tuple(
        worked(on.isoformat(), each * HOUR, task_id, person)
        for on, each in zip(days, hours, strict=False)
        if each
    )


def holiday(first: str, last: str | None = None, why: str | None = None) -> Holiday:
    """A holiday of journal.yaml."""
    return Holiday(dated(first), DatedWord(day(last), NOWHERE) if last else None, why)


def settled(*holidays: Holiday) -> Settings:
    """The usual journal, with these holidays."""
    return replace(settings(), holidays=holidays)


def journal(
    work: Sequence[Worked],
    *tasks: Task,
    holidays: Iterable[Holiday] = (),
    until: date | None = None,
) -> Ledger:
    """The ledger of this work; its record ends on `until`, else with its last week."""
    made = ledger(work=work, tasks=tasks, settled=settled(*holidays))
    last = max(row.day for row in work) if work else MONDAY
    return replace(made, record_date=until or last + timedelta(days=6 - last.weekday()))
