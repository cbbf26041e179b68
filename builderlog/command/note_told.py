"""What `note` says of a note when it is written: three lines, or what is to be mended."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

from builderlog.command.check import document_of
from builderlog.command.open_print import print_closing
from builderlog.command.opening import CACHE_FOLDER, Opened, list_journal
from builderlog.command.terminal import print_problems, say
from builderlog.deciding.checks import judge
from builderlog.deciding.open_document import closing_document
from builderlog.deciding.understood import Understood, understood, understood_lines
from builderlog.deciding.words import counted, month_of
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.sheets.open_list import closing_list
from builderlog.storing.refusal import refusing


def read_again(root: Path) -> Opened:
    """The journal as it is now; only what changed of its pictures is read."""
    return read_folder(list_journal(root))


def read_folder(folder: Folder) -> Opened:
    """The same for a folder that was listed, or laid over."""
    with refusing(f"read the journal in {folder.root}"):
        ledger = read_journal(folder, folder.root / CACHE_FOLDER)
    return Opened(folder.root, folder, ledger, judge(ledger))


def tell(opened: Opened, found: Understood, tonight: date) -> None:
    """Three lines of what was understood, what is worth a second look, and what closes."""
    for line in understood_lines(found, tonight):
        say(line, sys.stdout)
    print_problems(found.doubts, opened.folder, sys.stdout)
    tell_sealed(found)
    if found.elsewhere:
        told = counted(found.elsewhere, "mistake")
        say(f"{told} elsewhere in the journal: builderlog check", sys.stdout)
    if found.closing:
        print_closing([closing_list(opened.ledger, one) for one in found.closing], sys.stdout)


def tell_sealed(found: Understood) -> None:
    """The new note belongs to a month that was sealed before."""
    if found.sealed and found.day:
        month = month_of(found.day)
        say(
            f"{month} is sealed already, so this note is no part of its seal; seal it again with: "
            f'builderlog seal --amend {month} --why "a note was missing"',
            sys.stdout,
        )


def tell_mistakes(opened: Opened, found: Understood) -> None:
    """What must be mended, by line."""
    print_problems((*found.mistakes, *found.doubts), opened.folder, sys.stdout)


def understood_of(opened: Opened, path: str) -> Understood:
    """What the journal holds of the note."""
    return understood(opened.ledger, opened.problems, path)


def print_document(opened: Opened, found: Understood, told: Iterable[str]) -> None:
    """What `note --json` prints; other programs rely on its keys."""
    note = next((one for one in opened.ledger.notes if one.path == found.path), None)
    document = {
        "path": found.path,
        "date": str(found.day) if found.day else None,
        "seconds": {"note": found.tonight, "month": found.month, "whole": found.whole},
        "by_person": dict(found.by_person),
        "pictures": [line.photo.text for line in note.photos] if note else [],
        "sealed": found.sealed,
        "told": [*told],
        "closing": [closing_document(one) for one in found.closing],
        **document_of(found.problems),
    }
    print(json.dumps(document, ensure_ascii=False, indent=2))


def overlaid(opened: Opened, path: str, data: bytes) -> Opened:
    """The journal as it would be with that note too; nothing is written."""
    return replace(read_folder(opened.folder.overlaid((), {path: data})), root=opened.root)
