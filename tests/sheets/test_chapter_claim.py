"""The chapter of the claim: the count of the tables and of `claim --json`, nothing granted."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.claim_document import claim_document
from builderlog.deciding.claim_words import CAUTION, verdict
from builderlog.deciding.findings import find
from builderlog.deciding.portion import portion
from builderlog.deciding.totals import tally
from builderlog.deciding.words import duration_clock
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Task
from builderlog.sheets.chapter import Bars, Chapter, Paragraph
from builderlog.sheets.chapter_claim import claim_chapter
from builderlog.sheets.record_claim import claim
from tests.deciding.made_claims import book, claimed, hours, rules, task_lists
from tests.knowing.journals import ledger_of
from tests.sheets.chapter_reader import (
    blocks_in,
    example,
    made,
    plain,
    rows,
    said,
    sections,
    tables,
)
from tests.sheets.claim_rows import PUBLISHED, by_rows, ruled

POINTS, MARKS, HOURS = rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5")
PEOPLE = "title: A\nbuilder: Ines\npeople: {Ines: builder, Ada: helper, Osk: paid}\n"


def count_of(chapter: Chapter) -> list[list[str]]:
    """The rows of the count by area, as words."""
    table = tables(sections(chapter)["claim-count"].blocks)[0]
    return [list(row.values()) for row in plain(table)]


@given(task_lists(), st.sampled_from((POINTS, MARKS)))
def test_the_count_is_that_of_the_table(tasks: list[Task], by: Rulebook) -> None:
    """Every area and the whole have the columns of claim.csv, to the last digit."""
    ledger = ruled(book(*tasks), by)
    table = by_rows(claim(find(ledger)))
    shown = count_of(made(claim_chapter, ledger))
    assert [row[1:-1] for row in shown] == [
        [row["tasks"], *(row[side.value] for side in Side)] for row in table
    ]


def test_sums_are_those_of_the_rows_above() -> None:
    """The last row of each table is marked as the sum of the others, and is."""
    chapter = made(claim_chapter, example())
    for table in tables(chapter.blocks):
        assert table.sums == 1
    *areas, whole = count_of(chapter)
    tenths = [[int(cell.replace(".", "")) for cell in row[2:-1]] for row in (*areas, whole)]
    assert [sum(column) for column in zip(*tenths[:-1], strict=True)] == tenths[-1]


def test_areas_lead_to_their_chapters() -> None:
    """A row of an area is a way to its chapter; the sum is not."""
    table = tables(sections(made(claim_chapter, example()))["claim-count"].blocks)[0]
    led = [row["Area"].to for row in rows(table)]
    assert (led[0], led[-1], all(led[:-1])) == ("area-e", "", True)


def test_the_bars_are_the_count() -> None:
    """Each bar is as long as its area counts, in parts by side, and their words tell it."""
    [chart] = [b for b in blocks_in(made(claim_chapter, example()).blocks) if isinstance(b, Bars)]
    assert [bar.length for bar in chart.bars] == [sum(bar.parts) for bar in chart.bars]
    assert len(chart.parts) == len(Side)
    assert chart.bars[0].words == "9.0 points, share 60.0 %"
    assert all(bar.label in chart.alt for bar in chart.bars)


def test_hours_are_those_of_the_tally() -> None:
    """By area, by kind and by role, and in all: the seconds that `tally` sums."""
    ledger = example()
    found = tally(ledger)
    chapter = made(claim_chapter, ledger)
    [table] = tables(sections(chapter)["claim-hours"].blocks)
    *_, last = plain(table)
    assert last["All"] == duration_clock(found.seconds)
    assert last["Paid"] == duration_clock(found.by_role["paid"])
    assert last["Fabrication"] == duration_clock(found.by_kind["fabrication"])
    shown = {row["Area"].split(" ")[0]: row["All"] for row in plain(table)}
    assert all(shown[area] == duration_clock(s) for area, s in found.by_area.items())
    seconds = f"builder {found.by_role['builder']}, helper {found.by_role['helper']}"
    assert seconds in said(chapter.blocks)
    assert f"all {found.seconds}." in said(chapter.blocks)
    assert shown["No"] == duration_clock(found.seconds - sum(found.by_area.values()))


def test_where_hours_count_an_area_has_no_share() -> None:
    """The maker's hours are declared for the whole kit, which the chapter says."""
    tasks = (claimed("W1"), claimed("W2", applies=False))
    ledger = ruled(book(*tasks, work=[hours(3, "W1", Work.ASSEMBLY)], kit=2), HOURS)
    chapter = made(claim_chapter, ledger)
    dash = "\N{EN DASH}"
    assert count_of(chapter) == [
        ["W Area W", "1", "0:00", "0:00", "3:00", "0:00", "0:00", dash],
        ["In all", "1", "2:00", "0:00", "3:00", "0:00", "0:00", "60.0 %"],
    ]
    assert "for the whole kit" in said(chapter.blocks)


@pytest.mark.parametrize("name", PUBLISHED)
def test_verdict_rule_and_cautions_stand_there(name: str) -> None:
    """The verdict first, then rule, sources, what is not settled, and that nothing is granted."""
    ledger = ruled(example(), name)
    assert ledger.rulebook
    rulebook, chapter = ledger.rulebook, made(claim_chapter, ledger)
    first, words = chapter.blocks[0], said(chapter.blocks)
    assert isinstance(first, Paragraph)
    assert first.words == verdict(portion(ledger, rulebook))
    for wanted in (rulebook.title, rulebook.rule, rulebook.citation, *rulebook.cautions, CAUTION):
        assert wanted in words
    assert (rulebook.unsettled or "").rstrip(".") in words
    assert all(source.what in words for source in rulebook.sources)
    assert all(heading in words for heading in rulebook.headings.values())


def test_without_a_rulebook_the_hours_stand_alone() -> None:
    """It says in a sentence that nothing is counted, and tells the hours by area."""
    chapter = made(claim_chapter, book(claimed("W1"), work=[hours(2, "W1", Work.OTHER)]))
    assert "names no rulebook" in said(chapter.blocks)
    [table] = tables(chapter.blocks)
    assert [row["All"] for row in plain(table)] == ["2:00", "2:00"]


def test_no_word_tells_the_builder_what_to_write(tmp_path: Path) -> None:
    """Where nothing is claimed, or hours are lacking, the state is told without advice."""
    tasks = {"worklist.yaml": "areas: {area: W, tasks: [W1]}"}
    for number, name in enumerate(("us-checklist", "france-hours", "canada")):
        journal = f"{PEOPLE}rulebook: {name}\nkit evaluated: {{date: 2025-01-01}}\n"
        ledger = ledger_of(tmp_path / str(number), {"journal.yaml": journal, **tasks})
        words = said(made(claim_chapter, ledger).blocks)
        assert not [
            w for w in ("Write credit", "--import", "journal.yaml", "unaltered: yes") if w in words
        ]


def test_the_evaluation_leads_to_its_paper(tmp_path: Path) -> None:
    """The document by which the kit was evaluated is linked where the journal has the file."""
    kit = f"{PEOPLE}rulebook: us-checklist\nkit evaluated: {{file: papers/kit.pdf}}\n"
    for root, files in ((tmp_path / "a", {"papers/kit.pdf": "x"}), (tmp_path / "b", {})):
        chapter = made(claim_chapter, ledger_of(root, {"journal.yaml": kit, **files}))
        told = sections(chapter)["claim-kit"].blocks
        [link] = [link for each in told if isinstance(each, Paragraph) for link in each.links]
        assert (link.words, link.path) == ("kit.pdf", "papers/kit.pdf" if files else "")


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_numbers_are_those_of_the_document(name: str) -> None:
    """Share, limit, headroom and every column stand there as `claim --json` prints them."""
    ledger = ruled(example(), name)
    assert ledger.rulebook
    document = claim_document(portion(ledger, ledger.rulebook))
    words = said(made(claim_chapter, ledger).blocks)
    assert f"{document['share']} (limit {document['limit']})" in words
    columns = document["columns"]
    assert isinstance(columns, dict)
    assert [value for value in columns.values() if value not in words] == []
    assert f" {document['headroom']} " in words or not document["meets"]
