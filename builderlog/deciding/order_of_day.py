"""How the notes of one day follow each other for a reader: by the clock, else by their names.

The record has an order of its own, `Note.order`, by which snags are numbered and parts followed:
numbers that were given once must stay. This one is for whoever reads along.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, time
from itertools import groupby

from builderlog.knowing.entries import Note
from builderlog.knowing.units import DAY, HOUR, MINUTE

_DATED = re.compile(r"\d{4}-\d{2}-\d{2}(?!\d)", re.ASCII)
_NUMBERED = re.compile(r"(.*?)[-_ ]*(\d*)", re.ASCII | re.DOTALL)
_FIRST = 1  # what a name without a number counts as: the second note of that name ends in -2


def in_order_of_day(notes: Iterable[Note], day_ends: time) -> tuple[Note, ...]:
    """Notes in order of day, and those of one day as the builder would tell them.

    Notes with spans of the clock follow each other by the first of them; a span that begins before
    `day_ends` belongs to the night after the evening. The others keep the place that their names
    give them: a number at the end counts as a number, and after all that have words in their
    names come those that have but the date, as tonight's note has until it is given a title.
    """
    by_name = sorted(notes, key=_by_name)
    days = groupby(by_name, key=lambda note: note.day)
    return tuple(note for _, found in days for note in _by_clock(tuple(found), day_ends))


def _by_clock(notes: tuple[Note, ...], day_ends: time) -> Iterator[Note]:
    """The notes of one day, those with a clock exchanged among each other."""
    begun = {note.path: start for note in notes for start in _starts(note, day_ends)[:1]}
    clocked = (note for note in notes if note.path in begun)
    waiting = iter(sorted(clocked, key=lambda note: begun[note.path]))
    return (next(waiting) if note.path in begun else note for note in notes)


def _starts(note: Note, day_ends: time) -> list[int]:
    """When each span of the note began, the first one first; in seconds since its midnight."""
    lengths = (*(each.length for each in note.hours), *(line.length for line in note.tasks))
    until = day_ends.hour * HOUR + day_ends.minute * MINUTE
    return sorted(
        span.start + (DAY if span.start < until else 0)
        for length in lengths
        if length
        for span in length.spans
    )


def _by_name(note: Note) -> tuple[date, bool, str, int, str]:
    folder, _, file = note.path.rpartition("/")
    stem = file.rpartition(".")[0]
    words = _DATED.sub("", stem, count=1) if _DATED.match(stem) else stem
    found = _NUMBERED.fullmatch(words)
    name, number = (found[1], found[2]) if found else (words, "")
    untitled = not name.strip("-_ ")
    return (note.day or date.min, untitled, f"{folder}/{name}", int(number or _FIRST), note.path)
