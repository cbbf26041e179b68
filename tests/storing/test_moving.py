"""Moving originals: whole, verified, never over another file, and taken away only when safe."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path

import pytest

from builderlog.storing.moving import (
    NAMED_BY,
    UNFINISHED,
    OtherBytesError,
    clear_unfinished,
    copy_original,
    free_name,
    take_away,
)
from builderlog.storing.refusal import Refused

DATA = b"an original" * 1000
DIGEST = hashlib.sha256(DATA).hexdigest()


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """A file on a card, an hour old."""
    file = tmp_path / "card.jpg"
    file.write_bytes(DATA)
    os.utime(file, ns=(10**18, 10**18))
    return file


def test_a_copy_has_the_bytes_and_the_time_of_its_source(source: Path, tmp_path: Path) -> None:
    """The copy stands under the wanted name, with the time of change that the camera gave."""
    file = copy_original(source, tmp_path / "photos/2026", "a.jpg", DIGEST)
    assert file == tmp_path / "photos/2026/a.jpg"
    assert file.read_bytes() == DATA
    assert file.stat().st_mtime_ns == 10**18
    assert [each.name for each in file.parent.iterdir()] == ["a.jpg"]


def test_a_name_that_differs_in_case_only_is_taken(source: Path, tmp_path: Path) -> None:
    """A.JPG is one name with a.jpg on other computers, so the copy gets another."""
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/A.JPG").write_bytes(b"another")
    file = copy_original(source, tmp_path / "photos", "a.jpg", DIGEST)
    assert file.name == "a-2.jpg"
    assert (tmp_path / "photos/A.JPG").read_bytes() == b"another"


def test_free_names_count_upwards() -> None:
    """The number stands before the ending."""
    assert free_name(["a.jpg", "A-2.jpg"], "a.jpg") == "a-3.jpg"
    assert free_name(["Ä.jpg"], "a.jpg") == "a.jpg"


def test_a_source_that_changes_is_not_filed(source: Path, tmp_path: Path) -> None:
    """Where the copy is not what was read before nothing is named and nothing left behind."""
    with pytest.raises(OtherBytesError):
        copy_original(source, tmp_path / "photos", "a.jpg", "0" * 64)
    assert not list((tmp_path / "photos").iterdir())


def test_a_full_disk_leaves_nothing_behind(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system's word is told, the unfinished copy is gone, and the source is as it was."""

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match="No space left on device"):
        copy_original(source, tmp_path / "photos", "a.jpg", DIGEST)
    assert not list((tmp_path / "photos").iterdir())
    assert source.read_bytes() == DATA


def test_where_files_have_one_name_only_the_copy_is_renamed(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stick's file system knows no second names; the copy still appears whole, at once."""

    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/a.jpg").write_bytes(b"another")
    file = copy_original(source, tmp_path / "photos", "a.jpg", DIGEST)
    assert (file.name, file.read_bytes()) == ("a-2.jpg", DATA)
    assert len(list(file.parent.iterdir())) == 2


def test_a_name_that_was_taken_meanwhile_is_not_written_over(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program that is faster keeps its file; the copy takes the next name."""
    folder = tmp_path / "photos"
    link = os.link

    def faster(one: Path, other: Path) -> None:
        monkeypatch.setattr(os, "link", link)
        other.write_bytes(b"another")
        link(one, other)

    monkeypatch.setattr(os, "link", faster)
    file = copy_original(source, folder, "a.jpg", DIGEST)
    assert (file.name, (folder / "a.jpg").read_bytes()) == ("a-2.jpg", b"another")


def test_a_source_is_taken_away_only_when_the_copy_is_the_same(
    source: Path, tmp_path: Path
) -> None:
    """One bit in the copy and the source stays."""
    file = copy_original(source, tmp_path / "photos", "a.jpg", DIGEST)
    file.write_bytes(DATA[:-1] + b"x")
    assert not take_away(source, file, DIGEST)
    assert source.exists()
    file.write_bytes(DATA)
    assert take_away(source, file, DIGEST)
    assert not source.exists()


def test_a_source_that_changed_since_stays(source: Path, tmp_path: Path) -> None:
    """What was written into the inbox after the copy was made is not lost."""
    file = copy_original(source, tmp_path / "photos", "a.jpg", DIGEST)
    source.write_bytes(b"another picture under the old name")
    assert not take_away(source, file, DIGEST)
    assert source.exists()


def test_the_only_name_of_a_file_is_never_removed(tmp_path: Path) -> None:
    """Two ways to one file are not two files; two names of one file are."""
    (tmp_path / "photos").mkdir()
    file = tmp_path / "photos/a.jpg"
    file.write_bytes(DATA)
    (tmp_path / "other").symlink_to(tmp_path / "photos")
    assert not take_away(tmp_path / "other/a.jpg", file, DIGEST)
    assert file.exists()
    os.link(file, tmp_path / "second.jpg")
    assert take_away(tmp_path / "second.jpg", file, DIGEST)
    assert file.read_bytes() == DATA


def test_what_a_killed_run_left_is_cleared(tmp_path: Path) -> None:
    """Copies without a name go, wherever they lie; every other hidden file stays."""
    mine = (f"2026/.abc{UNFINISHED}", "2026/.mine", "2026/a.jpg")
    for name in (f"2026/.{DIGEST[:NAMED_BY]}{UNFINISHED}", *mine):
        file = tmp_path / "photos" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(DATA)
    clear_unfinished(tmp_path / "photos")
    left = sorted(file.name for file in (tmp_path / "photos/2026").iterdir())
    assert left == [f".abc{UNFINISHED}", ".mine", "a.jpg"]
