"""The one way in which a new note reaches the disk: whole, lasting, and never over another file."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from builderlog.noting.new_note import NewNote, note_path, note_text
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused


def write_note(root: Path, note: NewNote, taken: Iterable[str]) -> str:
    """Writes a new note and returns its path; whoever calls holds the journal's lock.

    `taken` are the journal's paths. Where another was faster with a name, the next free one is
    tried. Raises Refused where the folder cannot be written; then nothing is left behind.
    """
    return write_note_text(root, note, taken, note_text(note))


def write_note_text(root: Path, note: NewNote, taken: Iterable[str], text: str) -> str:
    """The same with a text that is ready, as of a draft; the note gives its day and title."""
    names = set(taken)
    while True:
        path = note_path(note.day, note.title, names)
        try:
            write_new(root / path, text.encode("utf-8"))
        except Refused:
            if not os.path.lexists(root / path):
                raise
            names.add(path)
        else:
            return path
