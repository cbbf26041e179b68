"""The register as a table: what the notes say, in both systems, with what follows from them."""

from __future__ import annotations

from pathlib import Path

from builderlog.sheets.record_closeout import closeout
from tests.deciding.torque_entries import journal

DASH = "\N{EN DASH}"
ENTRY = (
    "{where: Steel bracket, bolt: AN3-5A, nut: tension, threads: dry, count: 2, to: 22 in-lb, "
    "drag: 4 in-lb, set: 26 in-lb, source: AC 43.13-1B Table 7-1, wrench: one, marked: yes, "
    "safetied: locknut, by: Ines, witness: Tomas}"
)


def rows(root: Path, notes: dict[str, str]) -> list[dict[str, str]]:
    """Each row by the names of its columns."""
    sheet = closeout(journal(root, notes))
    return [dict(zip(sheet.header, row, strict=True)) for row in sheet.rows]


def test_a_row_has_all_that_a_close_out_asks_for(tmp_path: Path) -> None:
    """Values in both systems, the rule that the setting agrees with, wrench, mark, both people."""
    (row,) = rows(tmp_path, {"2026-03-01": f"tasks: W1\nhours: 1h\ntorqued: {ENTRY}"})
    rule = "AC 43.13-1B par. 7-40 d (the drag is always added)"
    assert row == {
        "state": "closed",
        "open_because": "",
        "areas": "W",
        "tasks": "W1",
        "where": "Steel bracket",
        "bolt": "AN3-5A",
        "nut": "tension",
        "threads": "dry",
        "count": "2",
        "asked": "22 in-lb (2.49 N·m)",
        "source": "AC 43.13-1B Table 7-1",
        "table": f"Within Table 7-1 (10-32, tension-type nut: 20{DASH}25 in-lb "
        f"(2.26{DASH}2.82 N·m)).",
        "drag": "4 in-lb (0.452 N·m)",
        "set": "26 in-lb (2.94 N·m)",
        "extension": "",
        "drag_rule": rule,
        "setting": f"Agrees with {rule}.",
        "wrench": "one",
        "calibrated": "2026-01-15",
        "calibration": "within a year",
        "marked": "yes",
        "safetied": "locknut",
        "by": "Ines",
        "witness": "Tomas",
        "date": "2026-03-01",
        "again": "",
        "note": "notes/2026-03-01.md",
    }


def test_what_is_not_said_is_an_empty_cell(tmp_path: Path) -> None:
    """An entry that says nothing has a row all the same, and it is open."""
    (row,) = rows(tmp_path, {"2026-03-01": "torqued: {where: a}"})
    said = {key: cell for key, cell in row.items() if cell}
    assert said == {
        "state": "open",
        "open_because": "no torque value on record; no wrench named; nothing said of a mark",
        "where": "a",
        "table": "Table 7-1 not applied: the bolt is not on record.",
        "setting": "The setting cannot be held against the drag rules: the value wanted is not on "
        "record.",
        "date": "2026-03-01",
        "note": "notes/2026-03-01.md",
    }


def test_a_rule_is_named_only_where_one_shows(tmp_path: Path) -> None:
    """Both rules where they come to the same, none where neither fits, nothing without drag."""
    entries = (
        "{to: 24 in-lb, drag: 8 in-lb, set: 32 in-lb}",
        "{to: 24 in-lb, drag: 8 in-lb, set: 24 in-lb}",
        "{to: 24 in-lb, set: 24 in-lb, wrench: zero}",
        "{to: 24 in-lb, drag: 8 in-lb}",
    )
    found = rows(tmp_path, {"2026-03-01": f"torqued: [{', '.join(entries)}]"})
    assert [row["drag_rule"].count("par. 7") for row in found] == [2, 0, 0, 0]
    assert [row["drag_rule"] for row in found[1:]] == ["none", "", ""]
    assert [row["calibration"] for row in found] == ["", "", "no wrench", ""]
