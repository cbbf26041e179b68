"""Cells as words: one spelling for each kind of value, the same in page, paper and table."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from builderlog.knowing.entries import Work
from builderlog.knowing.units import Quantity
from builderlog.sheets.table import (
    Value,
    as_words,
    decimal_hours,
    entries,
    number,
    sheet,
    sheet_of_entries,
    text,
)
from tests.making import dated, day, ledger, note, word

CELLS: tuple[tuple[Value, str], ...] = (
    (None, ""),
    ("", ""),
    ("010", "010"),
    (0, "0"),
    (True, "yes"),
    (False, "no"),
    (Decimal("12.0"), "12"),
    (Decimal("1E+3"), "1000"),
    (day("2026-03-14"), "2026-03-14"),
    (dated("2026-03-14"), "2026-03-14"),
    (word("as written"), "as written"),
    (Work.OTHER, "other"),
    (Quantity(Fraction(18), Fraction(19), "mm", "18..19 mm"), "18..19 mm"),
    ((word("a"), "b", None), "a; b; "),
    ((), ""),
)


@pytest.mark.parametrize(("value", "words"), CELLS)
def test_every_kind_of_value_has_one_spelling(value: Value, words: str) -> None:
    """Nothing is empty, dates are ISO 8601, truth is yes or no, several are joined."""
    assert as_words(value) == words


@pytest.mark.parametrize(
    ("seconds", "hours"),
    [(0, "0.0000"), (1, "0.0003"), (11700, "3.2500"), (2700, "0.7500"), (3599, "0.9997")],
)
def test_decimal_hours_are_rounded_half_up(seconds: int, hours: str) -> None:
    """Hours have four decimals, of which none ever comes from binary fractions."""
    assert decimal_hours(seconds) == hours


def twice(row: int) -> int:
    """The cell of a row that is a number."""
    return row * 2


def test_a_sheet_asks_every_row_for_every_cell() -> None:
    """Header and rows follow the columns, and numbers are marked as such."""
    made = sheet("n", "T.", [text("a", "x", str), number("b", "y", twice)], [1, 2])
    assert (made.header, made.rows) == (("a", "b"), (("1", "2"), ("2", "4")))
    assert [heading.number for heading in made.headings] == [False, True]


def test_entries_carry_their_notes_day_and_path() -> None:
    """A sheet of entries has the note's date in front and its path behind."""
    book = ledger(notes=[note("2026-03-14", "W1")])
    found = entries(book, lambda one: one.tasks)
    made = sheet_of_entries("n", "T.", [text("task", "x", lambda row: row.line.task)], found)
    assert made.header == ("date", "task", "note")
    assert made.rows == (("2026-03-14", "W1", "notes/2026-03-14.md"),)
