"""Checks of the rulebook: what it needs, what it rules out, and a claim that cannot be shown."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.checks import judge
from tests.knowing.journals import ledger_of

PEOPLE = "title: A\nbuilder: Ines\npeople: {Ines: {role: builder}, Osk: {role: paid}}\n"
WORKLIST = "areas:\n  - {area: W, tasks: [{task: W1, credit: {paid: 0.2, assembly: 0.8}}]}\n"
NOTHING = "areas:\n  - {area: W, tasks: [{task: W1, applies: no}]}\n"


def told(root: Path, journal: str, files: dict[str, str] | None = None) -> dict[str, str]:
    """The messages of `check` at journal.yaml by code."""
    ledger = ledger_of(root, {"journal.yaml": PEOPLE + journal, **(files or {})})
    return {each.code: each.message for each in judge(ledger) if each.place.path == "journal.yaml"}


@pytest.mark.parametrize(
    ("journal", "codes"),
    [
        ("rulebook: france-hours\n", {"no-kit-hours"}),
        ("rulebook: france-hours\nkit hours: 0h\n", set[str]()),
        ("rulebook: us-checklist\n", set[str]()),
        ("", set[str]()),
    ],
)
def test_hours_need_the_makers_hours(tmp_path: Path, journal: str, codes: set[str]) -> None:
    """Only a rulebook that counts hours asks for the kit's, and nothing of a kit is an answer."""
    assert set(told(tmp_path, journal)) == codes


@pytest.mark.parametrize(
    ("rulebook", "worklist", "ruled_out"),
    [
        ("us-8000-38", WORKLIST, True),
        ("us-8000-38", WORKLIST.replace("paid: 0.2, ", ""), False),
        ("us-checklist", WORKLIST, False),
    ],
)
def test_a_rulebook_that_rules_out_paid_help(
    tmp_path: Path,
    rulebook: str,
    worklist: str,
    ruled_out: bool,  # noqa: FBT001
) -> None:
    """A rulebook for projects without bought help says so where the journal has any, with what."""
    found = told(tmp_path, f"rulebook: {rulebook}\n", {"worklist.yaml": worklist})
    assert ("paid-help-ruled-out" in found) is ruled_out
    assert not ruled_out or "claimed on W1" in found["paid-help-ruled-out"]


@pytest.mark.parametrize(
    ("journal", "files", "told_of"),
    [
        ("site: {show: claim}\n", {}, True),
        ("rulebook: eu\nsite: {show: claim}\n", {"worklist.yaml": NOTHING}, True),
        ("rulebook: eu\nsite: {show: claim}\n", {"worklist.yaml": WORKLIST}, False),
        ("rulebook: eu\n", {}, False),
    ],
)
def test_a_claim_that_cannot_be_shown(
    tmp_path: Path,
    journal: str,
    files: dict[str, str],
    told_of: bool,  # noqa: FBT001
) -> None:
    """A site that is to show the claim of a journal without one is told, and no other."""
    assert ("claim-not-shown" in told(tmp_path, journal, files)) is told_of
