"""What the tests of the handover share: a small journal and its bag."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.handover.documents import read_here
from tests.handover.small_journal import bag_of, write_journal


@pytest.fixture(autouse=True)
def documents_read_here(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """No process for each document, but where that process itself is tested."""
    if request.path.name != "test_pdf_check.py":
        read_here(monkeypatch)


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """The small journal, written anew."""
    return write_journal(tmp_path / "journal")


@pytest.fixture(scope="session")
def made_bag(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Its bag, made once; every test gets a copy."""
    folder = tmp_path_factory.mktemp("small")
    bag_of(write_journal(folder / "journal"), folder / "bag")
    return folder / "bag"


@pytest.fixture
def bag(made_bag: Path, tmp_path: Path) -> Path:
    """A copy of the bag, which a test may spoil."""
    return Path(shutil.copytree(made_bag, tmp_path / "bag"))
