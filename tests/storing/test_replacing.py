"""A file of the builder's that is replaced: whole, only if it is as it was, nothing left behind."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from builderlog.storing.refusal import Refused
from builderlog.storing.replacing import replace_original


@pytest.fixture
def note(tmp_path: Path) -> Path:
    """A note that others of the shop's group may read and write."""
    file = tmp_path / "a note.md"
    file.write_bytes(b"old")
    file.chmod(0o664)
    return file


def test_it_holds_the_new_bytes_and_keeps_its_mode(note: Path) -> None:
    """And nothing else is in the folder."""
    replace_original(note, b"old", b"new")
    assert note.read_bytes() == b"new"
    assert note.stat().st_mode & 0o777 == 0o664
    assert list(note.parent.iterdir()) == [note]


def test_a_file_that_was_saved_meanwhile_stays(note: Path) -> None:
    """What the builder has saved since it was read is not lost."""
    note.write_bytes(b"newer")
    with pytest.raises(Refused, match="was changed by another program"):
        replace_original(note, b"old", b"new")
    assert note.read_bytes() == b"newer"
    assert list(note.parent.iterdir()) == [note]


def test_a_file_that_is_gone_is_told(note: Path) -> None:
    """It is not made anew."""
    note.unlink()
    with pytest.raises(Refused, match="could not write"):
        replace_original(note, b"old", b"new")
    assert list(note.parent.iterdir()) == []


def test_a_full_disk_leaves_the_old(note: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The old bytes are there whole, and no piece of the new."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match="No space left"):
        replace_original(note, b"old", b"new")
    assert note.read_bytes() == b"old"
    assert list(note.parent.iterdir()) == [note]


def test_a_read_only_file_is_left_alone(note: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The builder has said that it may not be written."""
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(Refused, match="read-only"):
        replace_original(note, b"old", b"new")
    assert note.read_bytes() == b"old"


def test_a_link_stays_a_link(note: Path) -> None:
    """What it leads to is replaced."""
    link = note.with_name("link.md")
    link.symlink_to(note)
    replace_original(link, b"old", b"new")
    assert link.is_symlink()
    assert note.read_bytes() == b"new"


def test_what_a_crash_left_behind_does_not_hinder(note: Path) -> None:
    """A half-written copy of an earlier run with the same number is written over."""
    left = note.with_name(f".{note.name}.builderlog-{os.getpid()}.tmp")
    left.write_bytes(b"half")
    replace_original(note, b"old", b"new")
    assert list(note.parent.iterdir()) == [note]
