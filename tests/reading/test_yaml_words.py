"""Nothing that the builder wrote between the fences is lost in silence, and places are exact."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from builderlog.reading.front_matter import read_note
from builderlog.reading.source import source_of
from builderlog.reading.words import Series, Table, Word
from builderlog.reading.yaml_words import MAX_DEPTH, MAX_MENDS, read_yaml
from tests.examples import many
from tests.reading.reading_yaml import PATH, front_matter, uncovered, words_of

SIGNS = (
    *("#", "#4", " #", "# ", ":", ": ", ",", ", ", '"', "'", "[", "]", "{", "}", "*", "&", "!"),
    *("@", "%", "|", ">", "- ", "-", "?", "? ", "`", "\\", "a", "hole", "é", "✈", " ", "3,5"),
)
LINES = (
    *("title: ", "hours: ", "tasks:", "parts: ", "  ", "- ", "\n", "\n  ", "\n  - ", "#4", "# c"),
    *("{", "}", "[", "]", ", ", ": ", "'", '"', "a", "b c", "|\n", ">\n", "é", "✈", "\t", "\r\n"),
    *("\r", "&a", "*a", "!x", "? ", "\\", "\ufeff", "\x01", "\u2028", "\x85", "3h15", "@", "<<"),
)
VALUES = st.lists(st.sampled_from(SIGNS), min_size=1, max_size=7).map(
    lambda signs: "".join(signs).strip()
)
SHAPES = (
    "next: {}",
    "next:\n  - {}\n  - last",
    "parts: {{part: {}, count: 2}}",
    "parts:\n  - {{count: 2, part: {}}}\ntitle: last",
    "next: [{}, last]",
    "title: first\nnext: [first, {}]",
)
TEXTS = st.lists(st.sampled_from(LINES), max_size=12).map("".join)
often = settings(
    max_examples=many(400), deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)


@often
@given(st.sampled_from(SHAPES), VALUES)
def test_no_text_of_a_value_is_lost_without_a_problem(shape: str, value: str) -> None:
    """A value of any signs, in block or flow style, is read whole or something is told."""
    words = shape.format(value)
    note, problems = front_matter(words)
    assert problems or not uncovered(note, words)


@often
@given(TEXTS)
def test_no_text_of_any_front_matter_is_lost_without_a_problem(words: str) -> None:
    """Every sign is part of a word, of a comment with its space, or YAML's own; else it is told."""
    assume(not re.search(r"(?:\A|[\r\n])---[ \t]*(?:[\r\n]|\Z)", words))
    note, problems = front_matter(words)
    assert problems or not uncovered(note, words)


@often
@given(TEXTS, st.booleans(), st.sampled_from(["\n", "\r\n", "\r"]))
def test_offsets_are_what_was_written(words: str, mark: bool, line_end: str) -> None:  # noqa: FBT001
    """The characters and the bytes at a word's place are the word, with any line ends and mark."""
    text = ("\ufeff" if mark else "") + f"---\n{words}\n---\n".replace("\n", line_end)
    note, problems = read_note(PATH, text.encode())
    for word in words_of(note.table):
        raw = text[word.place.start : word.place.end]
        start, end = note.source.byte_span(word.place)
        assert note.source.data[start:end].decode() == raw
        if word.plain and not problems and not re.search(r"[\r\n]", raw):
            assert word.text == raw


@often
@given(TEXTS)
def test_every_place_is_in_the_file(words: str) -> None:
    """Line and column of every problem and word lie in the file, the column at most one behind."""
    note, problems = front_matter(words)
    places = [each.place for each in problems] + [each.place for each in words_of(note.table)]
    for place in places:
        line = note.source.line_text(place.line)
        assert 1 <= place.column <= len(line) + 1
        assert note.source.line_starts[place.line - 1] + place.column - 1 == place.start


def test_a_word_knows_its_line_and_column() -> None:
    """Lines and columns count from 1 in the file, the fence being line 1."""
    note, _ = front_matter("a: x\nb:\n  - {c: é ✈, d: y}")
    places = {word.text: (word.place.line, word.place.column) for word in words_of(note.table)}
    assert places == {
        "a": (2, 1),
        "x": (2, 4),
        "b": (3, 1),
        "c": (4, 6),
        "é ✈": (4, 9),
        "d": (4, 14),
        "y": (4, 17),
    }


def test_series_and_tables_have_places() -> None:
    """A list's and a table's place is all of it, from its first sign to its last."""
    note, _ = front_matter("a: [x, {b: c}]")
    assert note.table is not None
    series = note.table.pairs[0].value
    assert isinstance(series, Series)
    table = series.items[1]
    assert isinstance(table, Table)
    text = note.source.text
    assert text[series.place.start : series.place.end] == "[x, {b: c}]"
    assert text[table.place.start : table.place.end] == "{b: c}"


def test_a_key_with_nothing_behind_it_is_empty_and_quotes_are_not() -> None:
    """`key:` is empty, `key: ""` is a text of no signs."""
    note, _ = front_matter('a:\nb: ""')
    empty = [pair.value.empty for pair in note.table.pairs if isinstance(pair.value, Word)]  # type: ignore[union-attr]
    assert empty == [True, False]


@pytest.mark.parametrize("sign", ["[", "{", "- ", "? "])
def test_depth_is_bounded(sign: str) -> None:
    """Beyond the depth that a journal can need reading stops with one mistake, at any depth."""
    _, problems = front_matter("a: x\nb:\n  " + sign * 10_000)
    assert problems[-1].code in {"too-deep", "wants-quotes", "bracket-not-closed"}
    assert len(problems) < 5
    _, problems = front_matter("b: " + "[" * MAX_DEPTH + "]" * MAX_DEPTH)
    assert [each.code for each in problems] == ["too-deep"]
    _, problems = front_matter("b: " + "[" * (MAX_DEPTH - 1) + "]" * (MAX_DEPTH - 1))
    assert problems == ()


LARGE = {
    "items in brackets": "next: [" + "drill, " * 20_000 + "x]",
    "items with dashes": "next:\n" + "- drill\n" * 20_000,
    "keys in one line": "{" + ", ".join(f"k{index}: x" for index in range(20_000)) + "}",
    "blocks of text": "next:\n" + "- |\n  x\n" * 5_000,
    "one long line": "title: " + "a" * 1_000_000,
}


@pytest.mark.parametrize("words", LARGE.values(), ids=list(LARGE))
def test_large_front_matter_is_read_whole(words: str) -> None:
    """What is long but right is read without a word."""
    note, problems = front_matter(words)
    assert problems == ()
    assert not uncovered(note, words)


MANY = {
    "comment-cuts-value": "next:\n" + "- a #4\n" * 3_000,
    "yaml-alias": "next:\n" + "- *a\n" * 3_000,
    "comment-without-space": "#a\n" * 3_000,
    "control-character": "title: " + "\x01" * 3_000,
    "repeated-key": "a: x\n" * 3_001,
}


@pytest.mark.parametrize(("code", "words"), MANY.items(), ids=list(MANY))
def test_all_mistakes_of_one_kind_are_told_in_one_run(code: str, words: str) -> None:
    """Thousands of one mistake are all told, each at its place."""
    _, problems = front_matter(words)
    assert [each.code for each in problems] == [code] * 3_000
    assert len({each.place for each in problems}) == 3_000


def test_commas_of_one_value_are_one_mistake() -> None:
    """A value that a thousand commas cut is told once, with the whole of it in quotes."""
    value = ", ".join(["drill"] * 1_000)
    note, problems = front_matter(f"parts: {{part: {value}, count: 2}}")
    assert [each.code for each in problems] == ["comma-cuts-value"]
    assert value in [word.text for word in words_of(note.table)]
    assert f'"{value}"' in problems[0].message


def test_broken_lines_are_told_up_to_a_bound() -> None:
    """Each mend reads the file anew, so their number is bounded, and the bound is told."""
    _, problems = front_matter("\n".join(f"k{index}: a: b" for index in range(MAX_MENDS + 5)))
    codes = [each.code for each in problems]
    assert codes == ["colon-in-value"] * MAX_MENDS + ["too-many-mistakes"]
    assert problems[-1].place.line == MAX_MENDS + 2


def test_as_many_broken_lines_as_the_bound_are_no_mistake_more() -> None:
    """A file with just as many broken lines as the bound is read to its end."""
    words = "\n".join(f"k{index}: a: b" for index in range(MAX_MENDS)) + "\nlast: x"
    note, problems = front_matter(words)
    assert len(problems) == MAX_MENDS
    assert [word.text for word in words_of(note.table)][-2:] == ["last", "x"]


def test_a_part_of_a_file_is_read_with_places_of_the_whole() -> None:
    """Reading from an offset gives places in the file, not in the part."""
    source, _ = source_of("x.yaml", b"skip this\na: x #4\n")
    root, problems = read_yaml(source, 10, len(source.text))
    assert [word.place.line for word in words_of(root)] == [2, 2]
    assert [(each.place.line, each.place.column) for each in problems] == [(2, 6)]
