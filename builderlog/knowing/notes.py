"""One raw note to an entry: its date from key or name, its words by the vocabulary."""

from __future__ import annotations

import re
from datetime import date

from builderlog.knowing import note_words as words
from builderlog.knowing.entries import DatedWord, Note, Privacy
from builderlog.knowing.forms import Desk, Row, read_row
from builderlog.knowing.units import UnreadableError, date_of
from builderlog.reading.front_matter import RawNote
from builderlog.reading.problem import Problem
from builderlog.reading.words import Table

_DATE_IN_NAME = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?!\d)", re.ASCII)


def note_of(raw: RawNote, currency: str | None) -> tuple[Note, tuple[Problem, ...]]:
    """The note as far as it can be understood; `day` is None where no date can be."""
    desk = Desk(currency=currency)
    row = read_row(raw.table or Table((), raw.head), words.NOTE_KEYS, desk, "a shop note")
    day = _day(raw, row, desk)
    note = Note(
        path=raw.source.path,
        place=raw.head,
        day=day,
        title=row.get(words.TITLE),
        hours=row.many(words.HOURS),
        tasks=row.many(words.TASKS),
        parts=row.many(words.PARTS),
        photos=row.many(words.PHOTOS),
        measured=row.many(words.MEASURED),
        torqued=row.many(words.TORQUED),
        process=row.many(words.PROCESS),
        snags=row.many(words.SNAGS),
        fixed=row.many(words.FIXED),
        decided=row.many(words.DECIDED),
        visits=row.many(words.VISITS),
        away=row.many(words.AWAY),
        bulletins=row.many(words.BULLETINS),
        closes=row.many(words.CLOSES),
        opens=row.many(words.OPENS),
        next_steps=row.many(words.NEXT),
        where=row.get(words.WHERE),
        written=row.get(words.WRITTEN),
        privacy=_privacy(row),
        prose=raw.prose,
    )
    return note, tuple(desk.problems)


def _privacy(row: Row) -> Privacy:
    """A `private:` that cannot be read keeps the note private until it is mended."""
    read: Privacy | None = row.get(words.PRIVATE)
    if read is None:
        return Privacy.PRIVATE if words.PRIVATE.word in row.values else Privacy.OPEN
    return read


def _day(raw: RawNote, row: Row, desk: Desk) -> date | None:
    """The day of `date`, else of the file's name; where they differ the key counts."""
    named = _day_in_name(raw, desk)
    written: DatedWord | None = row.get(words.DATE)
    if written is None:
        if named is None and words.DATE.word not in row.values:
            told = "the note has no date; write date: 2026-03-14, or begin the file's name with it"
            desk.tell(raw.head, "no-date", told)
        return named
    if named is not None and named != written.day:
        told = f"the date is {written.day} here, but {named} in the file's name; make them agree"
        desk.tell(written.place, "dates-differ", told)
    return written.day


def _day_in_name(raw: RawNote, desk: Desk) -> date | None:
    name = raw.source.path.rpartition("/")[2]
    found = _DATE_IN_NAME.match(name)
    if not found:
        return None
    try:
        return date_of(name, int(found[1]), int(found[2]), int(found[3]))
    except UnreadableError as fault:
        desk.tell(
            raw.head, "unreadable", f"the file's name begins with no date of the calendar: {fault}"
        )
        return None
