"""Texts in quotes, and where a value ends."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.reading.quoting import in_braces, open_bracket, quote, quoted_line, value_end
from builderlog.reading.source import source_of
from tests.reading.reading_yaml import front_matter, words_of

LINES = st.text(
    st.characters(exclude_categories=["C", "Zl", "Zp"], exclude_characters="\ufeff"), max_size=20
)


@given(LINES)
def test_a_quoted_text_is_read_as_the_text(text: str) -> None:
    """YAML gives back any text of one line that was put in quotes, in a line and in braces."""
    for words in (f"a: {quote(text)}", f"a: {{b: {quote(text)}, c: d}}"):
        note, problems = front_matter(words)
        assert problems == ()
        assert text in [word.text for word in words_of(note.table) if not word.plain]


@given(LINES.filter(lambda text: text == text.strip() and bool(text)))
def test_a_text_in_braces_is_read_as_the_text(text: str) -> None:
    """What goes into braces gets quotes exactly where YAML would read it otherwise."""
    note, problems = front_matter(f"a: {{b: {in_braces(text)}, c: d}}")
    assert problems == ()
    assert text in [word.text for word in words_of(note.table)]


def test_common_words_in_braces_need_no_quotes() -> None:
    """Ids, names and pages stay as they are."""
    for text in ("W14", "Ines", "manual 27-3 rev C", "Šárka", "wing (left)", "010"):
        assert in_braces(text) == text


@pytest.mark.parametrize(
    ("text", "flow", "value"),
    [
        ("x y # last", "", "x y"),
        ("x, y: z  ", "", "x, y: z"),
        ("x #4 y", "", "x #4 y"),
        ("x, y, key: z}", "{", "x, y"),
        ("x, two words: z}", "{", "x"),
        ("x,", "{", "x"),
        ("x } # y", "{", "x"),
        ("x, y]", "[", "x"),
        ("x\r\ny", "", "x"),
    ],
)
def test_a_value_ends(text: str, flow: str, value: str) -> None:
    """A comma ends a value in brackets, and in braces where a key follows; a comment ends any."""
    assert text[: value_end(text, 0, flow)] == value


@pytest.mark.parametrize(
    ("text", "bracket"),
    [
        ("a: x", None),
        ("a: x [y", None),
        ("a: [x, ", 3),
        ("a: [x, {b: c, d: ", 7),
        ("a: [x, {b: c}, ", 3),
        ('a: {b: "[", c: ', 3),
        ("a: {b: [c],\n  d: :", 3),
        ("a:\n  - {b: ", 7),
    ],
)
def test_the_open_bracket_is_yamls_own(text: str, bracket: int | None) -> None:
    """The innermost bracket that is open is found as YAML sees it: none in a text or in quotes."""
    assert open_bracket(text, len(text)) == bracket


def test_of_a_value_over_lines_only_the_value_is_offered() -> None:
    """A value over two lines is offered in one line, without what stands around it."""
    source, _ = source_of("x", b"a: one\n  two\nb: c\n")
    assert quoted_line(source, 3, 12) == '"one two"'
    assert quoted_line(source, 3, 6) == 'a: "one"'
