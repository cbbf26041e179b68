"""What `.builderlog` keeps never shows: the site is the same with it, without it, and damaged."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from builderlog.reading import prose
from tests.command.running import digests, run
from tests.command.small_journal import jpeg, write_small

Edit = Callable[[Path], None]
BITS = ("\nMore.\n", "\n[back](2026-03-14-skins.md)\n", "\n![](../photos/skins.jpg)\n", "\n## On\n")


def swapped(path: str, old: str, new: str) -> Edit:
    """Puts other words into a file, and they were there."""

    def edit(root: Path) -> None:
        text = (root / path).read_text()
        assert old in text
        (root / path).write_text(text.replace(old, new, 1))

    return edit


def written(path: str, data: str | bytes) -> Edit:
    """Writes a file whole."""

    def edit(root: Path) -> None:
        (root / path).parent.mkdir(exist_ok=True)
        (root / path).write_bytes(data if isinstance(data, bytes) else data.encode())

    return edit


def gone(path: str) -> Edit:
    """Takes a file away."""
    return lambda root: (root / path).unlink()


# Each makes other pages than the edited file's own stale, were they kept by too little.
EDITS: tuple[Edit, ...] = (
    swapped("worklist.yaml", "Fit aileron skins", "Fit the skins"),
    swapped("worklist.yaml", "state: open", "state: done"),
    swapped("notes/2026-03-14-skins.md", "Skins on", "Skins held"),
    swapped("journal.yaml", "currency: USD\n", "currency: USD\nsite: {show: [costs]}\n"),
    swapped("journal.yaml", "site: {show: [costs]}\n", "site: {theme: deckle}\n"),
    swapped("journal.yaml", "site: {theme: deckle}\n", ""),
    written("photos/skins.jpg", jpeg(20, (96, 48))),
    written("look/own.css", "main { color: #123 }\n"),
    written("look/area.html", "<!doctype html><title>x</title>{{ sheet.row.link.words }}\n"),
    written("look/area.html", "<!doctype html><title>y</title>{{ sheet.row.link.words }}\n"),
    gone("look/area.html"),
    gone("look/own.css"),
    swapped("notes/2026-03-15-rivets.md", "next:", "private: yes\nnext:"),
    swapped("notes/2026-03-15-rivets.md", "private: yes\n", ""),
)


def published(root: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """What a process that remembers nothing makes of a journal."""
    memory: dict[str, prose.Found] = {}
    monkeypatch.setattr(prose, "_remembered", lambda: memory)
    said = run("publish", root)
    assert said.status == 0, said.err
    return digests(root / "published")


def anew(root: Path, room: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The same of a journal for which nothing was ever kept."""
    shutil.rmtree(room, ignore_errors=True)
    shutil.copytree(root, room, ignore=shutil.ignore_patterns(".builderlog", "published"))
    return published(room, monkeypatch)


def spoil(root: Path, chance: random.Random) -> None:
    """Damages, empties or takes away some of what is kept."""
    for file in sorted((root / ".builderlog").rglob("*-*")):
        fate = chance.randrange(8)
        if fate == 0:
            file.unlink()
        elif fate == 1:
            file.write_bytes(b"")
        elif fate == 2:
            file.write_bytes(file.read_bytes()[::-1])


@pytest.mark.slow
def test_what_is_kept_never_shows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After each of many edits, the site drawn with what was kept is the one drawn anew."""
    root = write_small(tmp_path / "journal")
    before = published(root, monkeypatch)
    for number, edit in enumerate(EDITS):
        edit(root)
        now = published(root, monkeypatch)
        assert now == anew(root, tmp_path / "anew", monkeypatch), number
        assert now != before, number
        before = now


@pytest.mark.slow
def test_damage_to_what_is_kept_never_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Random edits, with what is kept spoiled between them, give the site that is drawn anew."""
    chance = random.Random(2026)
    root = write_small(tmp_path / "journal")
    for _ in range(12):
        note = root / chance.choice(["notes/2026-03-14-skins.md", "notes/2026-03-15-rivets.md"])
        note.write_text(note.read_text() + chance.choice(BITS))
        now = published(root, monkeypatch)
        assert now == anew(root, tmp_path / "anew", monkeypatch)
        spoil(root, chance)


def test_what_is_kept_of_private_words_is_not_published(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The words of a private note are kept in the journal's own folder, and reach no page."""
    root = write_small(tmp_path / "journal")
    swapped("notes/2026-03-15-rivets.md", "next:", "private: yes\nnext:")(root)
    swapped("notes/2026-03-15-rivets.md", "All in.", "Quillfeather said so.")(root)
    for _ in range(2):
        published(root, monkeypatch)
        files = [file for file in (root / "published").rglob("*") if file.is_file()]
        assert not [file for file in files if b"uillfeather" in file.read_bytes()]
    kept = [file for file in (root / ".builderlog").rglob("*") if file.is_file()]
    assert [file for file in kept if b"uillfeather" in file.read_bytes()]
