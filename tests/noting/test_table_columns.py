"""Columns of a builder's own table: found by name, wherever the row of names stands."""

from __future__ import annotations

from enum import StrEnum

from builderlog.noting.table_columns import TableRow, find_header, meaning_of, names_of
from builderlog.reading.csv_rows import CsvTable, read_csv


class Colour(StrEnum):
    """Meanings for these tests."""

    RED = "red"
    BLUE = "blue"


NAMES = names_of(((Colour.RED, "red crimson"), (Colour.BLUE, "blue")))


def table(text: str) -> CsvTable:
    """A table's rows."""
    return read_csv("t.csv", text.encode())[0]


def test_names_are_compared_without_case_and_remarks() -> None:
    """Capitals, blanks and a remark in brackets do not change what a column means."""
    assert meaning_of("CRIM SON (of 2024)", NAMES) is Colour.RED
    assert meaning_of("(blue)", NAMES) is Colour.BLUE
    assert meaning_of("green", NAMES) is None


def test_the_names_may_stand_below_a_title() -> None:
    """The first row with the needed column and one more holds the names, and no later one."""
    found = find_header(table("My colours,\nred,blue\nred,blue\n"), NAMES, Colour.RED)
    assert found
    assert (found.header, found.at) == (1, {Colour.RED: (0,), Colour.BLUE: (1,)})
    assert find_header(table("red\n1\n"), NAMES, Colour.RED) is None
    assert find_header(table("blue,green\n1,2\n"), NAMES, Colour.RED) is None


def test_what_no_column_means_is_kept() -> None:
    """Cells of other columns come with the column's name, dashes and empty ones not at all."""
    rows = table("red,smell,,taste,blue\nr,sweet,loose,-,b\n")
    columns = find_header(rows, NAMES, Colour.RED)
    assert columns
    row = TableRow(rows, columns, rows.rows[1])
    assert row.kept() == ("smell: sweet", "loose")
    assert (row.text(Colour.RED), row.text(Colour.BLUE), row.beyond()) == ("r", "b", ())


def test_cells_behind_the_last_column_are_seen() -> None:
    """A row with more cells than names shows those that say something."""
    rows = table("red,blue\nr,b,more\nr,b,\n")
    columns = find_header(rows, NAMES, Colour.RED)
    assert columns
    found = [TableRow(rows, columns, row).beyond() for row in rows.rows[1:]]
    assert [[cell.text for cell in extra] for extra in found] == [["more"], []]
