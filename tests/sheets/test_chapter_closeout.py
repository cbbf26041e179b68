"""The register as a chapter: cautions first, what is open before the rest, every value told."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from builderlog.deciding.findings import find
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Block, Bullets, Cell, Chapter, Paragraph, Rows, Section
from builderlog.sheets.chapter_closeout import COLUMNS, closeout
from builderlog.sheets.material import material
from tests.deciding.torque_entries import journal

DASH = "\N{EN DASH}"
NOTES = {
    "2026-03-01": """\
tasks: W1
hours: 1h
torqued:
  - {where: Steel bracket, bolt: AN3-5A, nut: tension, threads: dry, count: 2, to: 26 in-lb,
     drag: 4 in-lb, set: 30 in-lb, wrench: one, marked: yes, safetied: locknut, by: Ines,
     witness: Tomas}
  - {where: Horn, to: 3 N·m, set: 3 N·m, source: kit manual 3-5, extension: 50 mm, wrench: old,
     nut: other, safetied: cotter, marked: no}
""",
    "2026-03-02": "tasks: [E1, W2]\nhours: 1h\ntorqued: {where: Strut, extension: the long one}",
    "2026-03-03": "torqued: {where: Horn, safetied: wire}",
    "2026-03-04": """\
tasks: P1
hours: 1h
torqued: {to: 9 N·m, set: 9 N·m, wrench: two, marked: yes}
""",
}
WRENCHES = "{one: 2026-01-15, two: 2025-02-01, old: }"


def chapter_of(ledger: Ledger) -> Chapter:
    """The one chapter."""
    (chapter,) = closeout(material(find(ledger)))
    return chapter


@pytest.fixture
def chapter(tmp_path: Path) -> Chapter:
    """The chapter of the notes above."""
    return chapter_of(journal(tmp_path, NOTES, WRENCHES))


def sections(chapter: Chapter) -> dict[str, Section]:
    """The sections by their titles."""
    return {block.title: block for block in chapter.blocks if isinstance(block, Section)}


def rows_of(section: Section) -> list[dict[str, Cell]]:
    """Each row of its table by the columns' headings."""
    (table,) = (block for block in section.blocks if isinstance(block, Rows))
    headings = [column.heading for column in table.columns]
    return [dict(zip(headings, row, strict=True)) for row in table.rows]


def test_cautions_come_first(chapter: Chapter) -> None:
    """Before any value stands what prevails over it, and that nothing is granted."""
    first = chapter.blocks[0]
    assert isinstance(first, Paragraph)
    assert first.kind == "caution"
    assert "part maker's manual prevail over everything here" in first.words
    assert "licensed mechanic" in first.words
    assert "grants nothing" in first.words


def test_counts_and_what_cannot_be_known_are_told(chapter: Chapter) -> None:
    """How many are open, and that fasteners of which no note tells are not here."""
    told = [block.words for block in chapter.blocks if isinstance(block, Paragraph)]
    assert told[1] == "5 entries on torque: 3 still open."
    assert "nothing in the record can tell that they are missing" in told[2]


def test_done_again_is_counted(tmp_path: Path) -> None:
    """An entry that a later one replaced is neither open nor forgotten."""
    notes = dict.fromkeys(("2026-03-01", "2026-03-02"), "torqued: {where: a, bolt: AN3}")
    found = chapter_of(journal(tmp_path, notes))
    assert isinstance(found.blocks[1], Paragraph)
    assert found.blocks[1].words == (
        "2 entries on torque: 1 still open, 1 done again by a later entry."
    )
    states = [row["State"].words for row in rows_of(sections(found)["No area named"])]
    assert states[1] == "torqued again on 2026-03-02"


def test_what_is_open_stands_before_the_areas(chapter: Chapter) -> None:
    """A list of all that is open leads to the sections of its areas."""
    first = next(block for block in chapter.blocks if isinstance(block, Section))
    (bullets,) = first.blocks
    assert isinstance(bullets, Bullets)
    assert (first.title, first.aside) == ("Still open", "3 entries")
    assert [(cell.words.split(":")[0], cell.to) for cell in bullets.items] == [
        ("Strut", "closeout-1"),
        ("Horn", "closeout-2"),
        ("Horn", "closeout-4"),
    ]
    assert [link.path for link in bullets.items[0].links] == ["notes/2026-03-02.md"]


def test_areas_have_sections_from_tail_to_nose(chapter: Chapter) -> None:
    """A note of two areas has a section that names both, and one without any the last."""
    found = [(each.id, each.title, each.aside) for each in sections(chapter).values()]
    assert found[1:-2] == [
        ("closeout-1", "Area E: Tail surfaces or Area W: Wings", "1 still open"),
        ("closeout-2", "Area W: Wings", "1 still open"),
        ("closeout-3", "Area P: Engine and propeller", "nothing open"),
        ("closeout-4", "No area named", "1 still open"),
    ]
    shared = sections(chapter)["Area E: Tail surfaces or Area W: Wings"].blocks[0]
    assert isinstance(shared, Paragraph)
    assert "may belong to any of them" in shared.words


def test_a_row_tells_everything_in_both_systems(chapter: Chapter) -> None:
    """The closed entry: what, how much, by which rule, with which wrench, marked, seen by whom."""
    row = rows_of(sections(chapter)["Area W: Wings"])[1]
    assert {heading: cell.words for heading, cell in row.items()} == {
        "Where": "Steel bracket: 2 of AN3-5A, tension-type nut, dry threads",
        "Torque": "asked 26 in-lb (2.94 N·m), its source is not said; drag 4 in-lb (0.452 N·m); "
        "wrench set to 30 in-lb (3.39 N·m)",
        "Held against the rules": "Agrees with AC 43.13-1B par. 7-40 d (the drag is always added). "
        f"Above Table 7-1 (10-32, tension-type nut: 20{DASH}25 in-lb (2.26{DASH}2.82 N·m)); the "
        "kit's and the part maker's manual prevails.",
        "Wrench": "one, calibrated 2026-01-15",
        "Mark": "applied",
        "Safetied": "self-locking nut; needs no other",
        "By whom": "Ines; seen by Tomas",
        "State": "closed",
    }
    assert row["Where"].to == "task-W1"
    assert [link.path for link in row["By whom"].links] == ["notes/2026-03-01.md"]


def test_a_row_tells_what_is_not_on_record(chapter: Chapter) -> None:
    """The open entry: what is missing is said and weak, and why nothing could be reckoned."""
    row = rows_of(sections(chapter)["Area W: Wings"])[0]
    assert {heading: cell.words for heading, cell in row.items()} == {
        "Where": "Horn: bolt not said, another nut",
        "Torque": "asked 3 N·m (26.6 in-lb) by kit manual 3-5; no drag on record; wrench set to "
        "3 N·m (26.6 in-lb); extension 50 mm (1.97 in)",
        "Held against the rules": "The setting cannot be held against the drag rules: the wrench's "
        "own length is not on record, so the extension cannot be reckoned. Table 7-1 not applied: "
        "the value is by 'kit manual 3-5', which prevails.",
        "Wrench": "old, no calibration on record up to that day",
        "Mark": "not applied",
        "Safetied": "cotter pin",
        "By whom": "by whom is not said; no second pair of eyes on record",
        "State": "open: no mark applied",
    }
    weak = [heading for heading, cell in row.items() if cell.weak]
    assert weak == ["Wrench", "Mark", "State"]


def test_words_that_are_no_extension_stay_as_they_are(chapter: Chapter) -> None:
    """An extension that cannot be read is repeated, and cells say that nothing is said."""
    row = rows_of(sections(chapter)["Area E: Tail surfaces or Area W: Wings"])[0]
    assert row["Torque"].words.endswith("; extension the long one")
    assert (row["Wrench"].words, row["Wrench"].weak) == ("not said", True)
    assert (row["Mark"].words, row["Safetied"].words) == ("not said", "not said")
    assert row["Where"].to == ""


def test_a_wrench_out_of_date_is_weak(chapter: Chapter) -> None:
    """More than a year after its calibration the wrench's cell says so; the entry is not open."""
    (row,) = rows_of(sections(chapter)["Area P: Engine and propeller"])
    assert row["Wrench"].words == "two, calibrated 2025-02-01, more than a year before"
    assert row["Wrench"].weak
    assert row["State"].words == "closed"
    assert row["Where"].words == "bolt not said"


def test_the_rules_are_named_with_their_sources(chapter: Chapter) -> None:
    """Both drag rules, the extension, calibration, marks and safetying each name a source."""
    (bullets,) = sections(chapter)["The rules named here"].blocks
    assert isinstance(bullets, Bullets)
    words = [cell.words for cell in bullets.items]
    for at, source in enumerate(("7-40 d", "TB 43-0218", "common practice", "TM 1-1500", "7-40 a")):
        assert source in words[at]
    assert "7-122" in words[5]


def test_the_rows_used_are_shown_with_the_tables_cautions(chapter: Chapter) -> None:
    """Only the row of a thread that an entry was held against, with the table's own captions."""
    section = [*sections(chapter).values()][-1]
    source, caution = section.blocks[:2]
    assert isinstance(source, Paragraph)
    assert source.words == "FAA AC 43.13-1B (8 September 1998), Table 7-1."
    assert isinstance(caution, Paragraph)
    assert caution.kind == "caution"
    assert caution.words.startswith("Values are for oil-free cadmium-plated threads;")
    assert "loaded primarily in shear" in caution.words
    (row,) = rows_of(section)
    assert [cell.words for cell in row.values()] == [
        "10-32 (fine)",
        f"20{DASH}25 in-lb (2.26{DASH}2.82 N·m)",
        f"12{DASH}15 in-lb (1.36{DASH}1.69 N·m)",
        "40 in-lb (4.52 N·m)",
        "25 in-lb (2.82 N·m)",
    ]


def test_a_table_that_was_not_applied_says_so(tmp_path: Path) -> None:
    """Without an entry to which it applies no row is shown, but the reason."""
    chapter = chapter_of(journal(tmp_path, {"2026-03-01": "torqued: {where: a}"}))
    first = [*sections(chapter).values()][-1].blocks[0]
    assert isinstance(first, Paragraph)
    assert "Table 7-1, was applied to no entry" in first.words


def test_an_empty_record_says_so(tmp_path: Path) -> None:
    """Where nothing was torqued the chapter stands, with its caution and one sentence."""
    chapter = chapter_of(journal(tmp_path, {}))
    told = [block.words for block in chapter.blocks if isinstance(block, Paragraph)]
    assert told[1] == "No note tells of a fastener that was brought to torque."
    assert len(told) == len(chapter.blocks) == 3


def test_no_word_grants_anything(chapter: Chapter) -> None:
    """Nothing here says of a joint that it was approved, compliant or passed."""
    told = " ".join(words_in(chapter.blocks)).lower()
    assert not [word for word in ("approv", "complian", "passed", "certif") if word in told]
    assert "kit manual 3-5" in told


def words_in(blocks: tuple[Block, ...]) -> Iterator[str]:
    """All words of the blocks."""
    for block in blocks:
        if isinstance(block, Section):
            yield from (block.title, block.aside, *words_in(block.blocks))
        elif isinstance(block, Rows):
            yield from (cell.words for row in block.rows for cell in row)
        elif isinstance(block, Bullets):
            yield from (cell.words for cell in block.items)
        elif isinstance(block, Paragraph):
            yield block.words


def test_every_row_is_as_long_as_the_columns(chapter: Chapter) -> None:
    """A cell for each column, in every section."""
    tables = [block for s in sections(chapter).values() for block in s.blocks]
    found = [block for block in tables if isinstance(block, Rows) and block.columns == COLUMNS]
    assert found
    assert all(len(row) == len(COLUMNS) for table in found for row in table.rows)
