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
    ("Straße, Æble, İzmir", ("strasse", "aeble", "izmir")),
    ("WÜRM wu\u0308rm, Ærø, Å", ("würm", "würm", "aerø", "å")),  # spelled in two ways by readers
    ("naïve ëï ǖ", ("naive", "ei", "ü")),
    ("the spar's end, don\N{RIGHT SINGLE QUOTATION MARK}t", ("the", "spars", "end", "dont")),
    ("l\N{RIGHT SINGLE QUOTATION MARK}aile, d'attaque", ("laile", "aile", "dattaque", "attaque")),
    ("W14 and AN3-5A", ("w14", "and", "an3", "5a", "an35a")),
    ("tail\N{NON-BREAKING HYPHEN}cone - 7-8 in", ("tail", "cone", "tailcone", "7", "8", "in")),
    ("17.5 mm, 17,5 mm", ("17.5", "mm", "17.5", "mm")),
    ("2026-03-14", ("2026", "03", "14")),
    ("40 N·m, 3/4 in", ("40", "n", "m", "3", "4", "in")),
    ("snake_case", ("snake", "case")),
    ("主翼のねじ, B翼", ("主", "翼", "のね", "ねし", "し", "b", "翼")),
    ("ปีก・ล้อ", ("ปก", "ก", "ลอ", "อ")),
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
        assert search_words(word)[0] == word
        assert word == word.strip()
        assert not set(word) & set("<>&\"' \n")
