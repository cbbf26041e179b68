"""Catching up: every picture in photos/ that no note names comes into the note of its evening.

Where there is none, one is laid out. Run twice it does nothing the second time, for then all
pictures have their note; a run that was stopped is finished by the next one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from builderlog.deciding.sealing import is_sealed
from builderlog.deciding.words import counted, listed, month_long, month_of
from builderlog.knowing.entries import Note
from builderlog.knowing.files import is_picture
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.noting.caught_up_note import Shot, caught_up_note
from builderlog.noting.filing import PHOTOS_FOLDER
from builderlog.noting.note_edit import CannotEditError
from builderlog.noting.picture_dates import Believing, Dated, date_filed, evening_of, is_page
from builderlog.noting.unloading import name_pictures, note_of_evening
from builderlog.noting.writing import write_note
from builderlog.reading.camera import camera_of
from builderlog.reading.folder import Folder
from builderlog.reading.photo_file import PhotoFile
from builderlog.storing.photo_facts import read_all
from builderlog.storing.refusal import refusing

CACHE_FOLDER = ".builderlog"
MOST_NAMED = 3  # of files of which the same is to be said
MOST_LINES = 10  # evenings that are told one by one

Group = tuple[date, str]  # the day of a note, and its path; "" where there is none


@dataclass(frozen=True, slots=True)
class _Left:
    """A picture that no note names, and its day."""

    path: str
    dated: Dated

    @property
    def taken(self) -> datetime | None:
        """The moment, where the picture tells it."""
        if self.dated.day is None or self.dated.at is None:
            return None
        return datetime.combine(self.dated.day, self.dated.at)


def catch_up(root: Path, today: date) -> Iterator[str]:
    """Writes what is to be written, and yields what to say of it, a sentence each.

    Whoever calls holds the journal's lock. Raises Refused where the journal cannot be written;
    what was written until then stays.
    """
    with refusing(f"read the journal in {root}"):
        folder = Folder.at(root)
        ledger = read_journal(folder, root / CACHE_FOLDER)
        photos = _unnamed(folder, ledger, root / CACHE_FOLDER)
    left, told = _dated(photos, ledger, today)
    groups, more = _by_note(left, ledger)
    yield from told
    yield from more
    written: list[str] = []
    taken = set(folder.paths)
    for (day, path), shots in sorted(groups.items()):
        if path:
            yield _added(root, day, path, shots)
        else:
            note = caught_up_note(day, [_shot(root, one) for one in shots], today)
            written.append(write_note(root, note, taken))
            taken.add(written[-1])
    yield from _summary(written, groups)
    if not photos:
        yield "every picture in photos/ stands in a note already"


def _unnamed(folder: Folder, ledger: Ledger, cache: Path) -> Mapping[str, PhotoFile]:
    """The facts of every picture in photos/ that no note names."""
    named = {picture.path for picture in ledger.pictures}
    left = [
        path
        for path in folder.paths
        if path.startswith(f"{PHOTOS_FOLDER}/") and is_picture(path) and path not in named
    ]
    # All together: so they are known when the journal is read again, and none is read twice.
    files = [(path, folder.where(path)) for path in (*sorted(named), *left)]
    facts = read_all(files, cache, lambda _more: None).photos
    return {path: facts[path] for path in left}


def _dated(
    photos: Mapping[str, PhotoFile], ledger: Ledger, today: date
) -> tuple[list[_Left], list[str]]:
    """Pictures that have a day; and, told in few lines, those that have none or are broken."""
    started = ledger.settings.started.day if ledger.settings.started else None
    believing = Believing(today, started)
    left: list[_Left] = []
    told: list[str] = []
    dayless: list[str] = []
    for path, photo in sorted(photos.items()):
        dated = date_filed(path, photo.taken, believing)
        if photo.fault:
            told.append(photo.fault)
        elif dated.day is None:
            dayless.append(path)
        else:
            left.append(_Left(path, dated))
    if dayless:
        told.append(
            f"{_few(dayless)}: no believable day stands in the picture or its name, so it stays "
            "without a note; give its name a day, such as 2026-03-14-spar.jpg"
        )
    return left, told


def _by_note(left: Iterable[_Left], ledger: Ledger) -> tuple[dict[Group, list[_Left]], list[str]]:
    """The pictures by evening and note; of sealed months what is to be said."""
    groups: dict[Group, list[_Left]] = {}
    sealed: dict[str, list[str]] = {}
    for one in left:
        day, note = _home(one, ledger)
        if is_sealed(ledger, month_of(day)):
            sealed.setdefault(month_of(day), []).append(one.path)
        else:
            groups.setdefault((day, note.path if note else ""), []).append(one)
    return groups, [_of_sealed(month, paths) for month, paths in sealed.items()]


def _home(one: _Left, ledger: Ledger) -> tuple[date, Note | None]:
    """The note of the evening; else one of the day in the calendar; else none, of the evening."""
    assert one.dated.day is not None  # noqa: S101
    evening = evening_of(one.dated, ledger.settings.day_ends) or one.dated.day
    for day in dict.fromkeys((evening, one.dated.day)):
        if note := note_of_evening(ledger.notes, day, one.dated):
            return day, note
    return evening, None


def _of_sealed(month: str, paths: Sequence[str]) -> str:
    are = "is" if len(paths) == 1 else "are"
    return (
        f"{month_long(month)} is sealed, so no note of it is touched or added: {_few(paths)} {are} "
        f"left without one; write it yourself and seal again (builderlog seal --amend {month})"
    )


def _few(paths: Sequence[str]) -> str:
    named = (
        listed(paths[:MOST_NAMED]) if len(paths) <= MOST_NAMED else ", ".join(paths[:MOST_NAMED])
    )
    return f"{named} and {len(paths) - MOST_NAMED} more" if len(paths) > MOST_NAMED else named


def _added(root: Path, day: date, note: str, shots: Sequence[_Left]) -> str:
    pictures = counted(len(shots), "picture")
    try:
        paths = [one.path for one in sorted(shots, key=_moment)]
        for pages in (False, True):
            name_pictures(root, note, [p for p in paths if is_page(p) is pages], pages=pages)
    except CannotEditError as fault:
        return f"{note}: {pictures} of {day} cannot be added here: {fault}"
    return f"{day}: {pictures} to {note}"


def _moment(one: _Left) -> tuple[str, str]:
    return one.taken.isoformat() if one.taken else "", one.path


def _shot(root: Path, one: _Left) -> Shot:
    camera = camera_of(root / one.path) if one.taken else ""
    return Shot(one.path, one.taken, camera, page=is_page(one.path))


def _summary(written: Sequence[str], groups: Mapping[Group, Sequence[_Left]]) -> Iterator[str]:
    """What was laid out: evening by evening where they are few, and in one line in any case."""
    if not written:
        return
    days = [day for day, note in sorted(groups) if not note]
    numbers = [len(groups[day, ""]) for day in days]
    if len(written) <= MOST_LINES:
        for day, path, number in zip(days, written, numbers, strict=True):
            yield f"{day}: {counted(number, 'picture')} in a new note, {path}"
    span = f"of {days[0]}" if len(days) == 1 else f"from {days[0]} to {days[-1]}"
    yield (
        f"{counted(len(written), 'note')} laid out with {counted(sum(numbers), 'picture')}, {span};"
        " write hours, tasks and a few words into each: builderlog check lists them"
    )
