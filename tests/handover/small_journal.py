"""A small journal written into a folder, with every oddity that a bag must bear; invented data."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace
from pathlib import Path

from builderlog.handover.bag import DossierReport, write_dossier
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder

JOURNAL = """\
title: Ostrel <Two> & friends
builder: Ines
people:
  Ines: {role: builder, full name: Ines Aldermark}
  Tomas: {role: builder}
  "=Ada, the 2nd": {role: helper}
  Osk: {role: paid}
currency: USD
exchange: {from: EUR, on: 2026-01-01, rate: 1.0873}
aircraft: {design: Ostrel Two}
rulebook: us-checklist
papers: {bill of sale: {have: 2026-01-04, file: papers/bill.txt}}
"""
WORKLIST = """\
areas:
  - area: W
    name: Wings
    tasks:
      - task: W14
        name: Aileron skins
        work: fabrication
        estimate: 14h
        state: done
        credit: {maker: 0.3, paid: 0, assembly: 0.2, fabrication: 0.5}
      - {task: W15, name: "-- rivets", work: assembly, state: open}
"""
SKINS = """\
---
date: 2026-03-14
title: Skins on
hours: {Ines: 3h15, Tomas: 1h, "=Ada, the 2nd": 0.0125}
tasks:
  - {task: W14, hours: 2.5, per: manual 27-3 rev C}
  - {task: W15, hours: 0:45, who: [Ines, Tomas]}
parts:
  - part: AN3-5A bolt
    count: 12
    cost: 8.40 EUR
    status: fitted
    for: W14
    receipt: ./receipts//a.txt
photos:
  - photo: photos/skin.png
    shows: [W14]
    seen: [Ines]
    caption: "@home, with \\"quotes\\"\\nand a second line"
  - {photo: photos/50 % done.png, shows: [W14]}
  - {photo: "photos/line\\nbreak.png", shows: [W14]}
visits:
  - who: [Hedda, Ines]
    as: counsellor
    looked at: [W14]
    said: Fine
    found: {snag: One rivet high, no: R1}
    sheet: tables/hours.csv
---
Held with clecos. The [receipt](../receipts/a.txt) and a [shop](https://example.org/).
"""
LATER = """\
---
date: 2026-04-20
hours: 20:00-22:10
private: yes
fixed: {no: R1, how: Drilled out, by: Ines, witness: Tomas}
decided: {what: "=Never again", why: "+1", instead of: "-", again: "@spring"}
closes: [W14]
photos: [photos/shared.png, {photo: "photos/back\\\\slash.png", shows: [W15]}]
---
Private words for the inspector.
"""
HIDDEN = """\
---
date: 2026-04-21
title: The secret title
hours: {Ines: 2h30, Tomas: 0.0125}
tasks:
  - {task: W15, hours: 1h}
  - {task: W14, hours: 0.0125, who: Tomas, work: other}
parts:
  - {part: secret part, cost: 99 USD, receipt: receipts/secret.txt}
photos: [photos/secret.png, photos/shared.png]
place: secret place
next: secret step
private: hours only
---
Secret words, and ![a secret view](../photos/secret-linked.png).
"""
# What must not be found in any byte of a bag.
SECRET_WORDS = (b"ecret",)


def png(shade: int) -> bytes:
    """A picture of one pixel; each shade is another file."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + check

    header = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    body = chunk(b"IDAT", zlib.compress(bytes((0, shade))))
    return b"\x89PNG\r\n\x1a\n" + header + body + chunk(b"IEND", b"")


FILES: dict[str, bytes] = {
    "journal.yaml": JOURNAL.encode(),
    "worklist.yaml": WORKLIST.encode(),
    "notes/2026-03-14-skins.md": SKINS.encode(),
    "notes/2026-04-20.md": LATER.encode(),
    "notes/2026-04-21-secret-name.md": HIDDEN.encode(),
    "photos/skin.png": png(1),
    "photos/50 % done.png": png(2),
    "photos/back\\slash.png": png(3),
    "photos/line\nbreak.png": png(4),
    "photos/nobody names me \u00e9\u2028.png": png(5),
    "photos/ends in a blank ": png(6),
    "photos/shared.png": png(7),
    "photos/secret.png": png(8),
    "photos/secret-linked.png": png(9),
    "receipts/a.txt": b"a receipt",
    "receipts/secret.txt": b"a secret receipt",
    "tables/hours.csv": b"the counsellor's own table",
    "papers/bill.txt": b"a bill",
    "letters/2026-03.md": b"a letter that no note names",
    "inbox/new.png": png(10),
}


def write_journal(root: Path, files: dict[str, bytes] | None = None) -> Path:
    """Writes the files below `root`."""
    for path, data in (files or FILES).items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    return root


def read(root: Path) -> tuple[Folder, Ledger]:
    """The folder and its ledger."""
    folder = Folder.at(root)
    return folder, read_journal(folder)


def bag_of(root: Path, out: Path) -> DossierReport:
    """Writes the bag of a journal into `out`."""
    return write_dossier(*read(root), out)


def without_problems(ledger: Ledger) -> Ledger:
    """The same ledger as if nothing were wrong with it."""
    return replace(ledger, problems=())
