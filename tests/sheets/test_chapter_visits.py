"""The chapter of visits: everyone involved, what was looked at and said, each defect put right."""

from __future__ import annotations

from pathlib import Path

from builderlog.sheets.chapter import Bullets, Cell, Facts, Section
from builderlog.sheets.chapter_visits import visits
from tests.sheets.chapter_reader import (
    blocks_in,
    example,
    made,
    of_notes,
    plain,
    rows,
    said,
    sections,
    tables,
)

VISIT = """\
date: 2026-03-14
hours: {Ines: 2h, Ada: 1h}
visits:
  who: [Hedda Quill, Ines]
  as: inspector
  looked at: [W14, W, "the tail"]
  said: Rows are even
  found: [One rivet high, {snag: A gap, no: G1, task: W15}]
  sheet: papers/sheet.pdf
  result: come again
"""
FIXED = "date: 2026-03-20\nhours: 1h\nfixed: {no: G1, how: Filled, by: [Ines, Ada], witness: Bo}\n"
PEOPLE = """\
title: A test
builder: Ines
people:
  Ines: {role: builder, full name: Ines Aldermark}
  Ada: helper
"""
FILES = {"journal.yaml": PEOPLE, "papers/sheet.pdf": "x"}


def facts(section: Section) -> dict[str, Cell]:
    """The facts of a visit by their terms."""
    [found] = [block for block in section.blocks if isinstance(block, Facts)]
    return dict(found.rows)


def test_a_visit_names_all_persons_and_who_was_at_work(tmp_path: Path) -> None:
    """All who were there stand in full with their roles, and beside them who worked that day."""
    chapter = made(visits, of_notes(tmp_path, VISIT, files=FILES))
    visit = sections(chapter)["visit-1"]
    told = facts(visit)
    assert visit.title == "2026-03-14: Hedda Quill"
    assert visit.aside == "come again"
    assert told["Persons involved"].words == "Hedda Quill; Ines Aldermark (builder)"
    assert told["At work that day"].words == "Ines Aldermark (builder); Ada (unpaid helper)"
    assert (told["Came as"].words, told["Said"].words) == ("inspector", "Rows are even")
    assert [link.path for link in told["Sheet"].links] == ["papers/sheet.pdf"]
    assert [link.path for link in told["Told in"].links] == ["notes/2026-03-14-0.md"]


def test_what_was_looked_at_leads_there(tmp_path: Path) -> None:
    """Tasks and areas stand with id and name and lead to their place; other words stay words."""
    chapter = made(visits, of_notes(tmp_path, VISIT, files=FILES))
    [looked] = [each for each in blocks_in(chapter.blocks) if isinstance(each, Bullets)]
    assert looked.items == (
        Cell("W14 Skins", to="task-W14"),
        Cell("W Wings", to="area-w"),
        Cell("the tail"),
    )
    [row] = rows(tables(chapter.blocks)[0])
    assert row["Day"] == Cell("2026-03-14", to="visit-1")
    assert row["Who"].words == "Hedda Quill and Ines Aldermark"
    assert row["Looked at"].words == "W14 Skins; W Wings; the tail"


def test_each_defect_stands_with_how_it_was_put_right(tmp_path: Path) -> None:
    """A defect is open until a note puts it right; then it says when, how, and by whom."""
    ledger = of_notes(tmp_path, VISIT, FIXED, files=FILES)
    defects = tables([sections(made(visits, ledger))["visit-1"]])[0]
    assert plain(defects) == [
        {
            "Defect found": "One rivet high",
            "Snag": "2026-03-14.1",
            "Put right": "open",
            "How": "",
            "By whom, seen by": "",
        },
        {
            "Defect found": "A gap",
            "Snag": "G1",
            "Put right": "[2026-03-20]",
            "How": "Filled",
            "By whom, seen by": "Ines Aldermark and Ada, seen by Bo",
        },
    ]


def test_what_a_visit_leaves_out_is_said(tmp_path: Path) -> None:
    """A visit of which little is noted says of each thing that it is not said."""
    bare = "date: 2026-03-14\nvisits: {who: Hedda Quill}\n"
    told = facts(sections(made(visits, of_notes(tmp_path, bare)))["visit-1"])
    weak = [term for term, cell in told.items() if cell.weak]
    assert weak == ["Came as", "At work that day", "Looked at", "Said", "Result"]
    assert told["Found"].words == "no defect is noted"
    assert "Sheet" not in told


def test_visits_stand_oldest_first_each_with_its_own_section(tmp_path: Path) -> None:
    """Two visits of one note and a later one are three sections, in order of their days."""
    two = "date: 2026-03-14\nvisits: [{who: Hedda}, {who: Bo, looked at: W15}]\n"
    later = "date: 2026-02-01\nvisits: {who: Pim}\n"
    chapter = made(visits, of_notes(tmp_path, two, later))
    assert {each.id: each.title for each in sections(chapter).values()} == {
        "visit-1": "2026-02-01: Pim",
        "visit-2": "2026-03-14: Hedda",
        "visit-3": "2026-03-14: Bo",
    }
    assert facts(sections(chapter)["visit-3"])["Looked at"] == Cell("W15 Hinges", to="task-W15")


def test_without_visits_the_chapter_says_so(tmp_path: Path) -> None:
    """An inspector asks for visits, so that there is none is said in a sentence."""
    chapter = made(visits, of_notes(tmp_path, "date: 2026-03-14\nhours: 1h\n"))
    assert said(chapter.blocks).startswith("No visit or inspection is on record")


def test_the_examples_visits() -> None:
    """The example's two visits stand with the defects of the second, both put right."""
    chapter = made(visits, example())
    assert [row["Day"].words for row in rows(tables(chapter.blocks)[0])] == [
        "2026-02-14",
        "2026-03-31",
    ]
    found = tables([sections(chapter)["visit-2"]])[0]
    assert [row["Put right"] for row in plain(found)] == ["[2026-04-05]", "[2026-05-23]"]
