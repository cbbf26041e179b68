"""Holds files that are still arriving: aside, counted, and gone unless they are kept."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from builderlog.storing.incoming import Incoming, clear_incoming
from builderlog.storing.refusal import Refused


def test_what_arrives_is_counted_and_known(tmp_path: Path) -> None:
    """Size and digest are those of the bytes that came, and the file holds just them."""
    incoming = Incoming(tmp_path)
    for piece in (b"one", b"", b" two"):
        incoming.write(piece)
    incoming.close()
    assert incoming.file.read_bytes() == b"one two"
    assert incoming.size == 7
    assert incoming.digest == hashlib.sha256(b"one two").hexdigest()


def test_what_is_thrown_away_is_gone(tmp_path: Path) -> None:
    """In the middle of it, afterwards, and twice."""
    for close in (False, True):
        incoming = Incoming(tmp_path)
        incoming.write(b"x")
        if close:
            incoming.close()
        incoming.discard()
        incoming.discard()
    assert list(tmp_path.glob("incoming/*")) == []


def test_a_killed_program_leaves_nothing_for_long(tmp_path: Path) -> None:
    """A later start sweeps what was never finished; what arrives now, or is not ours, stays."""
    left, arriving = Incoming(tmp_path), Incoming(tmp_path)
    left.close()
    os.utime(left.file, (0, 0))
    (tmp_path / "incoming/mine.txt").write_text("kept")
    os.utime(tmp_path / "incoming/mine.txt", (0, 0))
    clear_incoming(tmp_path)
    kept = {file.name for file in tmp_path.glob("incoming/*")}
    assert kept == {"mine.txt", arriving.file.name}
    arriving.discard()
    clear_incoming(tmp_path / "nowhere")


def test_a_disk_that_takes_nothing_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that cannot be written, and a disk that fills up on the way."""
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(Refused, match="could not take in"):
        Incoming(tmp_path / "file")
    incoming = Incoming(tmp_path)

    def full(_data: bytes) -> int:
        raise OSError(28, "No space left on device")

    real = incoming._stream

    class Full:
        write = staticmethod(full)
        close = staticmethod(real.close)

    monkeypatch.setattr(incoming, "_stream", Full())
    with pytest.raises(Refused, match="No space left"):
        incoming.write(b"x")
    incoming.discard()
    assert list(tmp_path.glob("incoming/*")) == []
