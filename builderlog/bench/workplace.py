"""The workplace: what both servers share, and the one way in which a form becomes a note.

Every deed here is done in a thread of its own, one after the other; the journal's lock is held
only while something is written.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from threading import Lock

from builderlog.bench.desk import Desk
from builderlog.bench.fields import Fields, one
from builderlog.bench.form import FormKept, Trouble, read_form, with_pictures
from builderlog.bench.inbox import Inbox
from builderlog.bench.live_journal import LiveJournal
from builderlog.noting.clock import Clock, started, stopped, without_noted
from builderlog.noting.clock_file import clock_of, keep_clock
from builderlog.noting.filing import Filed, HowToFile, file_pictures, take_away
from builderlog.noting.new_note import NewNote
from builderlog.noting.note_edit import with_snag_numbers
from builderlog.noting.writing import write_note
from builderlog.reading.yaml_edits import CannotEditError
from builderlog.storing.lock import hold_soon
from builderlog.storing.refusal import Refused
from builderlog.storing.replacing import replace_original


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a form: the note's path, or the form as it was filled in."""

    path: str = ""
    kept: FormKept | None = None


@dataclass(frozen=True, slots=True)
class Workplace:
    """A live journal with its inbox; `now` is the wall clock, without a zone."""

    live: LiveJournal
    inbox: Inbox
    now: Callable[[], datetime]
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    noted: dict[str, str] = field(default_factory=dict)  # a form's own word -> the note it became
    said: list[str] = field(default_factory=list)  # for the next page; no address can say it
    writing: Lock = field(default_factory=Lock)

    @property
    def root(self) -> Path:
        """The journal's folder."""
        return self.live.root

    def desk(self, *, phone: bool = False, token: str = "") -> Desk:
        """What a page is drawn from, as things stand now. Raises Refused."""
        journal = self.live.now
        return Desk(
            ledger=journal.ledger,
            problems=journal.problems,
            now=self.now(),
            token=token or self.token,
            inbox=self.inbox.pictures(),
            clock=self._clock(),
            phone=phone,
            once=secrets.token_urlsafe(12),
        )

    def write(self, fields: Fields, pictures: Sequence[str], *, phone: bool = False) -> Outcome:
        """Writes the note of a form; `pictures` are those that came with it, by inbox name."""
        whole = with_pictures(fields, pictures)
        with self.writing:
            once = one(fields, "once")
            if once and once in self.noted:
                return Outcome(self.noted[once])
            with suppress(Refused):  # what cannot be read now is told when it is written
                self.live.look()
            if one(fields, "do") == "attach":
                return Outcome(kept=FormKept(whole))
            outcome = self._write(whole, self.desk(phone=phone))
            if once and outcome.path:
                self.noted[once] = outcome.path
        return outcome

    def turn_clock(self, do: str) -> str:
        """Starts or stops the shop's clock; the sentence where that cannot be."""
        try:
            with self.writing, self._held():
                clock = clock_of(self.root)
                turned = started(clock, self.now()) if do == "start" else None
                keep_clock(self.root, turned or stopped(clock, self.now())[0])
        except Refused as refusal:
            return str(refusal)
        self.live.bulletin.tell("front", {})
        return ""

    def _write(self, fields: Fields, desk: Desk) -> Outcome:
        """The same code as `note` and `unload`: pictures filed, note written, inbox cleared."""
        read = read_form(fields, desk)
        if read.told:
            return Outcome(kept=FormKept(fields, read.told))
        stop = bool(one(fields, "clock"))
        try:
            with self._held():
                filed = self._file(read.note, desk)
                note = _with_paths(read.note, filed)
                path = write_note(self.root, note, self.live.now.folder.paths)
                with suppress(Refused):  # the note is written: the page tells what is wrong with it
                    self._number(path, note, desk)
                    for each in filed:
                        take_away(self.root, each)
                    self._settle_clock(desk, stop=stop)
        except Refused as refusal:
            return Outcome(kept=FormKept(fields, (Trouble("", str(refusal)),)))
        return Outcome(path)

    def _file(self, note: NewNote, desk: Desk) -> tuple[Filed, ...]:
        """Copies of the pictures under photos/; the inbox keeps them until the note is written."""
        settings = desk.ledger.settings
        began = settings.started.day if settings.started else None
        how = HowToFile(remove=False, today=desk.now.date(), day=note.day, started=began)
        sources = [self.inbox.folder / photo.photo for photo in note.photos]
        return file_pictures(self.root, sources, how) if sources else ()

    def _number(self, path: str, note: NewNote, desk: Desk) -> None:
        """Gives the snags their numbers; a note that cannot be edited keeps them unnumbered."""
        if not note.snags:
            return
        data = (self.root / path).read_bytes()
        try:
            numbered = with_snag_numbers(path, data, note.day, desk.ledger.notes)
        except CannotEditError:
            return
        replace_original(self.root / path, data, numbered)

    def _settle_clock(self, desk: Desk, *, stop: bool) -> None:
        """Stops the clock where the note took its time, and drops the spans that notes have."""
        self.live.look()
        clock = stopped(desk.clock, desk.now)[0] if stop else desk.clock
        ledger = self.live.now.ledger
        left = without_noted(clock, ledger.notes, ledger.settings.day_ends)
        if left != desk.clock:
            keep_clock(self.root, left)

    def _clock(self) -> Clock:
        try:
            return clock_of(self.root)
        except Refused:
            return Clock()  # said when it is turned

    def _held(self) -> AbstractContextManager[Path]:
        return hold_soon(self.live.cache, f"the journal {self.root}")


def _with_paths(note: NewNote, filed: tuple[Filed, ...]) -> NewNote:
    """The note with its pictures as they were filed. Raises Refused where one was not."""
    photos = tuple(
        replace(photo, photo=_path_of(each)) for photo, each in zip(note.photos, filed, strict=True)
    )
    return replace(note, photos=photos)


def _path_of(filed: Filed) -> str:
    """Where a picture was filed. Raises Refused with the reason where it was not."""
    if filed.path is None:
        raise Refused(filed.told or f"{filed.source} cannot be filed")
    return filed.path
