"""The chapter of papers: the authority's list with its sources, what is at hand and what is not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.knowing.rulebook import Known
from builderlog.sheets.chapter import Paragraph
from builderlog.sheets.chapter_papers import papers
from builderlog.sheets.record_supply import papers as papers_table
from tests.knowing.journals import JOURNAL
from tests.sheets.chapter_reader import example, made, of_notes, plain, rows, said, sections, tables
from tests.sheets.claim_rows import GRANTING, PUBLISHED, by_rows, ruled

LISTED = """\
rulebook: us-checklist
papers:
  our bill of sale: {have: 2026-01-04, file: papers/sale.pdf}
  engine logbook: {file: papers/engine.pdf}
  registration:
  club card: 2026-02-01
  insurance:
"""
FILES = {
    "journal.yaml": JOURNAL + LISTED,
    "papers/sale.pdf": "x",
    "papers/engine.pdf": "y",
}
NOTE = "date: 2026-03-14\nhours: 1h\n"


def test_each_paper_says_whether_it_is_at_hand(tmp_path: Path) -> None:
    """At hand under the builder's own name, with day and file; else not at hand; others apart."""
    chapter = made(papers, of_notes(tmp_path, NOTE, files=FILES))
    asked, others = tables(chapter.blocks)
    hand = {row["Paper"].words.partition(".")[0]: row["At hand"] for row in rows(asked)}
    sale = hand["Bill of sale of the kit"]
    assert sale.words == '"our bill of sale", since 2026-01-04'
    assert [link.path for link in sale.links] == ["papers/sale.pdf"]
    assert hand["Engine logbook"].words == '"engine logbook", since when is not said'
    registration = hand["Registration of the aircraft, or the application for it"]
    assert registration.weak
    assert registration.words == "not at hand (listed by the builder without day or file)"
    assert (hand["Propeller logbook"].words, hand["Propeller logbook"].weak) == (
        "not at hand",
        True,
    )
    assert [tuple(row.values()) for row in plain(others)] == [
        ("club card", "since 2026-02-01"),
        ("insurance", "not at hand"),
    ]
    assert "16 papers on the list, 2 at hand, 14 not at hand." in said(chapter.blocks)


@pytest.mark.parametrize("name", PUBLISHED)
def test_each_paper_says_how_it_is_known(name: str) -> None:
    """Every row says whether its source was read; the list is told to yield to the authority's."""
    ledger = ruled(example(), name)
    assert ledger.rulebook
    chapter = made(papers, ledger)
    words = {Known.READ: "read", Known.SECOND_HAND: "second hand", Known.MEMORY: "not verified"}
    found = rows(tables(chapter.blocks)[0]) if ledger.rulebook.papers else []
    for row, paper in zip(found, ledger.rulebook.papers, strict=True):
        assert words[paper.known] in row["Asked for in"].words
        assert (paper.citation or "") in row["Asked for in"].words
    cautions = [
        each.words
        for each in chapter.blocks
        if isinstance(each, Paragraph) and each.kind == "caution"
    ]
    assert bool(found) is bool(cautions)
    assert all("that list prevails" in each for each in cautions)
    assert [word for word in GRANTING if word in said(chapter.blocks).lower()] == []


@pytest.mark.parametrize("name", ["eu", "new-zealand"])
def test_where_no_list_is_known_the_page_says_whom_to_ask(name: str) -> None:
    """The builder's papers stand alone, and the authority's own list has to be asked for."""
    ledger = ruled(example(), name)
    told = said(made(papers, ledger).blocks)
    assert told.startswith("No list of papers is known for ")
    assert "the authority's own list has to be asked for." in told
    assert "kit bill of sale" in told


def test_without_a_rulebook_there_is_no_list() -> None:
    """A journal without a rulebook has its own papers, and is told why there is no list."""
    chapter = made(papers, replace(example(), rulebook=None))
    assert said(chapter.blocks).startswith("The journal names no rulebook")
    assert list(sections(chapter)) == ["papers-others"]


def test_the_table_has_the_same_papers(tmp_path: Path) -> None:
    """The table of papers has one row for each that is asked for, then the builder's others."""
    ledger = of_notes(tmp_path, NOTE, files=FILES)
    assert ledger.rulebook
    table = by_rows(papers_table(ledger))
    asked = [row for row in table if row["asked"]]
    assert [row["asked"] for row in asked] == [each.name for each in ledger.rulebook.papers]
    assert [row["known"] for row in asked] == [str(each.known) for each in ledger.rulebook.papers]
    held = {row["paper"]: (row["asked"], row["have"], row["file"]) for row in table if row["paper"]}
    assert held == {
        "our bill of sale": ("Bill of sale of the kit", "2026-01-04", "papers/sale.pdf"),
        "engine logbook": ("Engine logbook", "", "papers/engine.pdf"),
        "registration": ("Registration of the aircraft, or the application for it", "", ""),
        "club card": ("", "2026-02-01", ""),
        "insurance": ("", "", ""),
    }
