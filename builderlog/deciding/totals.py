"""The totals of the whole journal, and the document that `tally --json` prints."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from builderlog.deciding import sums
from builderlog.deciding.costs import shown, spendings, sum_by_currency
from builderlog.deciding.months import MonthRollup, months
from builderlog.deciding.weeks import week_of
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked


@dataclass(frozen=True, slots=True)
class TaskTally:
    """One task's time in whole seconds, and how many notes and pictures name it."""

    seconds: int
    by_kind: Mapping[str, int]  # always fabrication, assembly, other
    notes: int  # that name it in `tasks` or in a picture's `shows`
    photos: int  # distinct pictures with a use that shows it


@dataclass(frozen=True, slots=True)
class Tally:
    """All totals; seconds are whole, money exact and not yet rounded; all notes count."""

    seconds: int
    by_role: Mapping[str, int]  # always builder, helper, paid
    by_person: Mapping[str, int]  # only those with time, by alphabet
    by_day: Mapping[str, int]  # "2026-03-14"; only days with time
    by_week: Mapping[str, int]  # "2026-W11" (ISO 8601); only weeks with time
    by_month: Mapping[str, MonthRollup]  # months with at least one note
    by_area: Mapping[str, int]  # areas of the work list with time, in its order
    by_kind: Mapping[str, int]  # always fabrication, assembly, other
    by_task: Mapping[str, TaskTally]  # every task with work or named, in the work list's order
    notes: int
    days: int
    photos: int
    spent: Mapping[str, Decimal]
    untasked: int


def tally(ledger: Ledger) -> Tally:
    """Every total of the journal, by each of the ways of looking at it."""
    people = sums.seconds_by(ledger.work, lambda row: row.person)
    areas = sums.by_area(ledger.work, ledger.worklist)
    money = [spending.counted for spending in spendings(ledger)]
    return Tally(
        seconds=sums.seconds_of(ledger.work),
        by_role=sums.by_role(ledger.work),
        by_person={name: people[name] for name in sorted(people) if people[name]},
        by_day=_in_order(ledger, lambda row: row.day.isoformat()),
        by_week=_in_order(ledger, lambda row: week_of(row.day)),
        by_month={month.month: month for month in months(ledger) if month.notes},
        by_area={area: areas[area] for area in areas if area != sums.NO_AREA},
        by_kind=sums.by_kind(ledger.work),
        by_task=_by_task(ledger),
        notes=len(ledger.notes),
        days=len(sums.days_with_time(ledger.work)),
        photos=len(sums.named_pictures(ledger)),
        spent=sum_by_currency(money, ledger.settings.currency),
        untasked=sums.seconds_of(row for row in ledger.work if row.task is None),
    )


def _in_order(ledger: Ledger, key: Callable[[Worked], str]) -> dict[str, int]:
    """Seconds by day or week, oldest first, those without time left out."""
    found = sums.seconds_by(ledger.work, key)
    return {name: found[name] for name in sorted(found) if found[name]}


def _by_task(ledger: Ledger) -> dict[str, TaskTally]:
    notes, photos = notes_by_task(ledger), _photos_by_task(ledger)
    rows: defaultdict[str, list[Worked]] = defaultdict(list)
    for row in ledger.work:
        if row.task is not None:
            rows[row.task].append(row)
    return {
        task: _task_tally(rows[task], len(notes[task]), len(photos[task]))
        for task in sums.in_task_order({*rows, *notes, *photos}, ledger.worklist)
    }


def notes_by_task(ledger: Ledger) -> defaultdict[str, set[str]]:
    """The paths of the notes that name each task in `tasks` or in a picture's `shows`."""
    found: defaultdict[str, set[str]] = defaultdict(set)
    for note in ledger.notes:
        shows = [word for line in note.photos for word in line.shows]
        for word in (*(line.task for line in note.tasks), *shows):
            found[word.text].add(note.path)
    return found


def _photos_by_task(ledger: Ledger) -> defaultdict[str, set[str]]:
    found: defaultdict[str, set[str]] = defaultdict(set)
    for picture, use in sums.uses_of(ledger):
        for task in use.shows:
            found[task].add(picture.path)
    return found


def _task_tally(rows: list[Worked], notes: int, photos: int) -> TaskTally:
    return TaskTally(sums.seconds_of(rows), sums.by_kind(rows), notes, photos)


def tally_document(totals: Tally) -> dict[str, object]:
    """What `tally --json` prints: keys that other programs rely on; none is renamed.

    Whole seconds; money as decimal text in the currency's smallest unit, rounded half up.
    """
    return {
        "seconds": totals.seconds,
        "by_role": dict(totals.by_role),
        "by_person": dict(totals.by_person),
        "by_month": {name: _month_document(month) for name, month in totals.by_month.items()},
        "by_area": dict(totals.by_area),
        "by_task": {name: _task_document(task) for name, task in totals.by_task.items()},
        "notes": totals.notes,
        "photos": totals.photos,
        "spent": shown(totals.spent),
        "untasked": totals.untasked,
        "by_day": dict(totals.by_day),
        "by_week": dict(totals.by_week),
        "by_kind": dict(totals.by_kind),
        "days": totals.days,
    }


def _month_document(month: MonthRollup) -> dict[str, object]:
    return {
        "seconds": month.seconds,
        "by_role": dict(month.by_role),
        "notes": month.notes,
        "days": month.days,
        "photos": month.photos,
        "spent": shown(month.spent),
    }


def _task_document(task: TaskTally) -> dict[str, object]:
    kinds = {kind.value: task.by_kind[kind.value] for kind in Work}
    return {"seconds": task.seconds, **kinds, "notes": task.notes, "photos": task.photos}
