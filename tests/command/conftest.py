"""What the tests of the commands share: a small journal, written anew for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.command.evening import NIGHT, Evening
from tests.command.small_journal import write_small
from tests.handover.documents import read_here


@pytest.fixture(autouse=True)
def documents_read_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """No process for each document that a command verifies."""
    read_here(monkeypatch)


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """The small journal, which has no mistake."""
    return write_small(tmp_path / "journal")


@pytest.fixture
def evening(journal: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Evening:
    """The small journal at half past ten in the evening."""
    shop = Evening(journal, monkeypatch, tmp_path)
    shop.at(NIGHT)
    return shop
