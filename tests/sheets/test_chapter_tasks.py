"""The areas' chapters: who did it and who saw it at a glance, the count, a place for every task."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TypeGuard

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.findings import find
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Task
from builderlog.sheets.chapter import Block, Chapter, Paragraph, Section, anchor
from builderlog.sheets.chapter_tasks import task_chapters
from builderlog.sheets.material import material
from builderlog.sheets.places import area_title, titled
from builderlog.sheets.record_evidence import claim_tasks
from tests.deciding.claim_journals import journal
from tests.deciding.made_claims import book, claimed, rules, task_lists
from tests.knowing.journals import ledger_of
from tests.sheets.chapter_reader import blocks_in, example, plain, rows, said, sections, tables
from tests.sheets.claim_rows import by_rows, ruled

POINTS, MARKS, HOURS = rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5")
GLANCE = "The tasks of this chapter that were begun, at a glance"


def areas(ledger: Ledger) -> dict[str, Chapter]:
    """The chapters by id."""
    return {each.id: each for each in task_chapters(material(find(ledger)))}


def counts(chapter: Chapter) -> list[list[str]]:
    """The rows of the count, as words."""
    return [
        list(row.values())
        for table in tables(chapter.blocks)
        if table.caption.startswith("The count of area")
        for row in plain(table)
    ]


def is_told(block: Block) -> TypeGuard[Paragraph]:
    """Whether it is a sentence on what is missing."""
    return isinstance(block, Paragraph) and block.kind in ("gap", "caution")


def test_who_riveted_it_and_who_saw_it_stands_first() -> None:
    """The first table of an area names for each task who worked, when, and who looked at it."""
    first = tables(areas(example())["area-t"].blocks)[0]
    assert first.caption == GLANCE
    [riveted] = [row for row in plain(first) if row["Task"].startswith("T03 Rivet")]
    assert "Runa Aldermark, builder, 11\xa0h" in riveted["Who worked on it"]
    assert "Jorun Haskevold, unpaid helper, 5\xa0h" in riveted["Who worked on it"]
    assert riveted["When"] == "2026-03-28 to 2026-05-23"
    assert "Hedda Quillane (counsellor), 2026-03-31" in riveted["Who looked at it"]
    assert rows(first)[2]["Task"].to == "task-T03"


def test_an_area_tells_how_far_it_is() -> None:
    """Tasks, those done, whose time, the share; and what is missing of the area as a whole."""
    blocks = areas(example())["area-e"].blocks
    lead, missing = blocks[0], blocks[1]
    assert isinstance(lead, Paragraph)
    assert lead.words.startswith("9 tasks on this aircraft, 6 done")
    assert lead.words.endswith("share claimed: 60.0 %.")
    assert isinstance(missing, Paragraph)
    assert missing.kind == "caution"
    assert "The builder explains: Runa takes the pictures" in missing.words


def test_tasks_to_come_and_not_here_are_a_line_each() -> None:
    """A task of which nothing is on record has no sheet; one that does not apply is N/A."""
    chapter = areas(example())["area-u"]
    found = sections(chapter)
    assert {each.id for each in found["area-u-to-come"].blocks if isinstance(each, Section)} == {
        "task-U02",
        "task-U03",
        "task-U04",
    }
    assert found["task-U02"].aside == "assembly, estimate 8\xa0h"
    assert (found["task-U05"].aside, found["task-U05"].blocks) == ("N/A", ())
    assert found["task-U05"] in found["area-u-left-out"].blocks


@given(task_lists(), st.sampled_from((POINTS, MARKS)))
def test_the_count_is_that_of_the_table(tasks: list[Task], by: Rulebook) -> None:
    """Every task that applies has the numbers of claim_tasks.csv; one that does not is N/A."""
    ledger = ruled(book(*tasks), by)
    table = {
        titled(row["task"], row["name"]): [row[side.value] for side in Side]
        for row in by_rows(claim_tasks(find(ledger)))
    }
    shown = [row for chapter in areas(ledger).values() for row in counts(chapter)[:-1]]
    named = {row[0].removesuffix(" (marks derived from the credit)"): row[1:] for row in shown}
    left_out = {titled(task.id, task.name) for task in tasks if not task.applies}
    assert {name: cells for name, cells in named.items() if name not in left_out} == table
    assert all(named[name] == ["N/A"] * len(Side) for name in left_out)


def test_the_count_ends_with_its_sum() -> None:
    """The last row is that of the area in the claim."""
    ledger = example()
    found = find(ledger).portion
    assert found
    for part, chapter in zip(found.areas, areas(ledger).values(), strict=True):
        *tasks, last = counts(chapter)
        sums = [
            f"{sum(int(row[n].replace('.', '')) for row in tasks if row[n] != 'N/A') / 10:.1f}"
            for n in range(1, 6)
        ]
        assert last == ["In all", *sums]
        assert int(last[1].replace(".", "")) == part.count.columns.maker


def test_derived_marks_are_shown_as_derived() -> None:
    """Only where marks count, and only at a task whose marks nobody gave."""
    tasks = (claimed("W1", (3, 0, 7, 0)), claimed("W2", marks=(1, 1)), claimed("W3"))
    derived = [
        ["derived" in row[0] for row in counts(each)]
        for each in areas(ruled(book(*tasks), MARKS)).values()
    ]
    assert derived == [[True, False, False, False]]
    points = [row for each in areas(ruled(book(*tasks), POINTS)).values() for row in counts(each)]
    assert not any("derived" in row[0] for row in points)


def test_where_hours_count_no_task_has_a_count() -> None:
    """A task has no maker's hours, so the chapter has no table of the count."""
    ledger = ruled(book(claimed("W1")), HOURS)
    assert [counts(chapter) for chapter in areas(ledger).values()] == [[]]


def test_areas_without_a_name_are_named_by_their_id(tmp_path: Path) -> None:
    """The id stands once, and no title is without a letter."""
    text = "areas: [{area: W, tasks: [W1]}, {area: F, name: Fuselage, tasks: [F1]}]"
    ledger = ledger_of(tmp_path, {"worklist.yaml": text})
    assert [area_title(area) for area in ledger.worklist.areas] == ["Area W", "Area F: Fuselage"]


@pytest.mark.parametrize(
    ("name", "words", "title"),
    [("W1", "Skins", "W1 Skins"), ("W1", "W1", "W1"), ("", "", "(no name)")],
)
def test_titles(name: str, words: str, title: str) -> None:
    """An id stands before its name, once where both are the same; no title is empty."""
    assert titled(name, words) == title


def test_what_is_missing_stands_with_its_own_task(tmp_path: Path) -> None:
    """Two tasks in one line, and one whose id begins with another's, each have what is theirs."""
    done = "state: done, credit: {maker: 0.4, assembly: 0.6}"
    lists = (
        f"areas: [{{area: W, tasks: [{{task: W1, {done}}}, {{task: W2, {done}}}, "
        f'{{task: "W1: a", {done}}}]}}]'
    )
    note = (
        '---\ntasks: [{task: "W1: a", hours: 1h, who: [Osk, Ines]}, {task: W2, hours: 1h}]\n---\n'
    )
    more = "title: A\nbuilder: Ines\npeople: {Ines: builder, Osk: paid}\nrulebook: us-checklist\n"
    files = {"journal.yaml": more, "worklist.yaml": lists, "notes/2026-03-01.md": note}
    found = sections(areas(ledger_of(tmp_path, files))["area-w"])
    gaps = {
        name: " ".join(each.words for each in found[anchor(name)].blocks if is_told(each))
        for name in ("W1", "W2", "W1: a")
    }
    assert "W1: done and 0.6 of it claimed" in gaps["W1"]
    assert "paid help" not in gaps["W1"] + gaps["W2"]
    assert "Doubt. W1: a: paid help on record" in gaps["W1: a"]
    assert "no time of the amateurs" not in gaps["W2"]


def test_a_wanted_part_begins_nothing(tmp_path: Path) -> None:
    """A task that a note names only for a part that is wanted is still to come."""
    notes = {"2026-03-01": "parts: {part: Rib, for: W2, status: wanted}"}
    found = sections(areas(journal(tmp_path, ["W1", "W2"], notes))["area-w"])
    assert found["task-W2"] in found["area-w-to-come"].blocks


def test_without_a_rulebook_there_is_no_count() -> None:
    """The tasks stand there with all that is on record, and nothing is claimed of them."""
    chapters = areas(replace(example(), rulebook=None))
    words = said([block for chapter in chapters.values() for block in chapter.blocks])
    assert "Runa Aldermark, builder, 11\xa0h" in words
    assert "share claimed" not in words
    sheets = [s for c in chapters.values() for s in blocks_in(c.blocks) if isinstance(s, Section)]
    assert not [each for each in sheets if each.id.endswith("-count")]
