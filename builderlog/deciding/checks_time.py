"""Checks of time: a day has 24 hours, nobody is in two places at once, dates follow each other.

The limits of 16 hours a day and of overlapping spans are common practice for plausibility.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from builderlog.knowing.entries import Note
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.units import DAY, HOUR, Length
from builderlog.reading.problem import Place, Problem, doubt, mistake

LONG_DAY = 16 * HOUR
LONG_SILENCE_DAYS = 3 * 366
LONG_HOLIDAY_DAYS = 366


def long_days(ledger: Ledger) -> Iterator[Problem]:
    """More than 24 hours of one person on one day is a mistake, more than 16 a doubt."""
    days: dict[tuple[str, date], list[Worked]] = {}
    for worked in ledger.work:
        days.setdefault((worked.person, worked.day), []).append(worked)
    for (person, day), work in days.items():
        seconds = sum(worked.seconds for worked in work)
        place = max(worked.place for worked in work)
        told = f"{person} has {length_text(seconds)} on {day}, over all notes"
        if seconds > DAY:
            yield mistake(place, "day-too-long", f"{told}; a day has 24 hours, mend the times")
        elif seconds > LONG_DAY:
            yield doubt(place, "long-day", f"{told}; mend it if that is not so")


@dataclass(frozen=True, slots=True, order=True)
class _Presence:
    """One span of one person, in seconds on one continuous clock."""

    start: int
    place: Place
    end: int
    note: str
    is_task: bool


def overlapping_spans(ledger: Ledger) -> Iterator[Problem]:
    """Two spans of one person that share time, over all notes; a task's span lies in its hours."""
    by_person: dict[str, list[_Presence]] = {}
    for note in ledger.notes:
        for person, length, place, is_task in _spans(note, ledger.settings.builder or ""):
            begin = (note.day.toordinal() if note.day else 0) * DAY
            for span in length.spans:
                presence = _Presence(
                    begin + span.start, place, begin + span.end, note.path, is_task
                )
                by_person.setdefault(person, []).append(presence)
    for person, presences in by_person.items():
        yield from _overlaps(person, sorted(presences))


def _spans(note: Note, builder: str) -> Iterator[tuple[str, Length, Place, bool]]:
    for hours in note.hours:
        yield hours.person.text if hours.person else builder, hours.length, hours.place, False
    for line in note.tasks:
        if line.length:
            for person in dict.fromkeys(word.text for word in line.who) or {builder: None}:
                yield person, line.length, line.place, True


def _overlaps(person: str, presences: list[_Presence]) -> Iterator[Problem]:
    lasting: dict[tuple[str, bool], _Presence] = {}  # of each note and kind the one that ends last
    for presence in presences:
        lasting = {key: other for key, other in lasting.items() if other.end > presence.start}
        for (note, is_task), other in lasting.items():
            if note != presence.note or is_task == presence.is_task:
                yield _overlap(person, *sorted((other, presence), key=lambda each: each.place))
                break
        key = (presence.note, presence.is_task)
        if key not in lasting or lasting[key].end < presence.end:
            lasting[key] = presence


def _overlap(person: str, first: _Presence, second: _Presence) -> Problem:
    told = (
        f"this span of {person} shares time with the one in {first.place.path} "
        f"line {first.place.line}; one person is in one place, mend one of them"
    )
    return mistake(second.place, "spans-overlap", told)


def written_before(ledger: Ledger) -> Iterator[Problem]:
    """A note cannot be written before its day."""
    for note in ledger.notes:
        if note.written and note.day and note.written.day < note.day:
            told = f"written {note.written.day} is before the note's own day, {note.day}"
            yield doubt(note.written.place, "written-before", f"{told}; mend one of them")


def before_the_start(ledger: Ledger) -> Iterator[Problem]:
    """Work before the day on which the journal says the project began."""
    started = ledger.settings.started
    for note in ledger.notes:
        if started and note.day and note.day < started.day and (note.hours or note.tasks):
            told = f"work on {note.day}, but journal.yaml says started: {started.day}; mend one"
            yield doubt(note.place, "before-start", told)


def outside_their_time(ledger: Ledger) -> Iterator[Problem]:
    """Work of a person before `from` or after `until`."""
    people = {person.name: person for person in ledger.settings.people}
    for worked in ledger.work:
        person = people[worked.person]
        early = person.since and worked.day < person.since.day
        late = person.until and worked.day > person.until.day
        if early or late:
            told = f"{person.name} works on {worked.day}, outside from and until in journal.yaml"
            yield doubt(worked.place, "outside-their-time", f"{told}; mend one of them")


def far_from_the_others(ledger: Ledger) -> Iterator[Problem]:
    """A note years after the one before it: perhaps a slip in the year."""
    for before, note in pairwise(ledger.notes):
        if before.day and note.day and (note.day - before.day).days > LONG_SILENCE_DAYS:
            told = f"this note is of {note.day}, the one before it of {before.day}; mend the year"
            yield doubt(note.place, "far-from-others", f"{told} if that is not so")


def holidays_in_order(ledger: Ledger) -> Iterator[Problem]:
    """A holiday ends on its first day or later; one of more than a year may be a slip."""
    for holiday in ledger.settings.holidays:
        first, last = holiday.since.day, holiday.last
        if holiday.until and last < first:
            told = f"this holiday ends on {last}, before its first day, {first}; mend one of them"
            yield mistake(holiday.until.place, "ends-before-it-begins", told)
        elif holiday.until and (last - first).days > LONG_HOLIDAY_DAYS:
            told = f"this holiday goes on from {first} until {last}; mend the year if it is wrong"
            yield doubt(holiday.until.place, "long-holiday", told)


def fixed_before_found(ledger: Ledger) -> Iterator[Problem]:
    """A snag put right before it was found."""
    for snag in ledger.snags:
        if snag.fixed and snag.fixed_on and snag.fixed_on < snag.day:
            told = (
                f"snag {snag.number} was found on {snag.day}, after this; mend the number or a date"
            )
            yield doubt(snag.fixed.place, "fixed-before-found", told)


def rates_repeated(ledger: Ledger) -> Iterator[Problem]:
    """Two rates of one currency for one day."""
    rates = sorted(ledger.settings.exchange, key=lambda rate: (rate.currency, rate.on, rate.place))
    for first, second in pairwise(rates):
        if (first.currency, first.on) == (second.currency, second.on):
            told = f"a second rate for {second.currency} on {second.on}; keep one of them"
            yield mistake(second.place, "repeated-rate", told)


TIME_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    long_days,
    overlapping_spans,
    written_before,
    before_the_start,
    outside_their_time,
    far_from_the_others,
    holidays_in_order,
    fixed_before_found,
    rates_repeated,
)
