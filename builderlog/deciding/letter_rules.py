"""When a month can have a letter, and the sentence that says why not."""

from __future__ import annotations

from builderlog.deciding.letter_facts import MonthTold
from builderlog.deciding.weeks import last_day_of
from builderlog.deciding.words import counted, day_plain, month_long
from builderlog.knowing.ledger import Ledger


def why_no_letter(ledger: Ledger, told: MonthTold | None, month: str) -> str | None:
    """Why there is nothing that a letter of the month could tell; None where there is."""
    days = [note.day for note in ledger.notes if note.day]
    if not days:
        return "the journal has no note yet, and a letter tells of a month's notes"
    name = month_long(month)
    if told is None:
        first, last = min(days), max(days)
        if last_day_of(month) < first:
            return f"the record begins on {day_plain(first)}, so there is no letter of {name}"
        return f"the record ends on {day_plain(last)}, so there is no letter of {name} yet"
    if told.notes:
        return None
    if not told.month.evenings:
        return f"no note was written in {name}, so there is nothing that a letter could tell"
    count = told.month.evenings
    which = "the one note" if count == 1 else f"all {counted(count, 'note')}"
    private = f"{which} of {name} {'is' if count == 1 else 'are'} private"
    return f"{private}, and a letter tells only what friends may read"


def may_still_grow(ledger: Ledger, month: str) -> bool:
    """Whether the month is not over by the record, private notes included."""
    return ledger.record_date is None or ledger.record_date <= last_day_of(month)
