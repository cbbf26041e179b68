"""`note` with words: a whole note in one go, without an editor."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

from builderlog.command.note_clock import older_words, take_spans, waiting_spans
from builderlog.command.note_told import overlaid, print_document, read_again, tell, understood_of
from builderlog.command.note_words import asked_note, with_clock
from builderlog.command.opening import CACHE_FOLDER, Opened
from builderlog.command.shape import DONE, REFUSED
from builderlog.command.terminal import say
from builderlog.deciding.checks_files import missing_files
from builderlog.deciding.tonight import night_of
from builderlog.noting.clock import ClockSpan, clock_words
from builderlog.noting.clock_file import clock_of
from builderlog.noting.filing import INBOX_FOLDER, Filed, HowToFile, file_pictures, take_away
from builderlog.noting.new_note import NewNote, note_path, note_text
from builderlog.noting.note_edit import CannotEditError, with_snag_numbers
from builderlog.noting.writing import write_note
from builderlog.reading.problem import Problem, Weight
from builderlog.storing.lock import hold_soon
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.replacing import replace_original


@dataclass(frozen=True, slots=True)
class Evening:
    """The evening that a note is of, and the day on which it is written."""

    day: date
    tonight: date  # the evening that it is now
    today: date  # by the calendar


def evening_of(arguments: Namespace, opened: Opened, now: datetime) -> Evening:
    """The day that was asked for, else tonight's."""
    tonight = night_of(now, opened.ledger.settings.day_ends)
    return Evening(arguments.on or tonight, tonight, now.date())


def written_on(evening: Evening) -> date | None:
    """`written`, where the note is not of tonight."""
    return evening.tonight if evening.day < evening.tonight else None


def note_at_once(arguments: Namespace, opened: Opened, evening: Evening) -> int:
    """Writes the note that the words ask for; what could not be counted is refused, unwritten.

    Raises Refused.
    """
    settings = opened.ledger.settings
    clock = clock_of(opened.root)
    waiting = waiting_spans(clock, opened.ledger.notes, evening.day, settings.day_ends)
    asked = replace(asked_note(arguments, opened.ledger, evening.day), written=written_on(evening))
    note = with_clock(asked, [span.words for span in waiting.spans], arguments)
    sources = sources_of(opened.root, note)
    if mistakes := _mistakes(opened, note):
        return _refuse(mistakes)
    taken = waiting.spans if note.hours != asked.hours else ()
    path, told = _write(opened, note, sources, (evening, taken))
    if waiting.since:
        told.append(f"the clock runs on, since {clock_words(waiting.since)}")
    told.append(older_words(clock, opened.ledger.notes, evening.day, settings.day_ends))
    _report(arguments, opened.root, (path, evening.tonight), [line for line in told if line])
    return DONE


def sources_of(root: Path, note: NewNote) -> list[Path]:
    """The files that its pictures are. Raises Refused where one is not there."""
    return [_source(root, photo.photo) for photo in note.photos]


def file_sources(
    opened: Opened, evening: Evening, sources: Sequence[Path], *, told: bool = False
) -> tuple[Filed, ...]:
    """Files pictures; `told` ones count for the evening where they have no date of their own."""
    if not sources:
        return ()
    started = opened.ledger.settings.started
    how = HowToFile(
        remove=False,
        today=evening.today,
        day=evening.day if told else None,
        started=started.day if started else None,
    )
    return file_pictures(opened.root, sources, how)


def _source(root: Path, written: str) -> Path:
    """The file that a --photo names, from the current folder or from the journal's."""
    for file in (Path(written), root / written):
        if file.is_file():
            return file
    raise Refused(f"there is no picture '{written}'; name the file as it lies on this machine")


def _mistakes(opened: Opened, note: NewNote) -> list[Problem]:
    """What would not count, were the note written; that pictures are not filed yet is none."""
    path = note_path(note.day, note.title, opened.folder.paths)
    would = overlaid(opened, path, note_text(note).encode("utf-8"))
    not_yet = set(missing_files(would.ledger))
    return [
        problem
        for problem in would.problems
        if problem.place.path == path
        and problem.weight is Weight.MISTAKE
        and problem not in not_yet
    ]


def _refuse(mistakes: Sequence[Problem]) -> int:
    say("builderlog: the note would not count like this, so nothing was written:", sys.stderr)
    for problem in mistakes:
        say(f"builderlog: {problem.code}: {problem.message}", sys.stderr)
    return REFUSED


def _write(
    opened: Opened,
    note: NewNote,
    sources: Sequence[Path],
    of: tuple[Evening, Sequence[ClockSpan]],
) -> tuple[str, list[str]]:
    """Files the pictures, writes the note and its snags' numbers, and clears the inbox."""
    root, (evening, taken) = opened.root, of
    with hold_soon(root / CACHE_FOLDER, f"the journal {root}"):
        filed = file_sources(opened, evening, sources, told=True)
        path = write_note(root, with_filed(note, filed), opened.folder.paths)
        number_snags(opened, path, note.day)
        take_spans(root, taken)
        clear_inbox(root, filed)
    return path, [one.told for one in filed if one.told]


def with_filed(note: NewNote, filed: Sequence[Filed]) -> NewNote:
    """The note with the paths under which its pictures were filed; without those that stay."""
    photos = tuple(
        replace(photo, photo=one.path)
        for photo, one in zip(note.photos, filed, strict=True)
        if one.path
    )
    return replace(note, photos=photos)


def clear_inbox(root: Path, filed: Sequence[Filed]) -> None:
    """Takes filed pictures out of the inbox; from anywhere else nothing is taken."""
    inbox = (root / INBOX_FOLDER).resolve()
    for one in filed:
        if one.path and one.source.resolve().is_relative_to(inbox):
            take_away(root, one)


def number_snags(opened: Opened, path: str, day: date) -> None:
    """Writes the numbers of a note's snags into it, where it has snags without one."""
    file = opened.root / path
    with refusing(f"read {file}"):
        data = file.read_bytes()
    try:
        numbered = with_snag_numbers(path, data, day, opened.ledger.notes)
    except CannotEditError as fault:
        say(f"{path}: its snags get no numbers: {fault}", sys.stdout)
        return
    if numbered != data:
        replace_original(file, data, numbered)


def _report(
    arguments: Namespace, root: Path, written: tuple[str, date], told: Sequence[str]
) -> None:
    path, tonight = written
    now = read_again(root)
    found = understood_of(now, path)
    if arguments.json:
        print_document(now, found, told)
        return
    say(f"Written: {root / path}", sys.stdout)
    tell(now, found, tonight)
    for line in told:
        say(line, sys.stdout)
