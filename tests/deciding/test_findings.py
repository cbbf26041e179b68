"""What tables and pages share is what each part finds by itself."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.deciding.assistance import assistance
from builderlog.deciding.checks import judge
from builderlog.deciding.coverage import coverage
from builderlog.deciding.findings import UPKEEP, find
from builderlog.deciding.portion import portion
from builderlog.reading.problem import Place, Weight, doubt, gap, mistake
from tests import making
from tests.deciding.claim_journals import journal

NOTES = {
    "2026-03-01": "hours: {Ines: 2h, Ada: 1h}\ntasks: {task: W1, hours: 1h, who: [Ines, Ada]}",
    "2026-03-02": "away: {what: Covers, task: W1, with: A shop, as: paid}",
}


def test_every_part_is_what_it_is_by_itself(tmp_path: Path) -> None:
    """Count, records, help and what is missing are those of the functions that make them."""
    ledger = journal(tmp_path, ["W1, state: done", "W2"], NOTES)
    assert ledger.rulebook
    found = find(ledger)
    assert found.portion == portion(ledger, ledger.rulebook)
    assert (found.records, found.help) == (coverage(ledger), assistance(ledger))
    assert found.missing == judge(ledger)
    assert found.missing


def test_without_a_rulebook_nothing_is_counted(tmp_path: Path) -> None:
    """The record is gathered all the same, and there is no count."""
    found = find(journal(tmp_path, ["W1"], NOTES, ""))
    assert found.portion is None
    assert [record.id for record in found.records] == ["W1"]


def test_what_is_missing_is_of_the_evidence_alone() -> None:
    """Mistakes, and doubts about what is the builder's to tidy, are left out; all else stays."""
    here = Place("notes/x.md")
    kept = (doubt(here, "long-day", "x"), gap(here, "no-caption", "x"))
    left_out = (mistake(here, "missing-file", "x"), *(doubt(here, code, "x") for code in UPKEEP))
    ledger = replace(making.ledger(), problems=(*left_out, *kept))
    assert find(ledger).missing == kept
    assert {problem.weight for problem in judge(ledger)} == set(Weight)
