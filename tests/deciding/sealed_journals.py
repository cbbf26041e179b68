"""Small journals whose months are sealed, as the command seals them; invented data."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

from builderlog.deciding.checks import judge
from builderlog.deciding.sealing import Sealing, compose, covered_by
from builderlog.deciding.weeks import last_day_of
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.seals import Seal
from builderlog.knowing.seals_digests import digest_of_file
from builderlog.knowing.seals_file import seal_text
from builderlog.reading.folder import Folder
from tests.knowing.journals import write_journal

SKINS = """\
---
hours: {Ines: 3h, Ada: 1h}
tasks: [{task: W14, hours: 2h}]
parts: [{part: AN3-5A bolt, cost: 8.40 USD, receipt: receipts/bolts.pdf}]
photos: [{photo: photos/skins.jpg, shows: [W14], caption: Skins}]
---
Straight. ![ribs](../photos/ribs.jpg)
"""
RIVETS = "---\nhours: 2h\ntasks: [W15]\n---\nAll in.\n"
HIDDEN = """\
---
hours: {Ines: 1h}
parts: [{part: a gift, cost: 50 USD, receipt: receipts/gift.pdf}]
photos: [photos/gift.jpg, photos/skins.jpg]
private: hours only
---
"""
FILES = {
    "notes/2026-03-14.md": SKINS,
    "notes/2026-03-20.md": RIVETS,
    "notes/2026-04-02.md": RIVETS,
    "photos/skins.jpg": "(picture of 2026-03-14)",
    "photos/ribs.jpg": "(picture)",
    "receipts/bolts.pdf": "a receipt",
}
WITH_HIDDEN = {
    **FILES,
    "notes/2026-03-21-a-gift.md": HIDDEN,
    "photos/gift.jpg": "(picture of 2026-03-21)",
    "receipts/gift.pdf": "a receipt of a gift",
}


def read(root: Path) -> Ledger:
    """The ledger of the journal in a folder."""
    return read_journal(Folder.at(root))


def seal(root: Path, month: str, on: date | None = None, why: str = "") -> Seal:
    """Seals a month on the day after it (with a reason: amends its seal) and writes the file."""
    folder = Folder.at(root)
    ledger = read_journal(folder)
    asked = Sealing(month, on or last_day_of(month) + timedelta(days=1), amend=bool(why), why=why)
    digests = {one.path: digest_of_file(folder, one.path) for one in covered_by(ledger, month)}
    made = compose(ledger, asked, digests)
    file = root / made.path
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(seal_text(made).encode())
    return made


def sealed(root: Path, *months: str, files: Mapping[str, str] = FILES) -> Path:
    """The journal written into a folder, and these months sealed one after the other."""
    write_journal(root, files)
    for month in months:
        seal(root, month)
    return root


def told(root: Path, beginning: str = "seal") -> list[str]:
    """Code and place of what is told of seals, in the order in which `check` prints it."""
    return [
        f"{problem.code} {problem.place.path}:{problem.place.line}"
        for problem in judge(read(root))
        if problem.code.startswith(beginning)
    ]


def message(root: Path, code: str) -> str:
    """The sentence of the first problem of a code."""
    return next(problem.message for problem in judge(read(root)) if problem.code == code)


def change(root: Path, path: str, old: str, new: str) -> None:
    """Puts other words into a file; the old ones must be there."""
    text = (root / path).read_text(encoding="utf-8")
    assert old in text, f"{old!r} is not in {path}"
    (root / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")
