"""Snags numbered, and matched with how they were put right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import islice

from builderlog.knowing.entries import FixedLine, Note, Privacy, SnagLine
from builderlog.knowing.ledger import Snag
from builderlog.reading.problem import Problem, doubt, mistake

TOLD = 5  # open snags named in a message
_SEEN_BY = (Privacy.OPEN, Privacy.PRIVATE, Privacy.HOURS_ONLY)  # ever fewer


def number_snags(notes: Iterable[Note]) -> tuple[tuple[Snag, ...], tuple[Problem, ...]]:
    """All snags in order of day; a number that is given twice, or fixed but unknown, is told."""
    ordered = tuple(notes)
    snags: dict[str, Snag] = {}
    problems: list[Problem] = []
    for note, line, number in numbered(ordered):
        if number in snags:
            told = f"snag {number} is already in {snags[number].note}; give this one another number"
            problems.append(mistake(line.place, "repeated-snag", told))
        else:
            snags[number] = Snag(number, note.path, note.day or date.min, line)
    for note in ordered:
        for fixed in note.fixed:
            problems.extend(_put_right(snags, note, fixed))
    return tuple(snags.values()), tuple(problems)


def numbered(notes: Iterable[Note]) -> Iterator[tuple[Note, SnagLine, str]]:
    """Each snag with `no`, else the date and its place that day, over all notes of the day.

    The notes are in order of day and path and have a day each.

    Private notes come after the others on their day, and last those of which nothing but the time
    reaches anyone, so that whoever has the rest counts the same numbers, and misses none.
    """
    places: dict[date, int] = {}
    for note in sorted(notes, key=lambda note: (note.day, _SEEN_BY.index(note.privacy))):
        found = [line for visit in note.visits for line in visit.found]
        for line in sorted([*note.snags, *found], key=lambda line: line.place):
            assert note.day is not None  # noqa: S101
            places[note.day] = places.get(note.day, 0) + 1
            number = line.number.text if line.number else f"{note.day}.{places[note.day]}"
            yield note, line, number


def _put_right(snags: dict[str, Snag], note: Note, fixed: FixedLine) -> Iterator[Problem]:
    snag = snags.get(fixed.number.text)
    if snag is None:
        told = f"there is no snag {fixed.number}{_open_ones(snags)}"
        yield mistake(fixed.number.place, "unknown-snag", told)
        return
    if snag.fixed is not None:
        told = f"snag {snag.number} was put right in {snag.fixed_in} already; this one counts"
        told = f"{told}; if it came back, write it as a new snag"
        yield doubt(fixed.number.place, "fixed-twice", told)
    snags[snag.number] = Snag(
        snag.number, snag.note, snag.day, snag.line, fixed, note.day, note.path
    )


def _open_ones(snags: dict[str, Snag]) -> str:
    """The newest few, since a long journal has many."""
    newest = (number for number in reversed(snags) if snags[number].fixed is None)
    numbers = list(islice(newest, TOLD))
    return f"; the newest open ones are {', '.join(numbers)}" if numbers else "; none is open"
