"""The monthly rollup: what each calendar month of the record came to, months without a note too."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from itertools import accumulate

from builderlog.deciding import sums
from builderlog.deciding.costs import spendings, sum_by_currency
from builderlog.deciding.weeks import last_day_of, months_between
from builderlog.deciding.words import month_of
from builderlog.knowing.entries import Money
from builderlog.knowing.ledger import Ledger, Worked


@dataclass(frozen=True, slots=True)
class MonthRollup:
    """One calendar month in sums over all notes, private ones too; whole seconds, exact money."""

    month: str  # "2026-03"
    seconds: int
    by_role: Mapping[str, int]  # always builder, helper, paid
    by_person: Mapping[str, int]  # only those with time, by alphabet
    by_area: Mapping[str, int]  # only areas with time; `sums.NO_AREA` ("") for the rest
    by_kind: Mapping[str, int]  # always fabrication, assembly, other
    untasked: int  # seconds given to no task
    notes: int
    days: int  # with time on them
    longest_gap_days: int  # see `longest_gap`
    photos: int  # distinct pictures that this month's notes name
    spent: Mapping[str, Decimal]  # by currency, not rounded
    tasks_begun: tuple[str, ...]  # their first time on record is in this month
    tasks_finished: tuple[str, ...]  # done by the work list, and their last time is in this month
    running_seconds: int  # all time up to this month's end


@dataclass(slots=True)
class _Gathered:
    """What belongs to one month before it is summed."""

    work: list[Worked] = field(default_factory=list)
    notes: int = 0
    photos: set[str] = field(default_factory=set)
    money: list[Money] = field(default_factory=list)
    begun: list[str] = field(default_factory=list)
    finished: list[str] = field(default_factory=list)


def months(ledger: Ledger) -> tuple[MonthRollup, ...]:
    """Every calendar month from that of the first note to that of the last; none without notes."""
    days = [note.day for note in ledger.notes if note.day]
    if not days:
        return ()
    gathered = _gather(ledger)
    names = list(months_between(min(days), max(days)))
    gaps = _gaps(ledger, (min(days), max(days)))
    running = accumulate(sums.seconds_of(gathered[name].work) for name in names)
    return tuple(
        _roll(ledger, name, gathered[name], (gaps[name], total))
        for name, total in zip(names, running, strict=True)
    )


def _gather(ledger: Ledger) -> defaultdict[str, _Gathered]:
    """One pass over each list of the ledger, so that many months cost no more than few."""
    found: defaultdict[str, _Gathered] = defaultdict(_Gathered)
    for row in ledger.work:
        found[month_of(row.day)].work.append(row)
    for note in ledger.notes:
        if note.day:
            found[month_of(note.day)].notes += 1
    for picture, use in sums.uses_of(ledger):
        found[month_of(use.day)].photos.add(picture.path)
    for spending in spendings(ledger):
        found[month_of(spending.day)].money.append(spending.counted)
    _gather_tasks(ledger, found)
    return found


def _gather_tasks(ledger: Ledger, found: defaultdict[str, _Gathered]) -> None:
    """Puts each task into the month that begins it and, where it is done, the one that ends it."""
    spans = task_spans(ledger.work)
    for task in sums.in_task_order(spans, ledger.worklist):
        first, last = spans[task]
        found[month_of(first)].begun.append(task)
        known = ledger.worklist.by_id.get(task)
        if known and known.done:
            found[month_of(last)].finished.append(task)


def task_spans(work: Iterable[Worked]) -> dict[str, tuple[date, date]]:
    """The first and the last day with time on each task; a task without time is not in it."""
    spans: dict[str, tuple[date, date]] = {}
    for row in work:
        if row.task is not None and row.seconds > 0:
            first, last = spans.get(row.task, (row.day, row.day))
            spans[row.task] = (min(first, row.day), max(last, row.day))
    return spans


def _gaps(ledger: Ledger, record: tuple[date, date]) -> Mapping[str, int]:
    """The longest gap of each month of the record, which begins and ends with a note."""
    return dict(longest_gaps(sums.days_with_time(ledger.work), record))


def longest_gaps(worked: list[date], record: tuple[date, date]) -> Iterator[tuple[str, int]]:
    """Each month of the record (first day, last day) with its longest run of days without time.

    A run is counted in whole days from the day after the last day with time, even where that
    lies in an earlier month, to the day before the next day with time, but never beyond the
    month's end: a pause from 10 March to 20 April counts 21 days in March (11th to 31st) and 40
    in April (11 March to 19 April). A run of which no day lies in the month is not its own.
    Days before the first note and after the last are no gap: the record does not speak of
    them. `worked` holds distinct days, oldest first.
    """
    before = record[0] - timedelta(days=1) if record[0] > date.min else record[0]
    waiting = iter(worked)
    day = next(waiting, None)
    for month in months_between(*record):
        longest, end = 0, min(last_day_of(month), record[1])
        while day is not None and day <= end:
            if day.day > 1:  # else the run ended with the month before
                longest = max(longest, (day - before).days - 1)
            before = day
            day = next(waiting, None)
        yield month, max(longest, (end - before).days)


def _roll(ledger: Ledger, month: str, found: _Gathered, told: tuple[int, int]) -> MonthRollup:
    """One month summed; `told` is its longest gap in days and the running total in seconds."""
    people = sums.seconds_by(found.work, lambda row: row.person)
    return MonthRollup(
        month=month,
        seconds=sums.seconds_of(found.work),
        by_role=sums.by_role(found.work),
        by_person={name: people[name] for name in sorted(people) if people[name]},
        by_area=sums.by_area(found.work, ledger.worklist),
        by_kind=sums.by_kind(found.work),
        untasked=sums.seconds_of(row for row in found.work if row.task is None),
        notes=found.notes,
        days=len(sums.days_with_time(found.work)),
        longest_gap_days=told[0],
        photos=len(found.photos),
        spent=sum_by_currency(found.money, ledger.settings.currency),
        tasks_begun=tuple(found.begun),
        tasks_finished=tuple(found.finished),
        running_seconds=told[1],
    )
