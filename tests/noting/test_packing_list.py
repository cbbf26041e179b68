"""A packing list becomes parts: what came, and beside it what is short, damaged or back-ordered."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.noting.new_note import note_text
from builderlog.noting.packing_list import note_with, packing_list, packing_note, statuses
from builderlog.reading.csv_rows import read_csv
from tests.making import ledger
from tests.noting.packing import TODAY, parts, read, told


@pytest.mark.parametrize(
    ("cells", "wanted"),
    [
        ("12,12,,,", ["Rib 12 received"]),
        ("12,8,,,", ["Rib 8 received", "Rib 4 short"]),
        ("12,8,,,4", ["Rib 8 received", "Rib 4 back-ordered"]),
        ("12,,4,,", ["Rib 8 received", "Rib 4 short"]),
        ("12,,1,2,3", ["Rib 6 received", "Rib 1 short", "Rib 2 damaged", "Rib 3 back-ordered"]),
        ("12,0,,,", ["Rib 12 short"]),
        ("12,x,,,", ["Rib 12 received"]),
        ("12,no,,,", ["Rib 12 short"]),
        ("12,,x,,", ["Rib 12 short"]),
        ("2,,,yes,", ["Rib 2 damaged"]),
        ("12,,12,,", ["Rib 12 short"]),
        ("12,,0,no,-", ["Rib 12 received"]),
        (",,,,", ["Rib received"]),
        ("12 pcs,8 ea,,,", ["Rib 8 received", "Rib 4 short"]),
    ],
)
def test_counts(cells: str, wanted: list[str]) -> None:
    """Counts in columns of their own tell apart what came and what did not, and add up."""
    extra = ",here" if set(cells) <= {","} else ","
    assert parts(f"part,ordered,shipped,short,damaged,b/o,box\nRib,{cells}{extra}\n") == wanted


@pytest.mark.parametrize(
    ("word", "status"),
    [
        *(
            ("Received", "received"),
            ("OK", "received"),
            ("missing", "short"),
            ("B/O", "back-ordered"),
        ),
        *(("back ordered", "back-ordered"), ("dented", "damaged"), ("", "received")),
        *(("on order", "ordered"), ("returned", "sent back")),
    ],
)
def test_words_for_how_a_part_stands(word: str, status: str) -> None:
    """Makers' words are those of the journal; none means that the part came."""
    assert parts(f"part,qty,status\nRib,2,{word}\n") == [f"Rib 2 {status}"]


def test_a_status_beside_counts() -> None:
    """What is missing of a count stands as the status says, else as short."""
    table = "part,ordered,received,status\nRib,12,8,back-ordered\n"
    assert parts(table) == ["Rib 8 received", "Rib 4 back-ordered"]


def test_costs_are_exact() -> None:
    """A price is multiplied, a cost stands as it is, each once; the column may say the currency."""
    assert parts("part,qty,status,unit price (EUR)\nRib,12,ok,3.20\n") == [
        "Rib 12 received 38.40 EUR"
    ]
    assert parts("part;qty;shipped;cost\nRib;12;8;8,40\n") == [
        "Rib 8 received 8,40",
        "Rib 4 short",
    ]
    assert told(read("part,cost,status\nRib,8.40,ok\n", currency=None)) == [
        "2:5 unreadable (mistake)"
    ]


def test_all_mistakes_are_told_at_once() -> None:
    """Words, counts, days and rows that cannot be read are told together, each at its place."""
    table = (
        "part,ref,qty,status,due,short\nRib,,many,ok,,\nSpar,,1,funny,,\nWeb,,1,ok,3/4/26,\n"
        "Skin,,1,,,2\n,,3,ok,,\nCap,,1,ok,,,x\n"
    )
    assert told(read(table)) == [
        "2:6 unreadable (mistake)",
        "3:9 unreadable (mistake)",
        "4:11 unreadable (mistake)",
        "5:11 count (mistake)",
        "6:3 no-part (mistake)",
        "7:13 too-many-cells (mistake)",
    ]


def test_doubtful_rows() -> None:
    """More than was listed, one number twice, sums and headings are told and hide nothing."""
    table = "part,ref,qty,received\nWing kit,,,\nRib,R1,2,3\nWeb,W1,1,1\nWeb,W1,1,1\nTotal,,4,5\n"
    found = read(table)
    assert told(found) == [
        "2:1 heading-left-out (doubt)",
        "3:10 more-than-listed (doubt)",
        "5:5 part-twice (doubt)",
        "6:1 sums-left-out (doubt)",
    ]
    assert [part.count for part in found.parts] == ["3", "1", "1"]


def test_tasks_and_days() -> None:
    """A task is that of the work list, one it lacks a comment; days are written as in a note."""
    table = "part,status,for,due\nRib,B/O,w14,14 Dec 2026\nSpar,ok,X9,\n"
    found = read(table, {"w14": "W14"})
    assert [(part.task, part.due) for part in found.parts] == [("W14", "2026-12-14"), ("", "")]
    assert found.comments == ("Spar: for X9",)
    assert told(found) == ["3:9 unknown-task (doubt)"]
    assert read(table).parts[1].task == "X9"


def test_an_empty_list() -> None:
    """Names of columns alone are a mistake."""
    assert told(read("part,status\n")) == ["1:1 no-parts (mistake)"]


def test_the_note() -> None:
    """The note of the day names the list, its parts and what no column means."""
    found = read("part,qty,status,box\nRib,2,ok,3\nSpar,1,short,\n")
    assert note_text(packing_note(found, "crate-1", TODAY)) == (
        "---\ndate: 2026-11-27\ntitle: Packing list crate-1\nparts:\n"
        "  - {part: Rib, count: 2, status: received}\n"
        "  - {part: Spar, count: 1, status: short}\n# Rib: box: 3\n---\n"
    )
    assert statuses(found.parts) == {"received": 1, "short": 1}
    assert note_with(found, ledger()) is None


CELLS = st.sampled_from(
    [
        "",
        "Rib",
        "x",
        "no",
        "12",
        "-1",
        "1.250",
        "8 ea",
        "short",
        "B/O",
        "3.20",
        "3/4/26",
        "Total",
        "#",
    ]
)
HEADS = st.permutations(
    ["part", "ref", "qty", "received", "status", "short", "damaged", "price", "due", "for", "odd"]
)


@given(HEADS, st.lists(st.lists(CELLS, min_size=1, max_size=11), max_size=4))
def test_any_list_is_read_or_told(heads: list[str], rows: list[list[str]]) -> None:
    """Whatever stands in the cells, parts or sentences come of it, and a note can be written."""
    text = "\n".join(";".join(row) for row in (heads, *rows))
    table, _ = read_csv("list.csv", text.encode())
    found = packing_list(table, {"rib": "Rib"}, "USD", TODAY)
    assert found.problems or found.parts
    assert note_text(packing_note(found, "x", TODAY))
