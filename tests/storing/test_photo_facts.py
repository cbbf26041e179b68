"""The facts of all pictures: read once, and again whenever a file is not the one read before."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from builderlog.reading.photo_file import FACTS_VERSION, PhotoFile, read_photo
from builderlog.storing import photo_facts
from builderlog.storing.photo_facts import PhotosRead, read_all
from tests.reading.shop_pictures import saved, shop_picture

if TYPE_CHECKING:
    from collections.abc import Sequence

Files = list[tuple[str, Path]]


@pytest.fixture
def files(tmp_path: Path) -> Files:
    """Three pictures, a broken one and one that is not there."""
    folder = tmp_path / "photos"
    folder.mkdir()
    for number in range(3):
        Image.new("RGB", (10 + number, 8)).save(folder / f"{number}.jpg")
    (folder / "3.jpg").write_bytes(b"")
    return [(f"photos/{number}.jpg", folder / f"{number}.jpg") for number in range(5)]


@pytest.fixture
def read_names(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Receives the name of each picture that is really read."""
    names: list[str] = []
    real = read_photo

    def read(file: Path, name: str) -> PhotoFile:
        names.append(name)
        return real(file, name)

    monkeypatch.setattr(photo_facts, "read_photo", read)
    return names


def read(files: Sequence[tuple[str, Path]], folder: Path | None) -> PhotosRead:
    """Reads all, and checks that each picture was reported as done once."""
    done: list[int] = []
    found = read_all(files, folder, done.append)
    assert sum(done) == len(files)
    assert set(found.photos) == {name for name, _ in files}
    return found


def test_unchanged_pictures_are_not_read_again(
    tmp_path: Path, files: Files, read_names: list[str]
) -> None:
    """The second run reads only what could not be read, and finds the same."""
    first = read(files, tmp_path / "cache")
    assert sorted(read_names) == [name for name, _ in files]
    read_names.clear()
    assert read(files, tmp_path / "cache") == first
    assert read_names == ["photos/4.jpg"]
    assert first.trouble is None
    assert first.photos["photos/3.jpg"].fault is not None


def test_changed_pictures_are_read_again(
    tmp_path: Path, files: Files, read_names: list[str]
) -> None:
    """A file with other bytes is read again, even of the same size and time; so is a new one."""
    read(files, tmp_path / "cache")
    read_names.clear()
    (_, first), (_, second) = files[:2]
    stat = first.stat()
    data = bytearray(first.read_bytes())
    data[-3] ^= 1
    first.write_bytes(data)
    os.utime(first, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    second.with_suffix(".new").write_bytes(second.read_bytes())
    second.with_suffix(".new").replace(second)
    found = read(files, tmp_path / "cache")
    assert sorted(read_names) == ["photos/0.jpg", "photos/1.jpg", "photos/4.jpg"]
    assert found.photos == read(files, None).photos


def test_renamed_picture_has_its_new_name(tmp_path: Path, files: Files) -> None:
    """Facts are kept by name, so that a message never names another file."""
    read(files, tmp_path / "cache")
    moved = [("photos/moved.jpg", files[3][1])]
    assert "photos/moved.jpg" in (
        read(moved, tmp_path / "cache").photos["photos/moved.jpg"].fault or ""
    )


def test_without_folder_nothing_is_written(tmp_path: Path, files: Files) -> None:
    """Where nothing may be written all is read and nothing kept."""
    before = sorted(tmp_path.rglob("*"))
    assert read(files, None).trouble is None
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '{"version": 0}', "wrong rows"])
def test_damaged_cache_counts_as_none(
    tmp_path: Path, files: Files, read_names: list[str], text: str
) -> None:
    """A cache that is damaged or of another version is read past and written anew."""
    first = read(files, tmp_path / "cache")
    kept = tmp_path / "cache" / "photos.json"
    words = json.loads(kept.read_bytes())
    words["photos"][0][1]["width_px"] = "wide"
    kept.write_text(json.dumps(words) if text == "wrong rows" else text)
    read_names.clear()
    assert read(files, tmp_path / "cache") == first
    assert len(read_names) == 5
    read_names.clear()
    read(files, tmp_path / "cache")
    assert len(read_names) == 1


def test_facts_of_an_older_version_are_read_anew(
    tmp_path: Path, files: Files, read_names: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was read before pictures had a likeness is read again, once; then it is kept."""
    files[0][1].write_bytes(saved(shop_picture(1)))
    with monkeypatch.context() as older:
        older.setattr(photo_facts, "FACTS_VERSION", FACTS_VERSION - 1)
        first = read(files, tmp_path / "cache")
    read_names.clear()
    assert read(files, tmp_path / "cache") == first
    assert len(read_names) == 5
    read_names.clear()
    assert read(files, tmp_path / "cache").photos["photos/0.jpg"].likeness != ""
    assert len(read_names) == 1


def test_cache_that_cannot_be_written_is_told(tmp_path: Path, files: Files) -> None:
    """On a medium that cannot be written all pictures are read, and the trouble is told."""
    (tmp_path / "file").write_text("")
    found = read(files, tmp_path / "file")
    assert "file cannot be used" in (found.trouble or "")
    assert found.photos["photos/0.jpg"].width_px == 10
