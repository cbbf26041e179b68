"""CSV tables: bytes that a spreadsheet reads without harm, and that are read back as they were."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.handover.tables import (
    TableError,
    guard,
    names_sheet,
    read_table,
    renamed_from,
    table_bytes,
    tables,
    unguard,
)
from builderlog.sheets.table import Heading, Sheet
from tests.making import ledger

WORDS = Heading("words", "x")
COUNT = Heading("count", "x", number=True)
# Text without single halves of surrogate pairs, which no file can hold.
TEXT = st.text(st.characters(exclude_categories=["Cs"]))


def one_column(*cells: str, heading: Heading = WORDS) -> Sheet:
    """A sheet of one column beside a number."""
    return Sheet("t", "T.", (heading, COUNT), tuple((cell, "1") for cell in cells))


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_a_formula_gets_an_apostrophe(sign: str) -> None:
    """Text that a spreadsheet may take for a formula has an apostrophe in front."""
    assert guard(f"{sign}1+1") == f"'{sign}1+1"
    assert unguard(f"'{sign}1+1") == f"{sign}1+1"


@pytest.mark.parametrize("text", ["", "1+1", " =1", "'quoted'", "it's", "a=b"])
def test_other_text_is_left_alone(text: str) -> None:
    """A sign in the middle, or an apostrophe of the builder's own, changes nothing."""
    assert guard(text) == text


def test_numbers_are_left_alone() -> None:
    """A number below zero stays a number that can be added up."""
    assert table_bytes(one_column("-2.50", heading=COUNT)).splitlines()[1] == b"-2.50,1"


@given(st.lists(TEXT))
def test_what_is_written_is_read_back(cells: list[str]) -> None:
    """Any text, with quotes, commas, line breaks and signs, comes back as it was."""
    assert read_table(table_bytes(one_column(*cells)))[1:] == [(cell, "1") for cell in cells]


@given(TEXT)
def test_no_cell_begins_as_a_formula(text: str) -> None:
    """Whatever the builder wrote, an ordinary CSV reader sees no cell with a formula's sign."""
    rows = csv.reader(io.StringIO(table_bytes(one_column(text)).decode("utf-8"), newline=""))
    assert not [*rows][1][0].startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


def test_lines_end_as_the_standard_says() -> None:
    """RFC 4180, 2: each record ends with CRLF, a cell with a comma or quote stands in quotes."""
    data = table_bytes(one_column('say "a", b'))
    assert data == b'words,count\r\n"say ""a"", b",1\r\n'


@pytest.mark.parametrize("data", [b"\xff\xfe", b'a,"b', b'"a"b,c\r\n', b"a" * 200_000])
def test_junk_is_told_as_no_table(data: bytes) -> None:
    """Bytes that are no CSV in UTF-8 give the one error that callers expect."""
    with pytest.raises(TableError):
        read_table(data)


def test_changed_names_are_read_back() -> None:
    """The list of changed names gives the same mapping again, line breaks included."""
    renamed = {"photos/50 %.png": "photos/50 _-1.png", "=a\nb": "a_b-2"}
    assert renamed_from(table_bytes(names_sheet(renamed))) == renamed


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"a,b\r\n",
        b"bagged,original\r\nx\r\n",
        b"bagged,original\r\nx,a\r\nx,b\r\n",
        b"bagged,original\r\nx,a\r\ny,a\r\n",
    ],
)
def test_a_list_of_names_that_makes_no_sense_is_refused(data: bytes) -> None:
    """No header, a row too short, or a name twice on either side is told."""
    with pytest.raises(TableError):
        renamed_from(data)


def test_every_sheet_becomes_a_table() -> None:
    """All tables lie in one folder, the list of changed names among them."""
    made = tables(ledger(), {})
    assert {"tables/hours.csv", "tables/names.csv"} <= set(made)
    assert made["tables/names.csv"] == b"bagged,original\r\n"
