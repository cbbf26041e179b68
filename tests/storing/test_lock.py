"""The lock: one writer at a time, with a clear word."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from builderlog.storing.lock import Busy, hold, hold_soon
from builderlog.storing.refusal import Refused

HOLDER = """
import sys, time
from pathlib import Path
from builderlog.storing.lock import hold
with hold(Path(sys.argv[1]), "the journal"):
    print("held", flush=True)
    time.sleep(60)
"""


def test_second_holder_is_refused(tmp_path: Path) -> None:
    """Who comes second is told what is busy; after release it is free again."""
    folder = tmp_path / "new" / "folder"
    with (
        hold(folder, "the journal wings"),
        pytest.raises(Refused, match="the journal wings is busy"),
        hold(folder, "the journal wings"),
    ):
        pytest.fail("two writers at once")
    with hold(folder, "the journal wings"):
        pass


def test_lock_vanishes_with_its_process(tmp_path: Path) -> None:
    """A killed process leaves no lock behind."""
    command = [sys.executable, "-c", HOLDER, str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(Refused, match="busy"), hold(tmp_path, "the journal"):
            pytest.fail("two writers at once")
        holder.kill()
    with hold(tmp_path, "the journal"):
        pass


def test_folder_that_cannot_be_made(tmp_path: Path) -> None:
    """Where no lock can be made the reason is told."""
    (tmp_path / "file").write_text("")
    refused = pytest.raises(Refused, match="could not lock the journal")
    with refused, hold(tmp_path / "file", "the journal"):
        pytest.fail("held a lock in a file")


def test_a_short_wait(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who may wait gets the lock once it is free, and is refused when that takes too long."""
    monkeypatch.setattr("builderlog.storing.lock.PATIENCE_SECONDS", 0.3)
    first = hold(tmp_path, "the journal")
    first.__enter__()
    with pytest.raises(Busy, match="busy"), hold_soon(tmp_path, "the journal"):
        pass
    monkeypatch.setattr("builderlog.storing.lock.PATIENCE_SECONDS", 10.0)
    monkeypatch.setattr(
        "builderlog.storing.lock.time.sleep", lambda _: first.__exit__(None, None, None)
    )
    with hold_soon(tmp_path, "the journal") as file:
        assert file == tmp_path / "lock"
