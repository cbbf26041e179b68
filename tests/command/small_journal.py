"""A small journal without mistakes, and the words with which tests break it; invented data."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

from tests.command.running import write

JOURNAL = """\
title: Two seats by the orchard
builder: Ines
people:
  Ines: {role: builder}
  Tomas: {role: helper}
aircraft: {design: Pellar Two}
currency: USD
"""
WORKLIST = """\
areas:
  - area: W
    name: Wings
    tasks:
      - {task: W14, name: Fit aileron skins, work: fabrication, state: open}
      - {task: W15, name: Rivet them, work: assembly, state: open}
"""
SKINS = """\
---
date: 2026-03-14
title: Skins on
hours: {Ines: 3h15, Tomas: 1h}
tasks: [{task: W14, hours: 2.5}]
parts: [{part: AN3-5A bolt, count: 12, cost: 8.40 USD, status: fitted, receipt: receipts/a.pdf}]
photos: [{photo: photos/skins.jpg, shows: [W14], caption: Skins held with clecos}]
---
Straight within half a millimetre.
"""
RIVETS = """\
---
date: 2026-03-15
hours: 19:10-22:25
tasks: [W15]
next: dimple the nose skin
---
All in. See [yesterday](2026-03-14-skins.md).
"""


def jpeg(shade: int = 90, size: tuple[int, int] = (64, 48)) -> bytes:
    """A small picture."""
    out = io.BytesIO()
    Image.new("RGB", size, (shade, 120, 200)).save(out, "JPEG")
    return out.getvalue()


def files() -> dict[str, str | bytes]:
    """Every file of the journal."""
    return {
        "journal.yaml": JOURNAL,
        "worklist.yaml": WORKLIST,
        "notes/2026-03-14-skins.md": SKINS,
        "notes/2026-03-15-rivets.md": RIVETS,
        "photos/skins.jpg": jpeg(),
        "receipts/a.pdf": b"%PDF-1.4 a receipt",
    }


def write_small(root: Path, **more: str | bytes) -> Path:
    """Writes the journal below `root`; `more` are notes by the word in their file's name."""
    notes = {f"notes/2026-04-01-{word}.md": text for word, text in more.items()}
    return write(root, {**files(), **notes})
