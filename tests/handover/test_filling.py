"""A bag being filled: originals that are no longer what was read, and a stop in the middle."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from builderlog.handover.filling import Filling, Original
from builderlog.storing.inside import STAGE_NAME
from builderlog.storing.outbox import open_outbox
from builderlog.storing.refusal import Refused


def originals(folder: Path, count: int) -> list[Original]:
    """Files of a megabyte each, with their digests as they were read."""
    folder.mkdir()
    found = []
    for number in range(count):
        file = folder / f"{number}.jpg"
        file.write_bytes(bytes([number]) * 1_000_000)
        digest = hashlib.sha256(file.read_bytes()).hexdigest()
        found.append(Original(f"data/photos/{file.name}", file, digest))
    return found


def test_another_original_stops_all_and_leaves_nothing(tmp_path: Path) -> None:
    """Where one file of many is another by now, it is named, and no copy is made afterwards."""
    files = originals(tmp_path / "photos", 40)
    files[3].source.write_bytes(b"another")
    with (
        pytest.raises(Refused, match=r"3\.jpg changed while the dossier was made"),
        open_outbox(tmp_path / "bag", "dossier", [], tmp_path / "journal") as outbox,
    ):
        Filling(outbox).put_files(files, lambda _done: None)
    assert not (tmp_path / "bag").exists()


def test_files_and_bytes_are_counted(tmp_path: Path) -> None:
    """What is told while it goes on grows to the bytes of all files, and each is kept."""
    files = originals(tmp_path / "photos", 5)
    told: list[int] = []
    with open_outbox(tmp_path / "bag", "dossier", [], tmp_path / "journal") as outbox:
        bag = Filling(outbox)
        bag.put_files(files, told.append)
        bag.put_manifests()
        outbox.commit()
    assert told == [1_000_000 * number for number in range(1, 6)]
    assert bag.sizes() == [1_000_000] * 5
    assert not (tmp_path / "bag" / STAGE_NAME).exists()
    assert (tmp_path / "bag" / "manifest-sha256.txt").read_text().count("\n") == 5
