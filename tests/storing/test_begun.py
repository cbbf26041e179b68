"""Drafts that were begun: kept through a crash, and in one editor at a time."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from builderlog.storing.begun import begun_names, hold_begun
from builderlog.storing.lock import Busy

PATH = "notes/2026/2026-03-14.md"
CRASH = """
import os, sys
from pathlib import Path
from builderlog.storing.begun import hold_begun
with hold_begun(Path(sys.argv[1]), sys.argv[2]) as begun:
    begun.keep(b"as begun")
    os.kill(os.getpid(), 9)
"""


def test_a_draft_outlives_a_crash(tmp_path: Path) -> None:
    """Killed with the editor open, the draft as it was begun is found again, in no editor."""
    subprocess.run([sys.executable, "-c", CRASH, str(tmp_path), PATH], check=False)
    assert begun_names(tmp_path) == ("2026-03-14.md",)
    with hold_begun(tmp_path, PATH) as begun:
        assert begun.kept() == b"as begun"
        begun.forget()
    assert begun_names(tmp_path) == ()
    with hold_begun(tmp_path, PATH) as begun:
        assert begun.kept() is None


def test_a_draft_is_in_one_editor_at_a_time(tmp_path: Path) -> None:
    """While one process has it, another is told so, and does not list it."""
    with hold_begun(tmp_path, PATH) as begun:
        begun.keep(b"as begun")
        with pytest.raises(Busy, match=r"the note notes/2026/.* is busy"):
            hold_begun(tmp_path, PATH).__enter__()
        assert begun_names(tmp_path) == ()
