"""What others get instead of a note with nothing but its time, and how a seal is held against it.

In the inspector's view such a note is replaced by one of the same time under a neutral name, so its
digest cannot be that of the seal: the line of a kept-back file is met there by any such note of
its day.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.journal import NOTES_FOLDER
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.parts import follow_parts
from builderlog.reading.prose import Prose

_STUB = re.compile(r"notes/\d{4}-\d{2}-\d{2}-time-only(?:-\d+)?\.md", re.ASCII)


def time_only_stem(note: Note) -> str:
    """The path, without its ending, of what stands for a note in the inspector's view."""
    return f"{NOTES_FOLDER}{note.day}-time-only"


def is_stub(note: Note) -> bool:
    """True for a note such as stands in the inspector's view: its time, and not a word beside."""
    plain = only_time(note)
    return (
        note.privacy is Privacy.HOURS_ONLY
        and _STUB.fullmatch(note.path) is not None
        and replace(note, prose=plain.prose) == plain
        and not note.prose.text.strip()
    )


def only_time(note: Note) -> Note:
    """The note as if it held nothing but its time."""
    return Note(
        path=note.path,
        place=note.place,
        day=note.day,
        hours=note.hours,
        tasks=note.tasks,
        privacy=note.privacy,
        prose=Prose("", note.prose.place),
    )


def hidden_notes(notes: Iterable[Note]) -> list[Note]:
    """Those of which nothing but the time reaches anyone."""
    return [note for note in notes if note.privacy is Privacy.HOURS_ONLY]


def as_handed_over(ledger: Ledger) -> Ledger:
    """The ledger as if hidden notes held nothing but their time, as in the inspector's view."""
    hidden = {note.path for note in hidden_notes(ledger.notes)}
    if not hidden:
        return ledger
    notes = tuple(only_time(note) if note.path in hidden else note for note in ledger.notes)
    pictures = tuple(
        replace(one, uses=tuple(use for use in one.uses if use.note not in hidden))
        for one in ledger.pictures
    )
    return replace(ledger, notes=notes, parts=follow_parts(notes), pictures=pictures)
