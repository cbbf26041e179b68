"""The claim's tables: the numbers of `claim --json`, the claim in words, and what is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.checks import judge
from builderlog.deciding.claim_document import claim_document
from builderlog.deciding.claim_words import CAUTION, units_text
from builderlog.deciding.findings import find
from builderlog.deciding.portion import portion
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Answer, Task
from builderlog.reading.problem import Weight, gap, mistake
from builderlog.sheets.record_claim import claim, claim_facts, gaps
from tests import making
from tests.deciding.claim_journals import journal
from tests.deciding.made_claims import book, claimed, hours, rules, task_lists
from tests.sheets.claim_rows import GRANTING, PUBLISHED, by_rows, ruled

RULES = (rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5"))


def as_the_document_says(row: dict[str, str]) -> dict[str, object]:
    """A row in the form of a part of `claim --json`; an empty share is none there."""
    return {
        "tasks": int(row["tasks"]),
        "columns": {side.value: row[side.value] for side in Side},
        "share": row["share"] or None,
        "meets": {"yes": True, "no": False, "": None}[row["meets"]],
        "headroom": row["headroom"],
    }


@given(task_lists(), st.sampled_from(RULES), st.none() | st.integers(0, 9))
def test_the_numbers_are_those_of_the_document(
    tasks: list[Task], by: Rulebook, kit: int | None
) -> None:
    """By points, marks and hours every number is the one that `claim --json` prints."""
    work = [hours(2, task.id, Work.FABRICATION) for task in tasks if task.done]
    ledger = ruled(book(*tasks, work=[*work, hours(1, None, Work.ASSEMBLY)], kit=kit), by)
    counted = portion(ledger, by)
    document = claim_document(counted)
    *areas, whole = by_rows(claim(find(ledger)))
    told = {row["area"]: row for row in areas}
    in_all = as_the_document_says(whole)
    if not whole["share"]:
        in_all |= {"share": "0.000000", "meets": False}
    assert {key: document[key] for key in in_all} == in_all
    assert {row["limit"] for row in (*areas, whole)} == {document["limit"]}
    assert whole["open"] == units_text(sum(counted.open_builder.values()), by.measure)
    written = document["areas"]
    assert isinstance(written, dict)
    assert list(told) == list(written)
    for name, row in told.items():
        expected = {**as_the_document_says(row), "open": row["open"]}
        assert {key: written[name][key] for key in expected} == expected


def test_a_share_that_cannot_be_told_is_an_empty_cell() -> None:
    """Without the maker's declared hours share and meets are empty, never 0 and no."""
    ledger = ruled(book(claimed("W1"), work=[hours(2, "W1", Work.ASSEMBLY)]), RULES[2])
    assert {(row["share"], row["meets"]) for row in by_rows(claim(find(ledger)))} == {("", "")}


def test_without_a_rulebook_there_are_headings_and_no_rows() -> None:
    """Where no rulebook is named, nothing is counted and nothing is said of a claim."""
    found = find(book(claimed("W1", (1, 0, 9, 0), done=True)))
    for sheet in (claim(found), claim_facts(found)):
        assert sheet.rows == ()
        assert all(heading.name and heading.meaning for heading in sheet.headings)
    same = find(ruled(book(), rules()))
    assert claim(same).header == claim(found).header


@pytest.mark.parametrize("name", PUBLISHED)
def test_a_forms_words_stand_only_where_the_rulebook_is_that_forms(name: str) -> None:
    """The meaning of a column names the form's heading where there is one, and else no form."""
    found = find(ruled(book(), name))
    by = found.ledger.rulebook
    assert by
    meanings = {each.name: each.meaning for each in claim(found).headings}
    for side in Side:
        heading = by.headings.get(side)
        assert meanings[side.value].partition("; on the form: ")[2] == (heading or "")
    assert bool(by.headings) is bool(by.form)


def test_a_task_that_is_not_on_the_aircraft_is_in_no_sum() -> None:
    """A task that does not apply changes neither the number of tasks nor any column."""
    one = claimed("W1", (4, 0, 6, 0))
    other = claimed("W2", (0, 0, 9, 1), applies=False)
    alone, both = (find(ruled(book(*tasks), rules())) for tasks in ((one,), (one, other)))
    assert claim(alone).rows == claim(both).rows


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_facts_name_the_rule_and_grant_nothing(name: str) -> None:
    """Rulebook, citation, verdict and every source are told; the last fact is the caution."""
    found = find(ruled(book(claimed("W1", (1, 0, 9, 0)), kit=3), name))
    by, facts = found.ledger.rulebook, by_rows(claim_facts(found))
    assert by
    told = {fact["what"]: fact["words"] for fact in facts}
    assert (told["rulebook"], told["citation"]) == (by.title, by.citation)
    assert told["verdict"].startswith("On this record")
    assert [fact["what"] for fact in facts].count("source") == len(by.sources)
    assert (facts[-1]["what"], facts[-1]["words"]) == ("caution", CAUTION)
    assert ("not settled" in told) is bool(by.unsettled)
    assert all(fact["words"] for fact in facts)
    words = " ".join(fact["words"] for fact in facts).lower()
    assert [each for each in GRANTING if each in words] == []


def test_bought_help_is_told_with_the_evaluation_or_alone(tmp_path: Path) -> None:
    """With an evaluated kit it stands in the evaluation's sentences, else as a fact of its own."""
    notes = {"2026-03-01": "hours: {Osk: 2h}"}
    more = "rulebook: us-checklist\nkit evaluated: {date: 2026-01-02}"
    bare = by_rows(claim_facts(find(journal(tmp_path / "a", ["W1"], notes))))
    kit = by_rows(claim_facts(find(journal(tmp_path / "b", ["W1"], notes, more))))
    assert [f["words"] for f in bare if f["what"] == "bought help"] == ["Osk worked for pay."]
    assert not [fact for fact in kit if fact["what"] == "bought help"]
    assert any("Osk worked for pay" in f["words"] for f in kit if f["what"] == "evaluation")


def test_gaps_stand_in_the_order_of_the_check(tmp_path: Path) -> None:
    """Doubts and gaps as `check` orders them, with code, words, stake and place."""
    tasks = [
        "W1, state: done, credit: {maker: 0.1, assembly: 0.9}",
        "W2, state: done, credit: {maker: 0.8, assembly: 0.2}",
    ]
    ledger = journal(tmp_path, tasks, {"2026-03-01": "tasks: [{task: W2, hours: 1h}]"})
    rows = by_rows(gaps(find(ledger)))
    judged = [each for each in judge(ledger) if each.weight is not Weight.MISTAKE]
    assert len(rows) == 3
    assert [row["told"] for row in rows] == [each.message for each in judged]
    assert [row["stake"] for row in rows] == [str(each.stake) for each in judged]
    assert (rows[0]["code"], rows[0]["stake"], rows[0]["line"]) == ("credit-without-work", "9", "4")
    assert {row["path"] for row in rows} == {"worklist.yaml"}


def test_an_explained_gap_stands_with_its_explanation() -> None:
    """The explanation has a cell of its own, and what was told stays as it was."""
    told = gap(making.NOWHERE, "no-caption", "'a.jpg' has no caption; write one")
    answers = (Answer(making.word("no-caption"), making.word("=too; dark")),)
    settled = replace(making.settings(), answers=answers)
    ledger = replace(making.ledger(settled=settled), problems=(told,))
    (row,) = by_rows(gaps(find(ledger)))
    assert (row["told"], row["explained"]) == (told.message, "=too; dark")


def test_upkeep_and_mistakes_are_no_gaps() -> None:
    """An answer to nothing and a mistake are the builder's to tidy, and no row of the evidence."""
    answers = (Answer(making.word("of a note that is hidden"), making.word("because")),)
    ledger = making.ledger(settled=replace(making.settings(), answers=answers))
    ledger = replace(ledger, problems=(mistake(making.NOWHERE, "missing-file", "no such file"),))
    assert {each.code for each in judge(ledger)} == {"answer-to-nothing", "missing-file"}
    assert gaps(find(ledger)).rows == ()
