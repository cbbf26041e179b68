"""The numbers of the running total: how the hours grew month by month, and past which hundreds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import Link, Time, time_of

HOUR = 3600
ROUND_HOURS = (10, 25, 50, 100, 250, 500, 1000, 2500)
MOST_MARKS = 6
NEAR = 3  # an estimate farther away than so many times the total would flatten the drawing


@dataclass(frozen=True, slots=True)
class GrowthStep:
    """One month: what it added, and the total up to its end."""

    link: Link
    month: str  # "2026-03"
    short: str  # "Mar 2026"
    added: Time
    running: Time


@dataclass(frozen=True, slots=True)
class GrowthMark:
    """A round number of hours, passed in the month at a position from 0."""

    position: int
    words: str  # "100 h, Mar 2026"


@dataclass(frozen=True, slots=True)
class GrowthChart:
    """The running total; `estimate` is that of all tasks, drawn only where it is near."""

    title: str
    description: str
    steps: tuple[GrowthStep, ...]
    marks: tuple[GrowthMark, ...]
    estimate: Time | None
    near: bool


def growth_chart(book: Book) -> GrowthChart | None:
    """The running total of the whole record; None before its second month."""
    steps = tuple(_steps(book))
    if len(steps) < 2:
        return None
    total = steps[-1].running.seconds
    estimate = sum(task.estimate_seconds or 0 for task in book.public.tasks if task.applies)
    marks = tuple(_marks(steps, total))
    return GrowthChart(
        title="How the hours grew",
        description=_describe(steps, marks, estimate),
        steps=steps,
        marks=marks,
        estimate=time_of(estimate) if estimate else None,
        near=0 < estimate <= NEAR * total,
    )


def _steps(book: Book) -> Iterator[GrowthStep]:
    for month in book.public.months:
        yield GrowthStep(
            link=link_to_month(month.month),
            month=month.month,
            short=words.month_short(month.month),
            added=time_of(month.seconds),
            running=time_of(month.running_seconds),
        )


def _marks(steps: tuple[GrowthStep, ...], total: int) -> Iterator[GrowthMark]:
    """The highest round number that each month passed."""
    fits = (hours for hours in ROUND_HOURS if total <= hours * HOUR * MOST_MARKS)
    every = next(fits, ROUND_HOURS[-1])
    passed = 0
    for position, step in enumerate(steps):
        now = step.running.seconds // (every * HOUR)
        if now > passed:
            yield GrowthMark(position, f"{now * every}\N{NO-BREAK SPACE}h, {step.short}")
        passed = now


def _describe(steps: tuple[GrowthStep, ...], marks: tuple[GrowthMark, ...], estimate: int) -> str:
    last = steps[-1]
    passed = [f"{mark.words.replace(', ', ' in ')}" for mark in marks]
    told = f" Passed {words.listed(passed)}." if passed else ""
    aim = f" The estimates of all tasks come to {words.duration(estimate)}." if estimate else ""
    return f"{last.running.words} by the end of {last.link.words}.{told}{aim}"
