"""The line that a mistake offers to paste means what the builder wrote."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.examples import many
from tests.reading.reading_yaml import front_matter, offered, pasted, words_of

WORDS = (
    *("hole", "#40", "3,5", '"tight"', "it's", "@home", "*both*", "&", "!", "%", "50 %", "rivets:"),
    *("x:y", "->", "`a`", "|", ">", "- ", "?", "\\", "é", "✈", "a, b", "C#", "=", '1/4"', "'"),
    *('"', "R&D", ":", "#"),
)
VALUES = st.lists(st.sampled_from(WORDS), min_size=1, max_size=6).map(
    lambda words: " ".join(words).strip()
)
BLOCK = (
    "next: {}",
    "measured:\n  what: {}\n  value: 3 mm",
    "next:\n  - {}\n  - last",
)
BRACES = (
    "parts: {{part: {}, count: 2}}",
    "parts:\n  - {{count: 2, part: {}}}\ntitle: last",
    "parts: {{part: {},\n  count: 2}}\ntitle: last",
)
BRACKETS = ("next: [{}, last]", "title: first\nnext: [first, {}]")
MEANT_FOR_YAML = ("- ", "? ", "| #", "> #", '"', "'")
often = settings(
    max_examples=many(400), deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)


def paste_all(words: str) -> str:
    """The front matter after every offered line was pasted, one after another."""
    for _ in range(8):
        _, problems = front_matter(words)
        offers = [(each, line) for each in problems if (line := offered(each))]
        if not offers:
            return words
        problem, line = offers[0]
        words = pasted(words, problem, line)
        again = {(each.code, each.place.start, each.message) for each in front_matter(words)[1]}
        assert (problem.code, problem.place.start, problem.message) not in again
    raise AssertionError(f"pasting never ends: {words}")


def is_one_text(shape: str, value: str) -> bool:
    """Whether YAML leaves no other reading of the value in its place than one text."""
    if "# " in value or value.endswith(":") or value.startswith(MEANT_FOR_YAML):
        return False
    if value in {"", "-", "|", ">", "?"}:
        return False
    if shape in BRACKETS:
        return "," not in value and ": " not in value
    if shape in BRACES:
        return not ("," in value and ":" in value)
    return ": " not in value or "- {}" not in shape


@often
@given(st.sampled_from(BLOCK + BRACES + BRACKETS), VALUES)
def test_pasted_lines_hold_the_whole_text(shape: str, value: str) -> None:
    """After every offered line is pasted nothing is told, and the value is what was written."""
    assume(is_one_text(shape, value))
    words = paste_all(shape.format(value))
    note, problems = front_matter(words)
    assert problems == ()
    assert value in [word.text for word in words_of(note.table)]


@often
@given(st.sampled_from(BLOCK + BRACES + BRACKETS), VALUES)
def test_reading_goes_on_with_the_text_that_is_offered(shape: str, value: str) -> None:
    """Before anything is pasted the value is already read as the offered line would give it."""
    assume(is_one_text(shape, value))
    note, _ = front_matter(shape.format(value))
    assert value in [word.text for word in words_of(note.table)]


@pytest.mark.parametrize(
    ("line", "after"),
    [
        ("title: hole #40 # last", 'title: "hole #40" # last'),
        ("title: Left: on # last", 'title: "Left: on" # last'),
        ("title: *both* # last", 'title: "*both*" # last'),
        ("title: >= 3 mm # last", 'title: ">= 3 mm" # last'),
        ('title: "a" b # last', "title: '\"a\" b' # last"),
        ("title: [a] b # last", 'title: "[a] b" # last'),
    ],
)
def test_a_true_comment_stays_outside_of_the_quotes(line: str, after: str) -> None:
    """A comment with its space behind the value is no part of the line's quotes."""
    assert paste_all(line) == after
    assert front_matter(after)[1] == ()


def test_a_mistake_does_not_hide_the_next() -> None:
    """One run tells mistakes of every kind, each at its own line."""
    words = [
        "title: Left: on",
        "next: [a #4, b]",
        'place: "x',
        "closes: *w",
        "opens: @w",
        "hours: {Ines: 3,5}",
        "decided: {what: x",
        "written:2026-03-14",
        "fixed: [x]]",
        "bulletins:\n  - no: 1\n   done: x",
        "process: %x",
    ]
    _, problems = front_matter("\n".join(words))
    assert sorted((each.place.line, each.code) for each in problems) == [
        (2, "colon-in-value"),
        (3, "comment-cuts-value"),
        (4, "quote-not-closed"),
        (5, "yaml-alias"),
        (6, "wants-quotes"),
        (7, "comma-cuts-value"),
        (8, "bracket-not-closed"),
        (9, "no-space-after-colon"),
        (10, "bracket-too-many"),
        (13, "indentation"),
        (14, "wants-quotes"),
    ]
