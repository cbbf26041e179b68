"""Holds that the index of the search can be read again, word by word."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.sheets.search_index import DIGITS, entries_in, index_text

WORDS = st.text(st.sampled_from("abz09.é主\U0001f150"), min_size=1, max_size=6)


@settings(max_examples=60)
@given(st.lists(st.frozensets(WORDS, max_size=8), min_size=1, max_size=80))
def test_an_index_reads_back(found: list[frozenset[str]]) -> None:
    """For each word the entries come back that have it, in order, and no others."""
    if not any(found):
        return
    read = entries_in(index_text(found))
    assert set(read) == set().union(*found)
    for word, numbers in read.items():
        assert numbers == tuple(at for at, words in enumerate(found) if word in words)


def test_far_entries_take_more_digits() -> None:
    """Steps beyond 32 and beyond 1024 entries are read back too."""
    found = [frozenset({"all", *(["far"] if at in (0, 40, 3000) else [])}) for at in range(3001)]
    assert entries_in(index_text(found))["far"] == (0, 40, 3000)


def test_words_stand_in_the_order_of_a_browser() -> None:
    """Browsers compare UTF-16 units: a sign beyond the first 65,536 comes before U+FF21."""
    first = index_text([["\uff21", "\U0001f150", "a"]]).split("\n")[0]
    assert first.split(" ") == ["a", "\U0001f150", "\uff21"]


def test_every_digit_is_plain_in_html() -> None:
    """Each digit is one letter, digit or line, so that the page says it as it is."""
    assert len(set(DIGITS)) == 64
    assert not set(DIGITS) & set("<>&\"' ")
