"""What is missing: doubts first, as states, each with its explanation, its file and its task."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.reading.problem import Place, gap
from builderlog.sheets.chapter_gaps import MOST_OF_A_KIND, missing_chapter
from builderlog.sheets.record_claim import gaps
from tests import making
from tests.deciding.claim_journals import journal
from tests.sheets.chapter_reader import example, made, plain, rows, said, sections, tables
from tests.sheets.claim_rows import by_rows

ASSEMBLED = "state: done, credit: {maker: 0.4, assembly: 0.6}"


def test_all_that_the_table_has_stands_there_in_its_order() -> None:
    """Doubts, then gaps, each at its place in a file; the words begin as the table tells them."""
    found = find(example())
    shown = [row for t in tables(made(missing_chapter, example()).blocks) for row in plain(t)]
    table = by_rows(gaps(found))
    assert len(table) > 5
    assert [row["Where"] for row in shown] == [f"[{r['path']}, line {r['line']}]" for r in table]
    for row, told in zip(shown, table, strict=True):
        start = row["What the record has or lacks"].removesuffix(".")[1:]
        assert told["told"][1:].startswith(start)
        assert bool(row["The builder explains"]) is bool(told["explained"])


def test_each_leads_to_its_task_or_area(tmp_path: Path) -> None:
    """A gap of a task leads to its sheet, one of an area to its chapter, one of a note to none."""
    notes = {
        "2026-03-01": "tasks: {task: W1, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W1}",
        "2026-03-02": "tasks: {task: F1, hours: 1h, who: Osk}",
    }
    tasks = [f"W1, {ASSEMBLED}", f"F1, {ASSEMBLED}"]
    chapter = made(missing_chapter, journal(tmp_path, tasks, notes))
    led = {
        row["What the record has or lacks"].words[:18]: row["About"].to
        for table in tables(chapter.blocks)
        for row in rows(table)
    }
    assert led["W: 1 picture of it"] == "area-w"
    assert led["F1: paid help on r"] == "task-F1"
    assert led["'photos/a.jpg' has"] == ""


def test_no_advice_stands_there() -> None:
    """An inspector reads what the record lacks, not what its builder should write."""
    words = said(made(missing_chapter, example()).blocks)
    assert not [word for word in ("write ", "add shows", "mend", "answers:") if word in words]


def test_an_explanation_stays_with_its_doubt(tmp_path: Path) -> None:
    """What the builder explained stays listed, with the explanation."""
    notes = {
        "2026-03-01": "tasks: {task: W1, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W1}",
    }
    more = 'rulebook: us-checklist\nanswers: [{gap: "no-builder-seen: W", because: I build alone}]'
    chapter = made(missing_chapter, journal(tmp_path, [f"W1, {ASSEMBLED}"], notes, more))
    [table] = tables(sections(chapter)["missing-doubts"].blocks)
    assert plain(table)[0]["The builder explains"] == "I build alone."
    assert "the builder explains 1 of them" in said(chapter.blocks)


def test_nothing_missing_is_said() -> None:
    """A record without doubt or gap says that it names none."""
    chapter = made(missing_chapter, making.ledger())
    assert "names no doubt and no gap" in said(chapter.blocks)
    assert sections(chapter) == {}


def test_hundreds_of_one_kind_are_counted() -> None:
    """A kind that fills pages is told so far, then counted; no row is lost in silence."""
    told = tuple(gap(Place("x.md", line), "thin", f"{line} is thin") for line in range(1, 100))
    chapter = made(missing_chapter, replace(making.ledger(), problems=told))
    [table] = tables(chapter.blocks)
    assert len(table.rows) == MOST_OF_A_KIND
    assert f"And {99 - MOST_OF_A_KIND} more of one kind" in said(chapter.blocks)
    assert table.rows[0][2].links[0].path == ""


def test_an_area_with_the_id_of_a_task_keeps_its_own(tmp_path: Path) -> None:
    """What is told of an area leads to its chapter, though a task has the same id."""
    notes = {
        "2026-03-01": "tasks: {task: W, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W}",
    }
    chapter = made(missing_chapter, journal(tmp_path, [f"W, {ASSEMBLED}"], notes))
    told = [row for table in tables(chapter.blocks) for row in rows(table)]
    [unseen] = [row for row in told if "builder seen" in row["What the record has or lacks"].words]
    assert (unseen["About"].words, unseen["About"].to) == ("area W", "area-w")
