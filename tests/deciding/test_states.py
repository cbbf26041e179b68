"""What the builder is told, as an inspector reads it: the state alone, no word of it altered."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.findings import find
from builderlog.deciding.states import as_state, sentence
from tests.sheets.chapter_reader import example

CASES = {
    "W1: 2h30 of work and no picture that shows it; add shows: [W1] to one": (
        "W1: 2h30 of work and no picture that shows it."
    ),
    "'photos/a.jpg' has no caption; write caption: what a reader should see in it": (
        "'photos/a.jpg' has no caption."
    ),
    "'a; write b.jpg' has no caption; write caption: what a reader should see in it": (
        "'a; write b.jpg' has no caption."
    ),
    "'it's here; add b' closes W1; add shows: [W1] to one that does": (
        "'it's here; add b' closes W1."
    ),
    "who builds alone has no photographer: write seen: [Ines], or explain it": (
        "Who builds alone has no photographer."
    ),
    "one picture is thin evidence: write shows: [W1] in both (and so with 3 more)": (
        "One picture is thin evidence (and so with 3 more)."
    ),
    "this note is of 2036-01-01; mend the year if that is not so": "This note is of 2036-01-01.",
    "asks for one at least once a year. Write the days in journal.yaml: wrenches": (
        "Asks for one at least once a year."
    ),
    "the marks follow from the credit, so give them where the form has them": (
        "The marks follow from the credit."
    ),
    "no share can be told; it takes the kit's hours (journal.yaml, kit hours: 600h).": (
        "No share can be told; it takes the kit's hours."
    ),
    "whether it was left unaltered is not said (unaltered: yes).": (
        "Whether it was left unaltered is not said."
    ),
    "2026-02-03 snag X, put right; it came back": "2026-02-03 snag X, put right; it came back.",
    "The kit was evaluated (file: it) and left": "The kit was evaluated (file: it) and left.",
}


@pytest.mark.parametrize("told", CASES)
def test_advice_is_left_out(told: str) -> None:
    """What is to be written is left out; what was found stays as it was told."""
    assert as_state(told) == CASES[told]


def test_an_id_is_kept_as_it_is() -> None:
    """An id at the head is no advice and gets no capital, whatever it is."""
    told = "a; write: 2h of work and no picture that shows it; add shows: [a] to one"
    assert as_state(told, "a; write") == "a; write: 2h of work and no picture that shows it."
    assert as_state("w1: done", "w1") == "w1: done."
    assert as_state("w1: done", "w2") == "W1: done."


@given(st.text(max_size=30))
def test_a_sentence_ends_once(words: str) -> None:
    """One stop at the end, whatever stands there already; nothing is made of nothing."""
    told = sentence(words)
    assert told == "" if not words.strip() else told.endswith((".", "!", "?"))
    assert sentence(told) == told


def test_no_state_of_the_example_tells_what_to_write() -> None:
    """Of all that `check` tells of the example, no state speaks to its builder."""
    found = find(example()).missing
    assert len(found) > 5
    states = [as_state(each.message) for each in found]
    assert not [each for each in states if re.search(r"\b(write|mend|add|explain|give)\b", each)]
    for state, problem in zip(states, found, strict=True):
        assert problem.message.casefold().startswith(state.removesuffix(".").casefold())
