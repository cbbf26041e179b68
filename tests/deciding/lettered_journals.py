"""Journals with a letter: a public note, a private one, their pictures, and one of nobody's."""

from __future__ import annotations

from pathlib import Path

from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from tests.command.running import write
from tests.command.small_journal import files, jpeg

LETTER = "letters/2026-03.md"
PRIVATE = """\
---
date: 2026-03-20
title: Alone
private: yes
hours: 1h
photos: [photos/alone.jpg]
---
Nobody reads this.
"""


def lettered(root: Path, words: str, letter: str = LETTER, **more: str | bytes) -> Ledger:
    """The ledger of the small journal with a private note and a letter."""
    return read_journal(Folder.at(write_lettered(root, words, letter, **more)))


def write_lettered(root: Path, words: str, letter: str = LETTER, **more: str | bytes) -> Path:
    """Writes it; `more` are notes by the word in their file's name."""
    notes = {f"notes/2026-03-21-{word}.md": text for word, text in more.items()}
    return write(
        root,
        {
            **files(),
            "notes/2026-03-20-alone.md": PRIVATE,
            "photos/alone.jpg": jpeg(20),
            "photos/nobodys.jpg": jpeg(40),
            letter: words,
            **notes,
        },
    )
