"""Checks of evidence at their edges; the cases of them stand in tests/cases/journals.txt."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.deciding.checks_evidence import done_without_work, photos_of_another_day
from tests.deciding.claim_journals import journal
from tests.making import ledger, task, worked

STAKED = ["W1, credit: {assembly: 0.4}", "W2, credit: {assembly: 0.3}", "W3, marks: [0, 1]"]


def test_a_task_is_done_by_work() -> None:
    """Of the done tasks that say nothing of their credit only those without any time are gaps."""
    tasks = [task("W14", done=True), task("W15", done=True), task("W16")]
    tasks = [replace(each, credit=None) for each in tasks]
    found = done_without_work(ledger(work=[worked("2026-03-14", 60, "W14")], tasks=tasks))
    assert [each.message.partition(":")[0] for each in found] == ["W15"]


def test_a_done_task_with_credit_is_told_with_the_claim() -> None:
    """A done task without work that gives its credit is not told here."""
    assert [*done_without_work(ledger(tasks=[task("W14", done=True)]))] == []


def test_a_picture_of_another_day_weighs_what_it_shows(tmp_path: Path) -> None:
    """On a picture of another day hangs what the builder claims of the tasks that it shows."""
    note = "photos: {photo: photos/2026-01-01.jpg, shows: [W1, W2, W2, W3]}"
    book = journal(tmp_path, STAKED, {"2026-03-01": note})
    assert [each.stake for each in photos_of_another_day(book)] == [4 + 3 + 10]
