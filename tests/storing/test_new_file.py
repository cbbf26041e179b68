"""A file that was not there: written whole, never over another one, nothing left on failure."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused


def test_it_is_written_with_its_folder(tmp_path: Path) -> None:
    """The bytes stand in the file, the folder was made, and nothing else is in it."""
    write_new(tmp_path / "seals/a.txt", b"one\n")
    assert {file.name: file.read_bytes() for file in (tmp_path / "seals").iterdir()} == {
        "a.txt": b"one\n"
    }


@pytest.mark.parametrize("kind", ["file", "folder", "link", "broken link"])
def test_a_name_that_is_taken_is_refused(tmp_path: Path, kind: str) -> None:
    """A file, a folder or a link of that name stays as it is, and nothing is left behind."""
    file = tmp_path / "a.txt"
    (tmp_path / "other").write_bytes(b"other")
    if kind == "file":
        file.write_bytes(b"old")
    elif kind == "folder":
        file.mkdir()
    else:
        file.symlink_to(tmp_path / ("other" if kind == "link" else "nowhere"))
    before = sorted(tmp_path.iterdir())
    with pytest.raises(Refused, match="is there already"):
        write_new(file, b"new")
    assert sorted(tmp_path.iterdir()) == before
    assert (tmp_path / "other").read_bytes() == b"other"


def test_without_second_names_it_is_written_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a file system that knows no second name of a file it is written, and still never over."""

    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    write_new(tmp_path / "a.txt", b"one")
    with pytest.raises(Refused, match="is there already"):
        write_new(tmp_path / "a.txt", b"two")
    assert [file.read_bytes() for file in tmp_path.iterdir()] == [b"one"]


def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path) -> None:
    """A file where the folder should be is told with its name."""
    (tmp_path / "seals").write_bytes(b"x")
    with pytest.raises(Refused, match="could not write"):
        write_new(tmp_path / "seals/a.txt", b"one")


def test_a_failed_write_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is full while writing leaves neither the file nor a piece of it."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match="No space left"):
        write_new(tmp_path / "a.txt", b"one")
    assert list(tmp_path.iterdir()) == []
