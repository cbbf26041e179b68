"""Torque entries for tests, in a line of words each, and small journals of them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from builderlog.knowing.entries import Torqued
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Wrench
from builderlog.knowing.units import Quantity, parse_quantity
from builderlog.reading.problem import Place
from builderlog.reading.words import Word
from tests.knowing.journals import ledger_of

HERE = Place("notes/x.md")
PEOPLE = "people: {Ines: builder, Tomas: builder}"
WORKLIST = """\
areas:
  - area: P
    name: Engine and propeller
    tasks: [P1]
  - area: K
    name: Controls
    tasks: [K1]
  - area: W
    name: Wings
    tasks:
      - {task: W1, name: Aileron hinges}
      - {task: W2, name: Fit the spruce spar}
  - area: E
    name: Tail surfaces
    tasks: [E1, E2]
"""


def torqued(**said: str) -> Torqued:
    """An entry; keys as in a note, with `to` and `set` among them."""

    def value(key: str) -> Quantity | None:
        return parse_quantity(said[key]) if key in said else None

    def word(key: str) -> Word | None:
        return Word(said[key], HERE) if key in said else None

    return Torqued(
        word("where"),
        HERE,
        bolt=word("bolt"),
        nut=said.get("nut"),
        threads=said.get("threads"),
        wanted=value("to"),
        drag=value("drag"),
        set_to=value("set"),
        extension=word("extension"),
        source=word("source"),
    )


def wrench(length: str | None) -> Wrench:
    """A wrench of that length."""
    return Wrench("one", HERE, length=parse_quantity(length) if length else None)


def journal(root: Path, notes: Mapping[str, str], wrenches: str = "{one: 2026-01-15}") -> Ledger:
    """Notes by their day, in an aircraft of four areas."""
    head = f"title: A\nbuilder: Ines\n{PEOPLE}\nwrenches: {wrenches}\n"
    files = {f"notes/{day}.md": f"---\n{text}\n---\n" for day, text in notes.items()}
    return ledger_of(root, {"journal.yaml": head, "worklist.yaml": WORKLIST, **files})
