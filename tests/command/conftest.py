"""What the tests of the commands share: a small journal, written anew for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.command.small_journal import write_small


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """The small journal, which has no mistake."""
    return write_small(tmp_path / "journal")
