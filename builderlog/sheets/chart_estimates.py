"""The numbers of hours against estimates: what each area took of what the work list gave it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.deciding.public import PublicArea, PublicTask
from builderlog.deciding.sums import NO_AREA_NAME
from builderlog.sheets.book import Book
from builderlog.sheets.rows import Link, Time, time_of


@dataclass(frozen=True, slots=True)
class EstimateRow:
    """An area's hours beside its estimate; `estimate` is None where no task of it has one."""

    id: str
    name: str
    link: Link | None
    time: Time
    estimate: Time | None
    standing: str  # "32 h of 40 h"


@dataclass(frozen=True, slots=True)
class EstimateChart:
    """Hours by area against estimate; `longest` seconds is the longest of all bars."""

    title: str
    description: str
    rows: tuple[EstimateRow, ...]
    longest: int
    total: Time
    estimate: Time
    without: str | None  # how many tasks have no estimate
    over: bool  # an area took more than its estimate


def estimate_chart(book: Book) -> EstimateChart | None:
    """Every area with time or an estimate; None where no task has an estimate."""
    rows = tuple(_rows(book))
    applying = [task for task in book.public.tasks if task.applies]
    estimate = sum(task.estimate_seconds or 0 for task in applying)
    if not estimate:
        return None
    without = sum(not task.estimate_seconds for task in applying)
    return EstimateChart(
        title="Hours against the estimate",
        description=_describe(book, applying, estimate),
        rows=rows,
        longest=max(max(row.time.seconds, _seconds(row.estimate)) for row in rows),
        total=time_of(book.public.seconds),
        estimate=time_of(estimate),
        without=_without(without) if without else None,
        over=any(row.estimate and row.time.seconds > row.estimate.seconds for row in rows),
    )


def _without(number: int) -> str:
    return f"{words.counted(number, 'task')} {'has' if number == 1 else 'have'} no estimate."


def _rows(book: Book) -> Iterator[EstimateRow]:
    for area in book.areas.values():
        estimate = _estimate(book, area)
        if area.seconds or estimate:
            link = book.area_link(area.id)
            yield _row((area.id, area.name, link), area.seconds, estimate)
    rest = book.public.seconds - sum(area.seconds for area in book.areas.values())
    if rest:
        yield _row(("", NO_AREA_NAME, None), rest, 0)


def _row(named: tuple[str, str, Link | None], seconds: int, estimate: int) -> EstimateRow:
    time = time_of(seconds)
    aim = time_of(estimate) if estimate else None
    standing = f"{time.words} of {aim.words}" if aim else f"{time.words}, no estimate"
    return EstimateRow(*named, time, aim, standing)


def _estimate(book: Book, area: PublicArea) -> int:
    tasks = (book.tasks[name] for name in area.tasks if name in book.tasks)
    return sum(task.estimate_seconds or 0 for task in tasks if task.applies)


def _seconds(time: Time | None) -> int:
    return time.seconds if time else 0


def _describe(book: Book, applying: list[PublicTask], estimate: int) -> str:
    """All against all, then how the estimates of done tasks held."""
    total = words.duration(book.public.seconds)
    head = f"{total} worked; the estimates come to {words.duration(estimate)}."
    done = [task for task in applying if task.done and task.estimate_seconds and task.seconds]
    if not done:
        return head
    took, meant = sum(t.seconds for t in done), sum(t.estimate_seconds or 0 for t in done)
    what = "The one done task" if len(done) == 1 else f"The {len(done)} done tasks"
    return f"{head} {what} took {words.duration(took)} of {words.duration(meant)}."
