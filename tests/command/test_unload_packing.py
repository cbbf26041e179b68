"""`unload --packing-list`: a note of parts, once, whole or not at all."""

from __future__ import annotations

from pathlib import Path

from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from tests.command.running import originals, run, write

LIST = "part,ref,qty,shipped,price\nRib,FK-2,12,8,3.20\nWeb,FK-1,2,2,120.50\n"
ON = ("--on", "2026-04-02")


def packing(root: Path, text: str = LIST) -> Path:
    """A list beside the journal."""
    return write(root.parent, {"crate 1.csv": text}) / "crate 1.csv"


def test_a_list_becomes_a_note(journal: Path) -> None:
    """Its parts stand in a note of the day, nothing else is touched, and it has no mistake."""
    before = originals(journal)
    said = run("unload", journal, "--packing-list", packing(journal), *ON)
    assert (said.status, said.err) == (0, "")
    note = "notes/2026/2026-04-02-packing-list-crate-1.md"
    assert said.out == f"{note} has 3 entries of parts: 2 received and 1 short\n"
    after = originals(journal)
    assert {path: after[path] for path in before} == before
    assert set(after) - set(before) == {note}
    assert run("check", journal).status == 0
    ledger = read_journal(Folder.at(journal))
    lines = next(each.parts for each in ledger.notes if each.path == note)
    assert [(str(line.count), line.status) for line in lines] == [
        ("8", "received"),
        ("4", "short"),
        ("2", "received"),
    ]


def test_a_list_is_brought_in_once(journal: Path) -> None:
    """A second time the note that holds it is named, and nothing is written."""
    file = packing(journal)
    run("unload", journal, "--packing-list", file, *ON)
    before = originals(journal)
    said = run("unload", journal, "--packing-list", file, "--on", "2026-04-05")
    assert (said.status, "holds every part of this list already" in said.out) == (0, True)
    assert originals(journal) == before


def test_with_a_mistake_nothing_is_written(journal: Path) -> None:
    """A bad row is told with its line, and no note is made."""
    before = originals(journal)
    said = run("unload", journal, "--packing-list", packing(journal, f"{LIST}Cap,,many,,\n"), *ON)
    assert (said.status, said.out) == (1, "")
    assert "crate 1.csv:4:6: unreadable: 'many' is not a number" in said.err
    assert "1 mistake; no note was written" in said.err
    assert originals(journal) == before


def test_a_sealed_month_is_not_added_to(journal: Path) -> None:
    """The day's month is sealed: refused, and another day can be named."""
    run("seal", journal, "2026-03")
    said = run("unload", journal, "--packing-list", packing(journal), "--on", "2026-03-20")
    assert (said.status, "--on" in said.err) == (2, True)
