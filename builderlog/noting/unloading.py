"""Unloading: pictures filed day by day, each handed to the note of its day, then taken away.

In this order, so that no moment loses or doubles one: filed, named in the note, gone from the
inbox. A run that was stopped is finished by the next one, which knows pictures by their bytes.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

from builderlog.deciding.likeness import alike
from builderlog.deciding.sealing import is_sealed
from builderlog.deciding.words import month_long, month_of
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger
from builderlog.noting.filing import Filed, HowToFile, Seen, Shelf, take_away
from builderlog.noting.new_note import NewPhoto
from builderlog.noting.note_edit import CannotEditError, with_photos
from builderlog.noting.picture_dates import Dated, evening_of, is_page
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.replacing import replace_original

A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Unloading:
    """What is asked: of which journal, and how; `how.remove` takes pictures from their place."""

    root: Path
    ledger: Ledger
    how: HowToFile


@dataclass(frozen=True, slots=True)
class Handed:
    """What became of the pictures of one evening that belong to one note, or to none.

    `day` is None for what has no day, or stands in a note already. `note` is '' where there is
    none; pictures that stay have no path and say why.
    """

    day: date | None
    note: str
    filed: tuple[Filed, ...]

    @property
    def new(self) -> int:
        """How many came into the journal."""
        return sum(one.path is not None and not one.was_there for one in self.filed)

    @property
    def again(self) -> int:
        """How many the journal held before."""
        return sum(one.path is not None and one.was_there for one in self.filed)

    @property
    def stay(self) -> int:
        """How many were not filed."""
        return sum(one.path is None for one in self.filed)


@dataclass(frozen=True, slots=True)
class _Evening:
    """Pictures that go together into one note (None: there is none yet)."""

    day: date
    note: Note | None
    seen: tuple[Seen, ...]


def unload(asked: Unloading, seen: Sequence[Seen]) -> Iterator[Handed]:
    """Files and hands over, evening by evening, the oldest first; what stays comes at the end.

    Whoever calls holds the journal's lock. Raises `Refused` where the journal cannot be
    written; what was handed over until then is done.
    """
    shelf = Shelf(asked.root)
    named = {picture.path for picture in asked.ledger.pictures}
    spoken_of = [_spoken_of(asked.ledger, one) for one in seen]
    fresh, known, strange = _sorted_out(shelf, spoken_of, named)
    for evening in _evenings(asked.ledger, fresh):
        yield _hand_over(asked, shelf, evening)
    rest = tuple(_settle(asked, shelf.file(one, remove=False)) for one in known)
    rest += tuple(shelf.file(one, remove=False) for one in strange)
    if rest:
        yield Handed(None, "", rest)


def nearly_same(
    ledger: Ledger, seen: Sequence[Seen], handed: Iterable[Handed]
) -> tuple[tuple[str, str], ...]:
    """Pictures that were filed now, each with one that the journal held or that came along.

    By their paths in the journal, where they are nearly the same.
    """
    prints = {one.path: one.file.likeness for one in ledger.pictures if not one.file.fault}
    old = dict.fromkeys(prints, "old")
    by_source = {one.source: one.photo for one in seen if one.photo}
    for one in (one for group in handed for one in group.filed):
        if one.path and not one.was_there:
            prints[one.path] = by_source[one.source].likeness
    sides = {path: old.get(path, path) for path in prints}
    return alike(prints, sides, lambda one, other: one != other)


def note_of_evening(notes: Iterable[Note], day: date, dated: Dated) -> Note | None:
    """The note of an evening; of several the one whose hours are nearest to the picture's time."""
    of_day = [note for note in notes if note.day == day]
    if len(of_day) < 2 or dated.at is None or dated.day is None:
        return of_day[0] if of_day else None
    second = _seconds(dated.at) + (dated.day - day) // A_DAY * 86_400
    return min(of_day, key=lambda note: _seconds_apart(note, second))


def _spoken_of(ledger: Ledger, seen: Seen) -> Seen:
    """A picture that a note names in the inbox stays there, else the note would name nothing."""
    for picture in ledger.pictures:
        if picture.path == seen.name and not seen.told:
            note = [*(use.note for use in picture.uses), *picture.linked_from][0]
            told = f"{seen.name}: {note} names it where it lies, so it is left there; "
            return replace(seen, told=told + "take it out of the note, and unload again")
    return seen


def _sorted_out(
    shelf: Shelf, seen: Iterable[Seen], named: set[str]
) -> tuple[list[Seen], list[Seen], list[Seen]]:
    """What has a day, what some note names already, and what cannot be filed."""
    fresh: list[Seen] = []
    known: list[Seen] = []
    strange: list[Seen] = []
    for one in seen:
        if one.photo is None or one.told:
            strange.append(one)
        elif shelf.find(one.photo) in named:
            known.append(one)
        else:
            (fresh if one.dated.day else strange).append(one)
    return fresh, known, strange


def _evenings(ledger: Ledger, seen: Iterable[Seen]) -> Iterator[_Evening]:
    """By day, and within it by note; pictures in the order in which they were taken."""
    groups: dict[tuple[date, str], tuple[Note | None, list[Seen]]] = {}
    for one in sorted(seen, key=_when):
        day, note = _place_of(ledger, one.dated)
        _, group = groups.setdefault((day, note.path if note else ""), (note, []))
        group.append(one)
    for (day, _), (note, group) in sorted(groups.items(), key=lambda item: item[0]):
        yield _Evening(day, note, tuple(group))


def _place_of(ledger: Ledger, dated: Dated) -> tuple[date, Note | None]:
    """The evening's note; else, where early hours have a note of their own day, that one."""
    assert dated.day is not None  # noqa: S101
    evening = evening_of(dated, ledger.settings.day_ends) or dated.day
    for day in dict.fromkeys((evening, dated.day)):
        if note := note_of_evening(ledger.notes, day, dated):
            return day, note
    return evening, None


def _when(seen: Seen) -> tuple[datetime, str, str]:
    """The stem comes before the name, so that `IMG_1.JPG` comes before its copy `IMG_1 (1).JPG`."""
    day, at = seen.dated.day or date.min, seen.dated.at or time.min
    return datetime.combine(day, at), seen.source.stem, seen.name


def _hand_over(asked: Unloading, shelf: Shelf, evening: _Evening) -> Handed:
    note = evening.note.path if evening.note else ""
    if reason := _why_not(asked, evening):
        stay = tuple(_staying(one, reason) for one in evening.seen)
        return Handed(evening.day, note, stay)
    filed = tuple(shelf.file(one, remove=False) for one in evening.seen)
    paths = dict.fromkeys(one.path for one in filed if one.path)
    if note and paths:
        name_pictures(asked.root, note, [*paths], pages=asked.how.pages)
    return Handed(evening.day, note, tuple(_settle(asked, one) for one in filed))


def name_pictures(root: Path, note: str, paths: Sequence[str], *, pages: bool = False) -> None:
    """Adds pictures to a note on the disk; one that it names already is not named again.

    Raises `CannotEditError`, or `Refused` where the note cannot be written.
    """
    file = root / note
    with refusing(f"read {note}"):
        data = file.read_bytes()
    photos = [NewPhoto(path, page=pages or is_page(path)) for path in paths]
    changed = with_photos(note, data, photos)
    if changed != data:
        replace_original(file, data, changed)


def _why_not(asked: Unloading, evening: _Evening) -> str:
    """Why pictures of an evening must stay: its month is sealed, its note cannot be changed."""
    month = month_of(evening.day)
    if is_sealed(asked.ledger, month):
        return (
            f"{month_long(month)} is sealed, so its notes are not touched; name it in a note of an "
            "open month with builderlog note --photo, or change the note yourself and seal again"
            f" (builderlog seal --amend {month})"
        )
    if evening.note is None:
        return ""
    if not os.access(asked.root / evening.note.path, os.W_OK):
        return f"{evening.note.path} is marked read-only, so it cannot be named there"
    with refusing(f"read {evening.note.path}"):
        data = (asked.root / evening.note.path).read_bytes()
    try:
        with_photos(evening.note.path, data, [NewPhoto("photos/2026/a-picture.jpg")])
    except CannotEditError as fault:
        return f"{evening.note.path} cannot be added to: {fault}"
    return ""


def _staying(seen: Seen, reason: str) -> Filed:
    digest = seen.photo.digest if seen.photo else ""
    return Filed(seen.source, None, digest, was_there=False, told=f"{seen.name}: {reason}")


def _settle(asked: Unloading, filed: Filed) -> Filed:
    """Takes the picture from its place where that is asked; where it cannot be, says so."""
    if not asked.how.remove or filed.path is None:
        return filed
    try:
        gone = take_away(asked.root, filed)
    except Refused as refusal:
        return replace(filed, told=f"{filed.path} is filed, but its original stays: {refusal}")
    if gone or not filed.source.is_file():
        return filed
    return replace(filed, told=f"{filed.path} is filed; {filed.source} changed since, and stays")


def _seconds(at: time) -> int:
    return at.hour * 3600 + at.minute * 60 + at.second


def _seconds_apart(note: Note, second: int) -> int:
    """How far a time is from a note's hours as the clock told them; far where it tells none."""
    of_tasks = [line.length for line in note.tasks if line.length]
    lengths = [*(line.length for line in note.hours), *of_tasks]
    spans = [span for length in lengths for span in length.spans]
    return min((max(span.start - second, second - span.end, 0) for span in spans), default=86_400)
