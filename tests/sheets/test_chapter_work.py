"""The chapters of bulletins, snags and decisions: open things first, nobody's words changed."""

from __future__ import annotations

from pathlib import Path

from builderlog.sheets.chapter import Cell, Paragraph
from builderlog.sheets.chapter_work import bulletins, decisions, snags
from tests.sheets.chapter_reader import (
    example,
    made,
    none_made,
    of_notes,
    plain,
    rows,
    said,
    sections,
    tables,
)

EMPTY = "date: 2026-03-14\nhours: 1h\n"


def test_a_bulletin_stands_once_with_all_its_notes(tmp_path: Path) -> None:
    """Noted as applying, done in a later note: one row that says both."""
    first = "date: 2026-03-14\nbulletins: [{no: SB-1, applies: yes}, {no: SB-2, applies: no}]\n"
    later = "date: 2026-04-01\nbulletins: [{no: SB-1, done: looked at welds}, {no: SB-3}]\n"
    chapter = made(bulletins, of_notes(tmp_path, first, later))
    [table] = tables(chapter.blocks)
    assert [tuple(row.values()) for row in plain(table)] == [
        ("SB-1", "2026-03-14", "yes", "looked at welds", "[2026-03-14] [2026-04-01]"),
        ("SB-2", "2026-03-14", "no", "", "[2026-03-14]"),
        ("SB-3", "2026-04-01", "not said", "not said", "[2026-04-01]"),
    ]
    [gap] = [each for each in chapter.blocks if isinstance(each, Paragraph)]
    assert (gap.kind, gap.words.endswith("done: SB-3.")) == ("gap", True)


def test_a_bulletin_that_applies_and_is_not_done_is_open(tmp_path: Path) -> None:
    """That a bulletin applies is not that it was done: the chapter says which are open."""
    told = "date: 2026-03-14\nbulletins: [{no: SB-1, applies: yes}]\n"
    assert "SB-1." in said(made(bulletins, of_notes(tmp_path, told)).blocks)


def test_chapters_without_content_are_left_out(tmp_path: Path) -> None:
    """Without a bulletin or a decision there is no chapter of them."""
    ledger = of_notes(tmp_path, EMPTY)
    assert none_made(bulletins, ledger)
    assert none_made(decisions, ledger)


def test_open_snags_come_first_then_those_put_right(tmp_path: Path) -> None:
    """An open snag says where it is; one put right says when, after how many days, how, by whom."""
    found = "date: 2026-02-20\nsnags: [{snag: Dent, task: W14, no: D}, {snag: Gap, area: W}, Oil]\n"
    fixed = "date: 2026-03-02\nfixed: {no: D, how: New skin, by: [Ines, Ada], witness: Bo}\n"
    chapter = made(snags, of_notes(tmp_path, found, fixed))
    assert list(sections(chapter)) == ["snags-open", "snags-fixed"]
    opened, done = (tables([each])[0] for each in sections(chapter).values())
    assert [tuple(row.values()) for row in plain(opened)] == [
        ("2026-02-20.2", "[2026-02-20]", "Gap", "W Wings"),
        ("2026-02-20.3", "[2026-02-20]", "Oil", "not said"),
    ]
    [row] = rows(done)
    assert row["Where"] == Cell("W14 Skins", to="task-W14")
    # From 20 February to 2 March 2026, no leap year: 8 days to the month's end, and 2.
    assert row["Days"].words == "10"
    assert row["How"].words == "New skin"
    assert row["By whom, seen by"].words == "Ines and Ada, seen by Bo"
    assert said(chapter.blocks).startswith("3 snags on record: 2 open, 1 put right.")


def test_a_snag_found_on_a_visit_leads_to_that_visit(tmp_path: Path) -> None:
    """The row of a visitor's finding says so and leads to the visit's own section."""
    first = "date: 2026-02-01\nvisits: {who: Pim}\n"
    visit = "date: 2026-03-14\nvisits: {who: Hedda, found: Gap}\nsnags: Dent\n"
    chapter = made(snags, of_notes(tmp_path, first, visit))
    found = {row["What is wrong"].words: row["Found"] for row in rows(tables(chapter.blocks)[0])}
    assert (found["Gap"].words, found["Gap"].to) == ("on a visit", "visit-2")
    assert (found["Dent"].words, found["Dent"].to) == ("", "")


def test_what_is_not_said_of_a_fix_is_said(tmp_path: Path) -> None:
    """A snag put right with nothing more said lacks how, by whom and who saw it."""
    found, fixed = "date: 2026-03-14\nsnags: Dent\n", "date: 2026-03-14\nfixed: 2026-03-14.1\n"
    chapter = made(snags, of_notes(tmp_path, found, fixed))
    [row] = rows(tables([sections(chapter)["snags-fixed"]])[0])
    assert [name for name, cell in row.items() if cell.weak] == [
        "Where",
        "How",
        "By whom, seen by",
    ]
    assert row["Days"].words == "0"
    [opened] = tables([sections(chapter)["snags-open"]])
    assert (opened.rows, opened.empty) == ((), "None is open.")


def test_without_snags_the_chapter_says_so(tmp_path: Path) -> None:
    """An inspector asks what went wrong, so that nothing is on record is said."""
    told = said(made(snags, of_notes(tmp_path, EMPTY)).blocks)
    assert told.startswith("No note tells of anything found wrong")


def test_decisions_stand_with_their_reasons(tmp_path: Path) -> None:
    """What, why, instead of what, and when to look again, in the builder's words, by day."""
    later = "date: 2026-04-01\ndecided: Paint it\n"
    first = (
        "date: 2026-03-14\n"
        "decided: {what: Glue, why: It is old, instead of: screws, again: in May}\n"
    )
    [table] = tables(made(decisions, of_notes(tmp_path, later, first)).blocks)
    assert [tuple(row.values()) for row in plain(table)] == [
        ("[2026-03-14]", "Glue", "It is old", "screws", "in May"),
        ("[2026-04-01]", "Paint it", "not said", "", ""),
    ]


def test_the_examples_snags_are_all_there() -> None:
    """Every snag of the example stands once, open or put right."""
    ledger = example()
    found = [row for table in tables(made(snags, ledger).blocks) for row in rows(table)]
    assert sorted(row["No."].words for row in found) == sorted(s.number for s in ledger.snags)
