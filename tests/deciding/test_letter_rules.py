"""When a month has a letter, and the sentence that says why not."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.letter_facts import month_told
from builderlog.deciding.letter_rules import may_still_grow, why_no_letter
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from tests.command.running import write
from tests.command.small_journal import JOURNAL

PRIVATE = "---\nprivate: yes\nhours: 1h\n---\n"
NOTES = {
    "notes/2026-03-14.md": "---\nhours: 1h\n---\n",
    "notes/2026-05-01.md": PRIVATE,
    "notes/2026-06-01.md": PRIVATE,
    "notes/2026-06-02.md": PRIVATE,
}


def why(root: Path, month: str, notes: dict[str, str | bytes]) -> str | None:
    """The reason in a journal with these notes."""
    ledger = read_journal(Folder.at(write(root, {"journal.yaml": JOURNAL, **notes})))
    return why_no_letter(ledger, month_told(public_ledger(ledger), month), month)


@pytest.mark.parametrize(
    ("month", "said"),
    [
        ("2026-03", None),
        ("2026-02", "the record begins on 14 March 2026"),
        ("2026-04", "no note was written in April 2026"),
        ("2026-05", "the one note of May 2026 is private"),
        ("2026-06", "all 2 notes of June 2026 are private"),
        ("2026-07", "the record ends on 2 June 2026"),
    ],
)
def test_the_reason_is_said(tmp_path: Path, month: str, said: str | None) -> None:
    """Before the record, within it without a note that friends may read, after it."""
    told = why(tmp_path, month, {**NOTES})
    assert (told is None) if said is None else said in (told or "")


def test_a_journal_without_notes_has_no_letter(tmp_path: Path) -> None:
    """It is said so, and not that the month is wrong."""
    assert "has no note yet" in (why(tmp_path, "2026-03", {}) or "")


def test_the_newest_month_may_still_grow(tmp_path: Path) -> None:
    """Until the record holds a day after it."""
    notes: dict[str, str | bytes] = {**NOTES}
    ledger = read_journal(Folder.at(write(tmp_path, {"journal.yaml": JOURNAL, **notes})))
    assert may_still_grow(ledger, "2026-06")
    assert not may_still_grow(ledger, "2026-05")
