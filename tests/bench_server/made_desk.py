"""A small journal on the disk and the desk that the bench's pages are drawn from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.deciding.checks import judge
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder

NOW = datetime(2026, 3, 16, 22, 30)  # noqa: DTZ001 - the wall clock of the shop
LAST = "notes/2026/2026-03-14-skins.md"
FILES = {
    "journal.yaml": """\
title: Kestrin <Three>
builder: Ines
people:
  Tomas: {role: builder}
  Ines: {role: builder}
  Ada: {role: helper}
  Osk & Sons: {role: paid, until: 2026-02-01}
rulebook: us-checklist
currency: USD
""",
    "worklist.yaml": """\
areas:
  - area: W
    name: Wings
    tasks:
      - task: W14
        name: Fit aileron skins
        work: fabrication
        estimate: 14h
        credit: {maker: 0.3, paid: 0, assembly: 0.2, fabrication: 0.5}
      - {task: W15, name: "Counterweights, left", work: assembly, estimate: 3h}
      - {task: W13, name: Aileron frames, work: assembly, estimate: 3h, state: done}
      - {task: W99, name: Floats, applies: no}
  - area: E
    name: Tail
    tasks:
      - {task: E01, name: Fin, work: assembly, estimate: 5h}
""",
    LAST: """\
---
date: 2026-03-14
hours: {Ines: 3h, Ada: 1h}
tasks:
  - {task: W14, hours: 2h, per: sheet 27-3}
parts:
  - {part: Piano hinge, ref: H-7, status: ordered, due: 2026-03-10}
snags:
  - {snag: Gap at rib 4, area: W}
next: [dimple the nose skin, order clecos]
---
Skins on.
""",
}


def laid(root: Path, more: Mapping[str, str] | None = None) -> Path:
    """The journal in a folder, with other files in place of its own or beside them."""
    for path, text in {**FILES, **(more or {})}.items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return root


def desk_of(root: Path, inbox: Sequence[InboxPicture] = (), token: str = "a-token") -> Desk:  # noqa: S107 - no secret
    """The desk on the evening of 16 March 2026."""
    ledger = read_journal(Folder.at(root))
    return Desk(ledger, judge(ledger), NOW, token, tuple(inbox), once="once-1")


def at(desk: Desk, now: datetime) -> Desk:
    """The same desk at another hour."""
    return replace(desk, now=now)
