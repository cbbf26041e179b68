"""`unload` killed at many moments: every original there, none twice, and the next run ends it."""

from __future__ import annotations

import hashlib
import random
import shutil
import time
from collections import Counter
from pathlib import Path

import pytest

from tests.command.running import digests, originals, run
from tests.noting.camera import journal_with, shot
from tests.noting.killed import unload_killed_after, unload_killed_at_deed

MOMENTS = 100
INBOX = {
    **{f"IMG_{number}.JPG": shot(number, f"2026-03-14T19:{number:02}:00") for number in range(2)},
    "copy.jpg": shot(0, "2026-03-14T19:00:00"),
    **{f"IMG_{number}.JPG": shot(number, f"2026-03-15T20:{number}:00") for number in range(10, 12)},
    "none.jpg": shot(20, "2026-03-18T20:00:00"),
    "film.mov": b"\0\0\0\x14ftypqt  \0\0\0\0qt  ",
}
PICTURES = {hashlib.sha256(data).hexdigest() for data in INBOX.values()}


def told(root: Path) -> Counter[str]:
    """How often the bytes of each picture lie in photos/ under a name that can be seen."""
    found = digests(root / "photos")
    return Counter(digest for path, digest in found.items() if "/." not in f"/{path}")


def seen(files: dict[str, str]) -> dict[str, str]:
    """Without hidden files: a half-written one of a killed run is none of the journal's."""
    return {path: digest for path, digest in files.items() if "/." not in f"/{path}"}


def hold_after_kill(root: Path, clean: dict[str, str]) -> None:
    """Every original is there and none twice in photos/; one more run gives the clean end."""
    everywhere = set(seen(originals(root)).values())
    assert everywhere >= PICTURES
    assert not [digest for digest, times in told(root).items() if times > 1]
    assert run("unload", root, "--on", "2026-04-20").status == 0
    assert seen(originals(root)) == clean
    assert not list((root / "photos").glob("**/.*"))


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A journal whose inbox is full, never unloaded itself."""
    return journal_with(tmp_path_factory.mktemp("before") / "journal", INBOX)


@pytest.fixture(scope="module")
def clean(before: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What a run that nobody disturbs leaves."""
    root = tmp_path_factory.mktemp("clean") / "journal"
    shutil.copytree(before, root)
    assert run("unload", root, "--on", "2026-04-20").status == 0
    assert [file.name for file in (root / "inbox").iterdir()] == ["film.mov"]
    return originals(root)


def test_killed_half_way_nothing_is_lost(
    before: Path, clean: dict[str, str], tmp_path: Path
) -> None:
    """At a few of its deeds, spread over the run: each original is there, the next run ends it."""
    killed = 0
    for number in (20, 40, 60, 80):
        root = tmp_path / str(number)
        shutil.copytree(before, root)
        killed += unload_killed_at_deed(root, number)
        hold_after_kill(root, clean)
    assert killed >= 3


@pytest.mark.slow
def test_killed_at_any_deed_nothing_is_lost(
    before: Path, clean: dict[str, str], tmp_path: Path
) -> None:
    """Before each single thing that it asks of the disk, from the first to the last."""
    number, root = 0, tmp_path / "journal"
    shutil.copytree(before, root)
    while unload_killed_at_deed(root, number):
        hold_after_kill(root, clean)
        shutil.rmtree(root)
        shutil.copytree(before, root)
        number += 1
    assert number > 60


@pytest.mark.slow
def test_killed_at_random_moments_nothing_is_lost(
    before: Path, clean: dict[str, str], tmp_path: Path
) -> None:
    """A hundred kills from outside, each after a random time within that of a whole run."""
    chance, killed = random.Random(7), 0
    root = tmp_path / "journal"
    shutil.copytree(before, root)
    start = time.monotonic()
    unload_killed_at_deed(root, 1_000_000)
    whole = time.monotonic() - start
    for _ in range(5 * MOMENTS):
        shutil.rmtree(root)
        shutil.copytree(before, root)
        begun = time.monotonic()
        was_killed = unload_killed_after(root, chance.uniform(0, whole))
        took = time.monotonic() - begun
        hold_after_kill(root, clean)
        killed += was_killed
        if killed == MOMENTS:
            return
        if not was_killed:  # it was done before its time: the machine is quicker than at first
            whole = min(whole, took)
    pytest.fail(f"only {killed} of {5 * MOMENTS} runs were killed")
