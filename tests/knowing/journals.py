"""Small journals written for tests, and what their ledgers say in short lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from io import BytesIO
from pathlib import Path

from PIL import Image

from builderlog.knowing.hours import length_text
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger, Part, Snag
from builderlog.reading.folder import Folder
from tests.reading.case_file import to_bytes

JOURNAL = """\
title: A test
builder: Ines
people: {Ines: builder, Tomas: builder, Ada: helper, Osk: paid}
currency: USD
"""
WORKLIST = """\
areas:
  - area: W
    name: Wings
    tasks:
      - {task: W14, name: Skins, work: fabrication}
      - {task: W15, name: Hinges, work: assembly}
      - {task: W16, name: Stops}
  - area: F
    tasks: [F1]
"""
PICTURE = "(picture"  # `(picture)` or `(picture of 2026-03-14)` stands for a picture's bytes


def picture(taken: str | None = None) -> bytes:
    """A small JPEG, with the Exif date of that noon if a day is named."""
    image = Image.new("RGB", (8, 6), "grey")
    exif = Image.Exif()
    if taken:
        exif.get_ifd(0x8769)[0x9003] = f"{taken.replace('-', ':')} 12:00:00"
    buffer = BytesIO()
    image.save(buffer, "JPEG", exif=exif)
    return buffer.getvalue()


def content(text: str) -> bytes:
    """A file's bytes from what a case writes for it."""
    if text.startswith(PICTURE):
        return picture(text.strip()[len(PICTURE) : -1].removeprefix(" of ") or None)
    return to_bytes(text)


def write_journal(root: Path, files: Mapping[str, str]) -> Folder:
    """The files in a folder, journal.yaml and worklist.yaml added where they are not named.

    A file whose text is `(none)` is left out.
    """
    for path, text in {"journal.yaml": JOURNAL, "worklist.yaml": WORKLIST, **files}.items():
        if text.strip() != "(none)":
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_bytes(content(text))
    return Folder.at(root)


def ledger_of(root: Path, files: Mapping[str, str]) -> Ledger:
    """The ledger of these files."""
    return read_journal(write_journal(root, files))


def said(ledger: Ledger) -> Iterator[str]:
    """What a ledger says: time, parts and snags, one a line, and the day of the record."""
    for row in ledger.work:
        task = row.task or "no task"
        seconds = length_text(row.seconds)
        yield f"work: {row.day} {row.person} ({row.role}) {seconds} {task} {row.work}"
    yield from (_part(part) for part in ledger.parts)
    yield from (_snag(snag) for snag in ledger.snags)


def _part(part: Part) -> str:
    events = (f"{event.day} {event.line.status or 'seen'}" for event in part.events)
    cost = (
        f", cost {part.cost[1].amount} {part.cost[1].currency} on {part.cost[0]}"
        if part.cost
        else ""
    )
    return f"part: {part.name}{f' {part.ref}' if part.ref else ''}: {', '.join(events)}{cost}"


def _snag(snag: Snag) -> str:
    fixed = f", fixed {snag.fixed_on} in {snag.fixed_in}" if snag.fixed else ", open"
    return f"snag: {snag.number} {snag.line.snag} in {snag.note}{fixed}"


def note(words: str, day: date | None = None) -> dict[str, str]:
    """One note of 14 March 2026, or of the day, with these words in its front matter."""
    return {f"notes/{day or '2026-03-14'}.md": f"---\n{words}\n---\n"}
