"""A note taken apart: fences, words with their places, mistakes of YAML with the line to paste."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.reading.front_matter import read_note
from builderlog.reading.words import Node, Series, Table, Word
from tests.reading.case_file import Case, each_case, shown, told
from tests.reading.reading_yaml import PATH


def flat(node: Node | None, name: str = "") -> Iterator[str]:
    """The tree as lines `key[0].key = text`, a line end in a text as ⏎."""
    match node:
        case Word():
            yield shown(f"{name} = {node.text}".rstrip(" "))
        case Series():
            for index, item in enumerate(node.items):
                yield from flat(item, f"{name}[{index}]")
        case Table():
            for pair in node.pairs:
                yield from flat(pair.value, f"{name}.{pair.key}" if name else pair.key.text)


@each_case("front_matter.txt")
def test_case(case: Case) -> None:
    """The note's words and mistakes are those that the case writes, no more and no fewer."""
    note, problems = read_note(PATH, case.data)
    assert told(problems) == case.problems
    assert [*flat(note.table), *_prose(note.prose.text)] == case.values


def _prose(text: str) -> list[str]:
    return [shown(f"prose = {text}".rstrip("\r\n"))] if text.strip() else []


NOTES = {
    "plain": b"---\ntitle: Skins on\n---\nAll of it.\n",
    "Windows": b"---\r\ntitle: Skins on\r\n---\r\nAll of it.\r\n",
    "old Macintosh": b"---\rtitle: Skins on\r---\rAll of it.\r",
    "mark": b"\xef\xbb\xbf---\ntitle: Skins on\n---\nAll of it.\n",
    "blank lines first": b"\n \n---\ntitle: Skins on\n---\nAll of it.\n",
    "blanks behind fences": b"--- \ntitle: Skins on\n---\t\nAll of it.\n",
}


@pytest.mark.parametrize("data", NOTES.values(), ids=list(NOTES))
def test_line_ends_and_marks_change_nothing(data: bytes) -> None:
    """The same words and prose are read with any line ends, a mark, or blank lines around."""
    note, problems = read_note(PATH, data)
    assert problems == ()
    assert [*flat(note.table)] == ["title = Skins on"]
    assert note.prose.text.strip() == "All of it."
    assert note.source.data == data


def test_the_mark_is_not_counted_as_a_column() -> None:
    """In the first line after a byte-order mark columns count as an editor shows them."""
    note, _ = read_note(PATH, b"\xef\xbb\xbf---\ntitle: x\n---\n")
    assert (note.head.line, note.head.column, note.head.start) == (1, 1, 1)


def test_prose_knows_its_first_line() -> None:
    """The prose begins in the line below the closing fence."""
    note, _ = read_note(PATH, b"---\ntitle: x\n---\n\nLast.\n")
    assert (note.prose.place.line, note.prose.text) == (4, "\nLast.\n")


def test_without_front_matter_all_is_prose() -> None:
    """A file that does not begin with a fence is prose from its first character, without a mark."""
    note, problems = read_note(PATH, b"\xef\xbb\xbfRiveted.\n---\nMore.\n")
    assert (note.table, problems) == (None, ())
    assert note.prose.text == "Riveted.\n---\nMore.\n"


@given(st.binary(max_size=80) | st.binary(max_size=80).map(lambda data: b"---\n" + data))
def test_any_bytes_give_a_note(data: bytes) -> None:
    """No bytes make reading fail: there is always a note, with its exact bytes."""
    note, _ = read_note(PATH, data)
    assert note.source.data == data
