"""`note` in an editor: a draft is made, opened, tidied, read, and mended where one reading fits."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path, PurePosixPath

from builderlog.command.editor import confirmed, edit, find_editor
from builderlog.command.note_at_once import (
    Evening,
    clear_inbox,
    file_sources,
    number_snags,
    sources_of,
    with_filed,
    written_on,
)
from builderlog.command.note_clock import older_words, take_spans, waiting_spans
from builderlog.command.note_told import read_again, tell, tell_mistakes, understood_of
from builderlog.command.note_words import asked_note, says_something, with_clock
from builderlog.command.opening import CACHE_FOLDER, Opened
from builderlog.command.shape import DONE, MISTAKES
from builderlog.command.terminal import say
from builderlog.deciding.tonight import known_for
from builderlog.noting.clock import Clock, ClockSpan, spans_of, stopped
from builderlog.noting.clock_file import clock_of, keep_clock
from builderlog.noting.filing import Filed
from builderlog.noting.mending import Mending, mended, mendings
from builderlog.noting.new_note import NewNote, NewPhoto
from builderlog.noting.new_note_draft import HEAD, draft_text, first_line
from builderlog.noting.new_note_tidy import still_off, without_leftovers
from builderlog.noting.pictures_tonight import Waiting, WhichEvening, waiting_pictures
from builderlog.noting.writing import write_note_text
from builderlog.storing.begun import Begun, begun_names, hold_begun
from builderlog.storing.lock import Busy, hold_soon
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.replacing import replace_original


@dataclass(frozen=True, slots=True)
class Draft:
    """A note in the builder's editor: where it lies, what it was, whose evening it is."""

    opened: Opened
    path: str
    begun: Begun
    text: bytes
    evening: Evening

    @property
    def file(self) -> Path:
        """The note on the disk."""
        return self.opened.root / self.path


def note_in_editor(arguments: Namespace, opened: Opened, evening: Evening, now: datetime) -> int:
    """Makes tonight's draft, or takes up one that was left; opens it till the builder is done.

    Raises Refused.
    """
    editor = find_editor(os.environ)
    with ExitStack() as held:
        draft = None if says_something(arguments) else _left_over(opened, evening, held)
        if draft is None:
            draft = _new_draft(arguments, opened, evening, now, held)
        else:
            say(f"{draft.path} was begun and never finished; it opens again", sys.stdout)
        _say_unfinished(opened, draft.path)
        return _till_done(draft, editor)


def _say_unfinished(opened: Opened, path: str) -> None:
    """Tells of drafts of other evenings that a crash left behind."""
    names = begun_names(opened.root / CACHE_FOLDER)
    for note in opened.ledger.notes:
        if note.path != path and PurePosixPath(note.path).name in names:
            told = f"{note.path} was begun and never finished: builderlog note --on {note.day}"
            say(told, sys.stdout)


def _left_over(opened: Opened, evening: Evening, held: ExitStack) -> Draft | None:
    """A draft of that evening that a crash left behind, in no editor now."""
    for note in opened.ledger.notes:
        if note.day != evening.day:
            continue
        with ExitStack() as tried:
            try:
                begun = tried.enter_context(hold_begun(opened.root / CACHE_FOLDER, note.path))
            except Busy:
                continue
            text = begun.kept()
            if text is not None and HEAD.encode() in opened.folder.read(note.path):
                held.enter_context(tried.pop_all())
                return Draft(opened, note.path, begun, text, evening)
            begun.forget()
    return None


def _new_draft(
    arguments: Namespace, opened: Opened, evening: Evening, now: datetime, held: ExitStack
) -> Draft:
    root = opened.root
    pictures = waiting_pictures(
        opened.folder,
        opened.ledger,
        WhichEvening(evening.day, evening.today, root / CACHE_FOLDER),
    )
    with hold_soon(root / CACHE_FOLDER, f"the journal {root}"):
        spans = _spans(opened, evening, now)
        filed = file_sources(opened, evening, pictures.inbox)
        note = _asked(arguments, opened, evening)
        chosen = file_sources(opened, evening, sources_of(opened.root, note), told=True)
        note = _with_evening(with_filed(note, chosen), opened, _paths(pictures, filed))
        note = with_clock(note, [span.words for span in spans], arguments)
        text = draft_text(note, known_for(opened.ledger, evening.day))
        path = write_note_text(root, note, opened.folder.paths, text)
        begun = held.enter_context(hold_begun(root / CACHE_FOLDER, path))
        begun.keep(text.encode("utf-8"))
        clear_inbox(root, (*filed, *chosen))
    _say_pictures(pictures, (*filed, *chosen))
    return Draft(opened, path, begun, text.encode("utf-8"), evening)


def _spans(opened: Opened, evening: Evening, now: datetime) -> tuple[ClockSpan, ...]:
    """The clock's spans of that evening; a clock that runs tonight is stopped for its note."""
    clock, settings = clock_of(opened.root), opened.ledger.settings
    if clock.since and evening.day == evening.tonight:
        clock = _stopped(opened.root, clock, now)
    if told := older_words(clock, opened.ledger.notes, evening.day, settings.day_ends):
        say(told, sys.stdout)
    return waiting_spans(clock, opened.ledger.notes, evening.day, settings.day_ends).spans


def _stopped(root: Path, clock: Clock, now: datetime) -> Clock:
    try:
        standing, span = stopped(clock, now)
    except Refused as refusal:
        say(f"builderlog: {refusal}", sys.stderr)
        return clock
    keep_clock(root, standing)
    if span:
        say(f"The clock is stopped: {span.words}", sys.stdout)
    return standing


def _asked(arguments: Namespace, opened: Opened, evening: Evening) -> NewNote:
    note = asked_note(arguments, opened.ledger, evening.day)
    return replace(note, written=written_on(evening))


def _with_evening(note: NewNote, opened: Opened, paths: Iterable[str]) -> NewNote:
    """The note with the evening's pictures too, those that no note names."""
    named = {picture.path for picture in opened.ledger.pictures}
    named |= {photo.photo for photo in note.photos}
    more = tuple(NewPhoto(path) for path in dict.fromkeys(paths) if path not in named)
    return replace(note, photos=(*note.photos, *more))


def _paths(pictures: Waiting, filed: Sequence[Filed]) -> Iterator[str]:
    """The evening's pictures as they lie in the journal by now, in the order of the evening."""
    by_source = {one.source: one.path for one in filed}
    for picture in pictures.pictures:
        path = picture if isinstance(picture, str) else by_source.get(picture)
        if path:
            yield path


def _say_pictures(pictures: Waiting, filed: tuple[Filed, ...]) -> None:
    for one in filed:
        if one.told:
            say(one.told, sys.stdout)
    if pictures.others:
        many = pictures.others != 1
        told = f"{pictures.others} more picture{'s' if many else ''} in inbox/, not of this evening"
        say(f"{told}: builderlog unload", sys.stdout)


def _till_done(draft: Draft, editor: tuple[str, ...]) -> int:
    """The editor as often as the builder wants it; then what was understood."""
    before = draft.text
    while True:
        if not edit(editor, draft.file, first_line(before.decode("utf-8", "replace"))):
            raise Refused(
                f"{editor[0]} ended with a fault; the note stays as it is in {draft.file}, "
                "and builderlog note opens it again"
            )
        if not draft.file.exists():
            draft.begun.forget()
            raise Refused(f"{draft.file} is gone: moved or deleted while it was open")
        if draft.file.read_bytes() == draft.text and _drop(draft):
            return DONE
        _tidy(draft)
        if _mend(draft) or not confirmed("Open it again?", usual=True):
            break
        before = draft.file.read_bytes()
    return _finish(draft)


def _drop(draft: Draft) -> bool:
    """Asks whether a draft that nobody wrote into is to go; True where it is gone."""
    whole = without_leftovers(draft.text, draft.text)
    holds = b"hours:" in whole or b"photos:" in whole
    say("You left the note as it was made.", sys.stdout)
    if holds:
        say("It holds what the clock or the pictures tell.", sys.stdout)
    if not confirmed("Delete it?", usual=not holds):
        return False
    with hold_soon(draft.opened.root / CACHE_FOLDER, f"the journal {draft.opened.root}"):
        with refusing(f"remove {draft.file}"):
            if draft.file.read_bytes() != draft.text:
                return False
            draft.file.unlink()
        draft.begun.forget()
    say(f"{draft.path} is deleted; pictures and the clock's times wait for the next", sys.stdout)
    return True


def _tidy(draft: Draft) -> None:
    """Takes out what stood ready and was left alone."""
    data = draft.file.read_bytes()
    _write(draft, data, without_leftovers(data, draft.text))


def _write(draft: Draft, old: bytes, new: bytes) -> None:
    if new != old:
        with hold_soon(draft.opened.root / CACHE_FOLDER, f"the journal {draft.opened.root}"):
            replace_original(draft.file, old, new)


def _mend(draft: Draft) -> bool:
    """Tells mistakes; where one reading fits, mends them on a yes. True where none is left."""
    now = read_again(draft.opened.root)
    found = understood_of(now, draft.path)
    if not found.mistakes:
        return True
    tell_mistakes(now, found)
    data = draft.file.read_bytes()
    offered = mendings(draft.path, data)
    if not offered:
        return False
    for one in offered:
        _show(one)
    if not confirmed("Write it so?", usual=True):
        return False
    _write(draft, data, mended(data, offered))
    now = read_again(draft.opened.root)
    left = understood_of(now, draft.path)
    if left.mistakes:
        tell_mistakes(now, left)
    return not left.mistakes


def _show(mending: Mending) -> None:
    say(f"line {mending.line} as it is: {mending.old.strip()}", sys.stdout)
    say(f"line {mending.line} mended:   {mending.new.strip()}", sys.stdout)


def _finish(draft: Draft) -> int:
    """Numbers the snags, takes the clock's spans off, and says what was understood."""
    root, evening = draft.opened.root, draft.evening
    with hold_soon(root / CACHE_FOLDER, f"the journal {root}"):
        number_snags(draft.opened, draft.path, evening.day)
        settings = draft.opened.ledger.settings
        spans = spans_of(clock_of(root), evening.day, settings.day_ends)
        take_spans(root, [span for span in spans if span.words.encode() in draft.text])
    draft.begun.forget()
    now = read_again(root)
    found = understood_of(now, draft.path)
    say(f"Written: {draft.file}", sys.stdout)
    if found.mistakes or found.day is None:
        say("It has mistakes and does not count yet; builderlog check tells them", sys.stdout)
        return MISTAKES
    tell(now, found, evening.tonight)
    for number, line in still_off(draft.file.read_bytes()):
        say(f"line {number} does not count, take its # away if it should: {line}", sys.stdout)
    return DONE
