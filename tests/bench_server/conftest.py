"""What the tests of the bench share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image

from builderlog.bench.desk import Desk
from tests.bench_server.made_desk import desk_of, laid
from tests.bench_server.serving import Served, served


@pytest.fixture(scope="session")
def made_desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """The desk of the small journal as it is."""
    return desk_of(laid(Path(tmp_path_factory.mktemp("journal"))))


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Served]:
    """The bench of the small journal, served on this machine."""
    with served(laid(tmp_path / "journal")) as running:
        yield running


@pytest.fixture
def phone_bench(tmp_path: Path) -> Iterator[Served]:
    """The phone's server of the same journal."""
    with served(laid(tmp_path / "journal"), phone=True) as running:
        yield running


@pytest.fixture
def pictures(tmp_path: Path) -> list[Path]:
    """Two pictures that decode, and a script that calls itself one."""
    files = [tmp_path / "IMG_0001.jpg", tmp_path / "IMG_0002.jpg", tmp_path / "script.jpg"]
    Image.new("RGB", (160, 120), (120, 140, 160)).save(files[0])
    Image.new("RGB", (120, 160), (180, 150, 90)).save(files[1])
    files[2].write_text("#!/bin/sh\necho no picture\n", encoding="utf-8")
    return files
