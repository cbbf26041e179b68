"""The days that the site may tell: those of public notes and of seals, of a private note none.

Sums hold private notes too, and are told by the month. What could be told of single days only by
looking at private notes (that the record ends with one, how long a pause was, in which of a
month's weeks there was work) is told only where public notes alone say the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from builderlog.deciding.months import MonthRollup
from builderlog.deciding.pace_months import MonthPace, month_paces
from builderlog.deciding.public import PublicMonth, PublicMonthPace
from builderlog.deciding.visibility import Visibility
from builderlog.deciding.words import month_of
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger, Worked

UNTOLD = 0  # days of a pause, weeks of a month: the pages pass over them
WEEKS_OF_MONTH = (1, 8, 15, 22)
NO_PACE = MonthPace(None, UNTOLD, 0, 0)


def with_told_date(ledger: Ledger, sight: Visibility) -> Ledger:
    """The ledger on the newest day of its record that friends know of anyhow.

    Work after it counts all the same. Another day than the record's own was asked for.
    """
    seals = [seal.sealed_on for seal in ledger.seals]
    whole = max([*_days_of(ledger.notes), *seals], default=None)
    if ledger.record_date != whole:
        return ledger
    public = (note for note in ledger.notes if note.path in sight.notes)
    return replace(ledger, record_date=max([*_days_of(public), *seals], default=None))


def with_told_work(told: Ledger, whole: Ledger, sight: Visibility) -> Ledger:
    """For the pace, which is reckoned week by week and whose weeks end with the record.

    What private notes give stands in the weeks of its month alike, for the window would move with
    its day. No work after the day that is told counts, unless another day was asked for.
    """
    end = told.record_date
    if end is None:
        return told
    rows = [
        each
        for row in told.work
        for each in ([row] if row.note in sight.notes else _evenly(row, end))
        if told is whole or each.day <= end
    ]
    return replace(told, work=tuple(sorted(rows, key=lambda row: row.day)))


def _evenly(row: Worked, end: date) -> Iterator[Worked]:
    """The row as one in each week of its month, to the second, as far as the record goes."""
    days = [row.day.replace(day=day) for day in WEEKS_OF_MONTH]
    told = [day for day in days if day <= end] or days[:1]
    share, rest = divmod(row.seconds, len(told))
    for position, day in enumerate(told):
        yield replace(row, day=day, seconds=share + (position < rest))


def _days_of(notes: Iterable[Note]) -> Iterator[date]:
    for note in notes:
        yield from (day for day in (note.day, note.written and note.written.day) if day)


def with_told_days(
    told: Iterable[PublicMonth], rolled: Sequence[MonthRollup], desk: tuple[Ledger, Visibility]
) -> Iterator[PublicMonth]:
    """The months with their pace; pause and weeks only where those tell nothing of private notes.

    `rolled` are the same months summed over all notes. A week at a month's end may hold days of
    the next one.
    """
    ledger, sight = desk
    shown, months = _shown_alone(ledger, sight), list(told)
    paces = month_paces(replace(shown, work=ledger.work), rolled)
    worked = {month_of(row.day) for row in shown.work if row.seconds > 0}
    for position, month in enumerate(months):
        pace = paces.get(month.month, NO_PACE)
        if any(each.not_shown for each in months[max(0, position - 1) : position + 2]):
            pace = replace(pace, weeks=UNTOLD, worked=0, holidays=0)
        pause = month.longest_gap_days if _tells_pause(months[: position + 1], worked) else UNTOLD
        public = PublicMonthPace(pace.per_week, pace.weeks, pace.worked, pace.holidays)
        yield replace(month, longest_gap_days=pause, pace=public)


def _tells_pause(months: Sequence[PublicMonth], worked: set[str]) -> bool:
    """Whether no private note can lie in the last month, nor in one where its first pause begins.

    That is the newest before it in which public notes have time.
    """
    for month in reversed(months):
        if month.not_shown:
            return False
        if month is not months[-1] and month.month in worked:
            return True
    return True


def _shown_alone(ledger: Ledger, sight: Visibility) -> Ledger:
    """As if there were no private notes."""
    notes = tuple(note for note in ledger.notes if note.path in sight.notes)
    return replace(
        ledger, notes=notes, work=tuple(row for row in ledger.work if row.note in sight.notes)
    )
