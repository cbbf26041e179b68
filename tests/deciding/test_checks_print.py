"""Signs that the document's fonts lack are told once a file, at the first of them."""

from __future__ import annotations

from builderlog.deciding.checks_print import signs_not_printed
from tests.making import ledger_of


def test_a_sign_without_a_shape_is_told_at_its_place() -> None:
    """An emoji in a title is a doubt, sign-not-printed, at its line and column."""
    note = "---\ndate: 2026-03-14\ntitle: Rivets \U0001f600 done\n---\nDone.\n"
    (told,) = signs_not_printed(ledger_of(**{"notes/2026-03-14-a.md": note}))
    assert (told.code, told.place.line, told.place.column) == ("sign-not-printed", 3, 15)
    assert "[U+1F600]" in told.message
