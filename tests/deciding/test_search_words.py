"""Holds what counts as one word when friends search."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.search_words import LONGEST_WORD, search_words

CASES = (
    ("Rivets, RIVETED", ("rivets", "riveted")),
    ("Škrok & Łuba, façade", ("skrok", "luba", "facade")),
    ("S\u030ckrok", ("skrok",)),
    ("Straße, Ærø, İzmir", ("strasse", "aero", "izmir")),
    ("the spar's end, don\N{RIGHT SINGLE QUOTATION MARK}t", ("the", "spars", "end", "dont")),
    ("W14 and AN3-5A", ("w14", "and", "an3", "5a")),
    ("17.5 mm, 17,5 mm", ("17.5", "mm", "17.5", "mm")),
    ("2026-03-14", ("2026", "03", "14")),
    ("40 N·m, 3/4 in", ("40", "n", "m", "3", "4", "in")),
    ("snake_case", ("snake", "case")),
    ("主翼と尾", ("主", "翼", "と", "尾")),
    ("ΟΔΟΣ", ("οδοσ",)),
    ("… — !", ()),
    ("x" * 99, ("x" * LONGEST_WORD,)),
)


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_words_are_cut_and_folded(text: str, expected: tuple[str, ...]) -> None:
    """Case, accents and apostrophes fall away; ids and numbers stay whole."""
    assert search_words(text) == expected


@settings(max_examples=60)
@given(st.text(max_size=40))
def test_a_word_is_found_by_itself(text: str) -> None:
    """A folded word cut again is the same word, so that what the page shows can be asked for."""
    for word in search_words(text):
        assert search_words(word) == (word,)
        assert word == word.strip()
        assert not set(word) & set("<>&\"' \n")
