"""The page for remarks and signatures: empty lines, and no word that grants anything."""

from __future__ import annotations

from dataclasses import replace

from builderlog.sheets.chapter import Blanks
from builderlog.sheets.chapter_remarks import remarks
from tests import making
from tests.sheets.chapter_reader import blocks_in, example, made, said
from tests.sheets.claim_rows import GRANTING


def test_there_is_a_line_for_each_builder_and_for_who_looked() -> None:
    """Every builder signs under the full name; who looked has date, place, name, capacity."""
    ledger = making.ledger()
    people = tuple(
        replace(each, full_name="Ines Aldermark") if each.name == "Ines" else each
        for each in ledger.settings.people
    )
    chapter = made(remarks, replace(ledger, settings=replace(ledger.settings, people=people)))
    blanks = [each for each in blocks_in(chapter.blocks) if isinstance(each, Blanks)]
    assert [each.lines for each in blanks if each.lines] == [
        ("Name, and in what capacity", "Date and place", "Signature") * 2,
        ("Date and place", "Signature of Ines Aldermark", "Signature of Tomas"),
    ]
    assert [each.remarks for each in blanks if each.remarks] == [7]


def test_a_journal_without_a_builder_has_room_for_a_name() -> None:
    """Where nobody is declared as a builder the line is for a name."""
    ledger = making.ledger()
    chapter = made(remarks, replace(ledger, settings=replace(ledger.settings, people=())))
    [*_, last] = [each for each in blocks_in(chapter.blocks) if isinstance(each, Blanks)]
    assert last.lines == ("Date and place", "Name", "Signature")


def test_a_signature_grants_nothing() -> None:
    """No word on the page says that anything is granted; it says what a signature means."""
    words = said(made(remarks, example()).blocks)
    assert [each for each in GRANTING if each in words.lower()] == []
    assert "no more than who looked at it" in words
