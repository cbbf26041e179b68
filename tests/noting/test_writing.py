"""A new note on the disk: under a free name, and never over another file."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from builderlog.noting.new_note import NewNote, note_text
from builderlog.noting.writing import write_note
from builderlog.storing.refusal import Refused

NOTE = NewNote(date(2026, 3, 14), "Skins", text="On.")
FIRST, SECOND = "notes/2026/2026-03-14-skins.md", "notes/2026/2026-03-14-skins-2.md"


def test_a_second_session_is_a_second_note(tmp_path: Path) -> None:
    """Where the name is taken by then, even unknown to the caller, the next one is used."""
    assert write_note(tmp_path, NOTE, ()) == FIRST
    assert write_note(tmp_path, NOTE, ()) == SECOND
    assert (tmp_path / FIRST).read_text() == (tmp_path / SECOND).read_text() == note_text(NOTE)


def test_a_broken_link_is_not_written_through(tmp_path: Path) -> None:
    """A name that leads nowhere is taken all the same."""
    (tmp_path / "notes/2026").mkdir(parents=True)
    (tmp_path / FIRST).symlink_to(tmp_path / "elsewhere.md")
    assert write_note(tmp_path, NOTE, ()) == SECOND
    assert not (tmp_path / "elsewhere.md").exists()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """Where a file stands in the folder's place nothing is tried again."""
    (tmp_path / "notes").write_text("no folder")
    with pytest.raises(Refused, match="could not write"):
        write_note(tmp_path, NOTE, ())
