"""What the outside checks share: the example's site and dossier, made once.

With several pytest processes the first one to ask makes the folder and the others wait
for it at a lock.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock

from tests.outside import tools


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], None]) -> Path:
    """A folder that all processes of this run share; `make` fills it in the first one."""
    base = factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    folder, finished = shared / name, shared / f"{name}.finished"
    with FileLock(shared / f"{name}.lock"):
        if not finished.exists():
            make(folder)
            finished.touch()
    return folder


@pytest.fixture(scope="session")
def example_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site that `publish` makes of the example journal."""

    def make(folder: Path) -> None:
        journal = tools.copy_example(folder / "journal")
        tools.builderlog("publish", str(journal), "--out", str(folder / "site"))

    return made_once(tmp_path_factory, "example-site", make) / "site"


@pytest.fixture(scope="session")
def example_dossier(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bag that `dossier` makes of the example journal."""

    def make(folder: Path) -> None:
        journal = tools.copy_example(folder / "journal")
        tools.builderlog("dossier", str(journal), "--out", str(folder / "dossier"))

    return made_once(tmp_path_factory, "example-dossier", make) / "dossier"
