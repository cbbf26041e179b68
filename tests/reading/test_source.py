"""Bytes to characters, characters to line and column."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.reading.source import source_of, without_controls


def test_lines_end_as_editors_end_them() -> None:
    """A line ends at a line feed, a carriage return or both, and at nothing else."""
    source, _ = source_of("x", "a\r\nb\nc\rd\u2028e\x85f".encode())
    lines = [source.line_text(line) for line in range(1, len(source.line_starts) + 1)]
    assert lines == ["a", "b", "c", "d\u2028e\x85f"]


def test_columns_count_characters_not_bytes() -> None:
    """A letter of two bytes and a sign of four are one column each."""
    source, _ = source_of("x", "é✈🛩x".encode())
    assert source.place(3).column == 4
    assert source.byte_span(source.place(3, 4)) == (9, 10)


def test_the_mark_counts_in_offsets_and_not_in_columns() -> None:
    """After a byte-order mark the first letter is column 1 and its byte span is true."""
    source, problems = source_of("x", b"\xef\xbb\xbfab\ncd")
    place = source.place(1, 2)
    assert problems == ()
    assert (place.line, place.column, source.byte_span(place)) == (1, 1, (3, 4))
    assert (source.place(4).line, source.place(4).column) == (2, 1)


def test_a_second_mark_is_a_control_character() -> None:
    """Only the first character of a file may be a byte-order mark."""
    _, problems = source_of("x", b"\xef\xbb\xbf\xef\xbb\xbfab")
    assert [(each.code, each.place.start) for each in problems] == [("control-character", 1)]


def test_one_mistake_for_bytes_that_are_not_utf8() -> None:
    """The first byte that is not UTF-8 is told with its value and place; the rest is read."""
    source, problems = source_of("x", b"one\ntw\xf6 and \xe9\n")
    assert [(each.code, each.place.line, each.place.column) for each in problems] == [
        ("not-utf8", 2, 3)
    ]
    assert "0xF6" in problems[0].message
    assert source.text == "one\ntw\ufffd and \ufffd\n"


@given(st.text(max_size=30), st.integers(0, 30))
def test_a_place_leads_back_to_its_offset(text: str, at: int) -> None:
    """Line and column of an offset name the same character."""
    source, _ = source_of("x", text.encode())
    at = min(at, len(text))
    place = source.place(at)
    mark = int(place.line == 1 and text.startswith("\ufeff") and at > 0)
    assert source.line_starts[place.line - 1] + place.column - 1 + mark == at


@given(st.text(max_size=30))
def test_a_text_without_controls_is_as_long(text: str) -> None:
    """Signs are replaced one by one, so that offsets stay true; replacing again changes nothing."""
    once = without_controls(text)
    assert len(once) == len(text)
    assert without_controls(once) == once


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf16_is_one_mistake_and_read_all_the_same(encoding: str) -> None:
    """A file that an editor saved as "Unicode" is told once; its words and lines are there."""
    data = "\ufeffdate: 2026-03-14\ntitle: é\n".encode(encoding)
    source, problems = source_of("x", data)
    assert [(each.code, each.place.line) for each in problems] == [("not-utf8", 1)]
    assert "UTF-16" in problems[0].message
    assert source.data == data
    assert source.line_text(2) == "title: é"
