"""Signs that the document's fonts lack are told once a file, at the first of them."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.checks_print import signs_not_printed
from tests.deciding.torque_entries import journal


def test_a_sign_without_a_shape_is_told_once_at_its_place(tmp_path: Path) -> None:
    """An emoji in a title is one doubt, sign-not-printed, with the word that is printed."""
    note = "title: Rivets \U0001f600 done\nnext: more \U0001f600"
    (told,) = signs_not_printed(journal(tmp_path, {"2026-03-01": note}))
    assert told.code == "sign-not-printed"
    assert "[U+1F600]" in told.message


def test_letters_of_many_tongues_are_printed(tmp_path: Path) -> None:
    """Accents, Greek and Cyrillic have shapes, and nothing is told."""
    note = "title: Nýtt stél \N{GREEK CAPITAL LETTER OMEGA} \N{CYRILLIC SMALL LETTER DE} ≤ 1 mm"
    assert not [*signs_not_printed(journal(tmp_path, {"2026-03-01": note}))]
