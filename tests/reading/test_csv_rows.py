"""CSV read as spreadsheets write it: every cell as it was, at its place, and every mistake told."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.reading.csv_rows import CsvTable, read_csv
from builderlog.reading.problem import Problem

# Signs that a file may hold; blanks at the ends of a cell are no part of it.
CELL = st.text(
    st.characters(exclude_categories=["Cs", "Cc", "Cn", "Co"], exclude_characters="\ufeff")
    | st.sampled_from('",;\t\n\r\n'),
    max_size=8,
).map(str.strip)


def texts(table: CsvTable) -> list[list[str]]:
    """The cells of every row."""
    return [[cell.text for cell in row] for row in table.rows]


def places(table: CsvTable) -> list[tuple[str, int, int]]:
    """Each cell that is not empty, with its line and column."""
    cells = (cell for row in table.rows for cell in row if cell.text)
    return [(cell.text, table.place(cell).line, table.place(cell).column) for cell in cells]


def told(problems: tuple[Problem, ...]) -> list[tuple[str, int, int]]:
    """Codes with line and column."""
    return [(each.code, each.place.line, each.place.column) for each in problems]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a,b\n1,2\n", [["a", "b"], ["1", "2"]]),
        ("a;b\r\n1;2", [["a", "b"], ["1", "2"]]),
        ("a\tb\r1\t2\r", [["a", "b"], ["1", "2"]]),
        ("a;b, c;d\n1;2,5;3\n", [["a", "b, c", "d"], ["1", "2,5", "3"]]),
        ('"a;b;c;d",e\n1,2\n', [["a;b;c;d", "e"], ["1", "2"]]),
        ('"say ""hm"""," x "\n', [['say "hm"', "x"]]),
        ('a, "b, c" ,d\n', [["a", "b, c", "d"]]),
        ('5" tube,b\n', [['5" tube', "b"]]),
        ("a,,\n,,\n\n,b\n", [["a", "", ""], ["", "b"]]),
        ("\n,,\na;b\n", [["a", "b"]]),
        ("sep=;\na,b;c\n", [["a,b", "c"]]),
        ("a\n1\n", [["a"], ["1"]]),
        ('a,b\n"one\r\ntwo",3', [["a", "b"], ["one\r\ntwo", "3"]]),
    ],
)
def test_cells_are_read_as_they_are_meant(text: str, expected: list[list[str]]) -> None:
    """Any delimiter, any line end, quotes by RFC 4180; rows without anything are left out."""
    table, problems = read_csv("t.csv", text.encode())
    assert (texts(table), problems) == (expected, ())


@given(
    st.lists(st.lists(CELL, min_size=2, max_size=4), min_size=1, max_size=4),
    st.sampled_from(["\n", "\r\n", "\r"]),
)
def test_what_the_csv_module_writes_is_read_back(rows: list[list[str]], line_end: str) -> None:
    """Rows written by Python's csv module, all quoted, are read as they were."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator=line_end, quoting=csv.QUOTE_ALL)
    writer.writerows([["a", "b"], *rows])
    table, problems = read_csv("t.csv", out.getvalue().encode())
    assert problems == ()
    assert texts(table)[1:] == [row for row in rows if any(row)]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_every_encoding_with_a_mark_gives_the_same_places(encoding: str) -> None:
    """UTF-8 with or without a byte-order mark and UTF-16 with one read alike, places too."""
    table, problems = read_csv("t.csv", 'é,"x\n\ny", b\n,z'.encode(encoding))
    assert problems == ()
    assert places(table) == [("é", 1, 1), ("x\n\ny", 1, 3), ("b", 3, 5), ("z", 4, 2)]


def test_places_are_offsets_into_the_text() -> None:
    """A cell's place covers exactly its signs, quotes included."""
    table, _ = read_csv("t.csv", 'a,  "b""c" ,d'.encode("utf-8-sig"))
    spans = [table.place(cell) for cell in table.rows[0]]
    assert [table.source.text[span.start : span.end] for span in spans] == ["a", '"b""c"', "d"]


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"", [("table-empty", 1, 1)]),
        (b"\xef\xbb\xbf\n,,\n", [("table-empty", 1, 1)]),
        (b'a,b\n1,"2\n3,4\n', [("quote-not-closed", 2, 3)]),
        (b'a,b\n"1"x,2\n3,"4"y\n', [("text-after-quote", 2, 4), ("text-after-quote", 3, 6)]),
        (b'"5" tube, new",b\n', [("text-after-quote", 1, 4)]),
        (b"a,b\n1,\xe9\n\xe8,3\n", [("not-utf8", 2, 3)]),
        (b"\x00\x01\x02\xff\xfe", [("not-utf8", 1, 4)]),
        (b"a\x00b\x00", [("not-a-table", 1, 2)]),
        (b"PK\x03\x04\x14\x00", [("not-a-table", 1, 1)]),
        (b"%PDF-1.7\n", [("not-a-table", 1, 1)]),
        ("a,b\n1,2\n".encode("utf-16") + b"x", [("not-utf16", 3, 1)]),
        (b"\xff\xfea\x00\x00\xd8b\x00", [("not-utf16", 1, 2)]),
        ("a,b".encode("utf-32"), [("not-a-table", 1, 1)]),
        (b"a,b\n1,\x07\n", [("control-character", 2, 3)]),
    ],
)
def test_what_cannot_be_read_is_told_at_its_place(
    data: bytes, expected: list[tuple[str, int, int]]
) -> None:
    """Bytes that are no text, quotes that are odd, and files of another kind are mistakes."""
    assert told(read_csv("t.csv", data)[1]) == expected


def test_rows_before_a_quote_that_is_never_closed_are_kept() -> None:
    """What stands complete before the quote can still be judged."""
    table, _ = read_csv("t.csv", b'a,b\n1,2\n3,"4\n5,6\n')
    assert texts(table) == [["a", "b"], ["1", "2"]]


def test_a_cell_with_text_behind_its_quote_does_not_hide_the_rest() -> None:
    """The cells that follow in the row and the rows below are read."""
    table, _ = read_csv("t.csv", b'a,b,c\n"1"x,2,3\n4,5,6\n')
    assert [row[1:] for row in texts(table)] == [["b", "c"], ["2", "3"], ["5", "6"]]


@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_told(data: bytes) -> None:
    """No bytes at all raise anything: there are rows, or it is told why there are none."""
    table, problems = read_csv("t.csv", data)
    assert table.rows or problems
