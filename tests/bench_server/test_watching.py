"""Holds the watch on the journal's folder: a saving is seen once, whatever the editor does."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from threading import Event

import pytest

from builderlog.bench import watching as watch
from builderlog.bench.watching import watching

LONGEST = 20  # seconds, for what must come


def by_writing(root: Path) -> None:
    """Saves in place."""
    (root / "notes/a.md").write_text("other")


def by_replacing(root: Path) -> None:
    """Saves under another name, then renames."""
    (root / "notes/.a.md.new").write_text("other")
    os.replace(root / "notes/.a.md.new", root / "notes/a.md")  # noqa: PTH105 - as editors do


def by_moving_away(root: Path) -> None:
    """Keeps the old one as a copy, then writes anew."""
    (root / "notes/a.md").rename(root / "notes/a.md~")
    (root / "notes/a.md").write_text("other")


def in_a_new_folder(root: Path) -> None:
    """The first note of a month, in folders that are made for it."""
    (root / "notes/2027/05").mkdir(parents=True)
    (root / "notes/2027/05/b.md").write_text("new")


@pytest.mark.parametrize("save", [by_writing, by_replacing, by_moving_away, in_a_new_folder])
def test_a_saving_is_seen(tmp_path: Path, save: Callable[[Path], None]) -> None:
    """However the editor saves, the folder is looked at."""
    (tmp_path / "notes").mkdir()
    (tmp_path / "notes/a.md").write_text("one")
    seen = Event()
    with watching(tmp_path, seen.set):
        save(tmp_path)
        assert seen.wait(LONGEST)


def test_many_steps_are_one_look(tmp_path: Path) -> None:
    """Ten files that are copied one behind the other are looked at together, once or twice.

    A machine that is busy with something else may rest between two of them; then it is done again.
    """
    looks, copying = 0, 1.0
    for _ in range(20):
        looks, copying = looks_at(tmp_path)
        if copying < watch.QUIET_SECONDS:
            break
    assert copying < watch.QUIET_SECONDS
    assert 1 <= looks <= 2


def looks_at(root: Path) -> tuple[int, float]:
    """How often ten copies are looked at, and the longest rest between two of them in seconds."""
    looks: list[float] = []
    with watching(root, lambda: looks.append(time.perf_counter())):
        longest = copied(root)
        time.sleep(0.4)
    return len(looks), longest


def copied(root: Path) -> float:
    """Copies ten files one behind the other; the longest rest between two, in seconds."""
    times = [time.perf_counter()]
    for number in range(10):
        (root / f"{number}.jpg").write_bytes(b"x")
        time.sleep(0.01)
        times.append(time.perf_counter())
    return max(later - sooner for sooner, later in pairwise(times))


def test_what_we_write_ourselves_is_no_saving(tmp_path: Path) -> None:
    """The cache, a published site and hidden files wake nobody."""
    for folder in (".builderlog/made", "published", "dossier"):
        (tmp_path / folder).mkdir(parents=True)
    seen = Event()
    with watching(tmp_path, seen.set):
        for name in (".builderlog/made/x", "published/index.html", "dossier/a.csv", ".a.swp"):
            (tmp_path / name).write_text("x")
        assert not seen.wait(0.3)


def test_without_watches_the_folder_is_looked_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the system has no watch left, a look every few seconds finds the saving."""

    class Spent(watch.Observer):  # type: ignore[misc, name-defined]
        def start(self) -> None:
            raise OSError(28, "inotify watch limit reached")

    monkeypatch.setattr(watch, "Observer", Spent)
    monkeypatch.setattr(watch, "LOOK_SECONDS", 0.05)
    seen = Event()
    with watching(tmp_path, seen.set):
        assert seen.wait(LONGEST)
