"""Which names are looked for: those that would tell a stranger something, and no others."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.hidden_names import hidden_names
from builderlog.deciding.visibility import what_friends_see
from tests.knowing.journals import ledger_of


def names(root: Path, head: str, note: str = "") -> list[str]:
    """The names that friends of this journal are not told, the longest first."""
    people = "" if "people:" in head else "people: {Ines: builder}\n"
    written = {
        "journal.yaml": f"title: A\nbuilder: Ines\n{people}{head}\n",
        "notes/2026-03-14.md": f"---\n{note}\nprivate: yes\n---\n",
    }
    ledger = ledger_of(root, written)
    return [each.name for each in hidden_names(ledger, what_friends_see(ledger, frozenset()))]


@pytest.mark.parametrize(
    ("head", "expected"),
    [
        ("place: The garage", []),
        ("place: the barn at home", ["barn at home"]),
        ("place: Kelmsby", ["Kelmsby"]),
        ("place: The old dairy, Kelmsby", ["old dairy, Kelmsby", "old dairy", "Kelmsby"]),
        ("aircraft: {registration: A1}", []),
        ("aircraft: {registration: N12345}", ["N12345"]),
        ("aircraft: {design: Ostrel Two, kit: Ostrel Two}", []),
        ("aircraft: {design: Ostrel Two, kit: Ostrel Two full kit}", ["Ostrel Two full kit"]),
        ("aircraft: {maker: Ines Valdano}", ["Ines Valdano"]),
        ("people: {Ines: {role: builder, full name: Ines}}", []),
        (
            "people: {Ines: {role: builder, full name: Ines Valdano, may show: no}}",
            ["Ines Valdano", "Valdano", "Ines"],
        ),
        ("people: {Ines: {role: builder, full name: Ines de ville}}", ["Ines de ville"]),
        ("people: {Ines: builder, Jo: helper, tomas: helper, A.: helper}", ["tomas", "Jo"]),
    ],
)
def test_names_of_the_journal(tmp_path: Path, head: str, expected: list[str]) -> None:
    """Common words, what is public anyhow and very short signs are not looked for."""
    assert names(tmp_path, head) == expected


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        ("parts: {part: Bolt, from: stock}", []),
        ("parts: {part: Bolt, from: Bramstow}", ["Bramstow"]),
        ("parts: {part: Bolt, from: Larch and Pell, ref: AB-1}", ["Larch and Pell"]),
        ("parts: {part: AN3-5A bolt, ref: AN3-5A}", []),
        ("parts: {part: Engine, ref: E-204718}", ["E-204718"]),
        ("place: Nordfold", ["Nordfold"]),
        ("visits: {who: [Hedda Quillane, Ada]}", ["Hedda Quillane", "Quillane", "Ada"]),
        ("away: {what: Spar, with: Skarn, as: paid}", ["Skarn"]),
    ],
)
def test_names_of_a_note(tmp_path: Path, note: str, expected: list[str]) -> None:
    """Suppliers, numbers, places, visitors and firms of private notes too are looked for."""
    assert names(tmp_path, "", note) == expected


def test_paid_work_is_opened_by_paid_help_alone(tmp_path: Path) -> None:
    """A firm that was paid stays hidden with suppliers shown, and others do not."""
    note = "away: [{what: A, with: Skarn, as: paid}, {what: B, with: Thrum, as: maker}]"
    assert names(tmp_path / "a", "site: {show: suppliers}", note) == ["Skarn"]
    assert names(tmp_path / "b", "site: {show: paid help}", note) == ["Thrum"]


def test_full_names_that_are_shown_are_none(tmp_path: Path) -> None:
    """With full names shown that of the builder is no secret; that of somebody unasked is."""
    head = (
        "people:\n  Ines: {role: builder, full name: Ines Valdano}\n"
        "  Mark: {role: helper, full name: Mark Ostrander}\n"
        "aircraft: {maker: Ines Valdano}\nsite: {show: full names}"
    )
    assert names(tmp_path, head) == ["Mark Ostrander", "Ostrander", "Mark"]
