"""What the outside checks share: the example's site and dossier, made once.

With several pytest processes the first one to ask makes the folder and the others wait
for it at a lock.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from filelock import FileLock

from builderlog.drawing.theme import theme_names
from builderlog.handover.binder import binder_pages
from tests.handover.made_binder import long_dossier, made_ledger
from tests.outside import tools

EXAMPLES = ("example_site", "open_site", "themed", "example_dossier", "made_binder")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What looks at the example's whole site or dossier is slow: making one takes seconds."""
    for item in items:
        if {*EXAMPLES} & {*getattr(item, "fixturenames", ())}:
            item.add_marker(pytest.mark.slow)


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
    """The site that `publish` makes of the example journal when it shows the claim too."""
    return example_sites(tmp_path_factory) / "site"


@pytest.fixture(scope="session")
def open_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same, where the journal shows paid help too, so that the claim has all its columns."""
    return example_sites(tmp_path_factory) / "open"


@pytest.fixture(scope="session")
def themed(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Path]:
    """The first of these sites in every theme, by the theme's name."""
    folder = example_sites(tmp_path_factory)
    return {"trammel": folder / "site"} | {
        name: folder / name for name in theme_names() if name != "trammel"
    }


def example_sites(factory: pytest.TempPathFactory) -> Path:
    """All sites of one copy of the example, whose pictures are drawn only once."""

    def make(folder: Path) -> None:
        journal = tools.copy_example(folder / "journal")
        tools.show_more(journal, "claim")
        tools.builderlog("publish", str(journal), "--out", str(folder / "site"))
        for name in {*theme_names()} - {"trammel"}:
            with tools.site_says(journal, f"theme: {name}"):
                tools.builderlog("publish", str(journal), "--out", str(folder / name))
        tools.show_more(journal, "paid help")
        tools.builderlog("publish", str(journal), "--out", str(folder / "open"))

    return made_once(factory, "example-sites", make)


@pytest.fixture(scope="session")
def example_dossier(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bag that `dossier` makes of the example journal."""

    def make(folder: Path) -> None:
        journal = tools.copy_example(folder / "journal")
        tools.builderlog("dossier", str(journal), "--out", str(folder / "dossier"))

    return made_once(tmp_path_factory, "example-dossier", make) / "dossier"


@pytest.fixture(scope="session")
def made_binder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the binder of a dossier made by hand: every kind of block, chapters cut."""

    def make(folder: Path) -> None:
        for path, data in binder_pages(long_dossier(), made_ledger(), {}).items():
            file = folder / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(data)

    return made_once(tmp_path_factory, "made-binder", make)
