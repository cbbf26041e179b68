"""What the tests of the handover share: a small journal and its bag."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.handover.small_journal import bag_of, write_journal


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """The small journal, written anew."""
    return write_journal(tmp_path / "journal")


@pytest.fixture
def bag(journal: Path, tmp_path: Path) -> Path:
    """Its bag, which a test may spoil."""
    bag_of(journal, tmp_path / "bag")
    return tmp_path / "bag"
