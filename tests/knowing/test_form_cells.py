"""Cells of a form as people type them: one meaning each, or a sentence that says what to write."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.entries import Work
from builderlog.knowing.form_cells import (
    credit_of,
    done_of,
    is_not_applicable,
    marks_of,
    one_line,
    seconds_of,
    tenths_text,
    truth_of,
    whole_seconds_of,
    work_of,
)
from builderlog.knowing.units import UnreadableError


@pytest.mark.parametrize(
    ("text", "tenths"),
    [("0.3", 3), ("0,3", 3), (".3", 3), (",3", 3), ("1", 10), ("1.0", 10), ("0", 0), ("0.30", 3)],
)
def test_credit_is_read_in_tenths(text: str, tenths: int) -> None:
    """A point or a comma, with or without a zero before it, is one number of tenths."""
    assert credit_of(text) == tenths


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0.35", "write 0 to 1, as in 0.3"),
        ("-0.1", "write 0 to 1"),
        ("1.1", "more than the task's one point"),
        ("3", "write 0 to 1"),
        ("some", "write 0 to 1"),
        ("30%", "write 0.3"),
        ("100 %", "write 1.0"),
        ("35%", "write 0 to 1"),
        ("120%", "write 0 to 1"),
        ("x", "'marks maker'"),
    ],
)
def test_what_is_no_credit_says_what_to_write(text: str, says: str) -> None:
    """Text, numbers out of range and percentages are refused with a way out."""
    with pytest.raises(UnreadableError) as refused:
        credit_of(text)
    assert says in str(refused.value)
    assert f"'{text}'" in str(refused.value)


@given(st.integers(0, 10))
def test_tenths_are_written_as_they_are_read(tenths: int) -> None:
    """Every number of tenths comes back from its text."""
    assert credit_of(tenths_text(tenths)) == tenths


@pytest.mark.parametrize("text", ["N/A", "n/a", "NA", "n.a.", "Not applicable"])
def test_not_applicable_is_known_in_its_spellings(text: str) -> None:
    """N/A in any usual spelling means that the task is not on this aircraft."""
    assert is_not_applicable(text)


@pytest.mark.parametrize("text", ["", "no", "0", "-", "a/n"])
def test_other_words_are_not_not_applicable(text: str) -> None:
    """A dash or a no is not taken for N/A."""
    assert not is_not_applicable(text)


def test_words_are_read_whatever_their_case() -> None:
    """Kinds, states, truth and ticks are read in capitals too."""
    assert (work_of("Fabrication"), work_of("ASSEMBLY")) == (Work.FABRICATION, Work.ASSEMBLY)
    assert (done_of("Done"), done_of("OPEN")) == (True, False)
    assert [truth_of(text) for text in ("Yes", "y", "x", "TRUE", "1")] == [True] * 5
    assert [truth_of(text) for text in ("No", "n", "FALSE", "0")] == [False] * 4
    assert [marks_of(text) for text in ("X", "✓", "1", "0", "12")] == [1, 1, 1, 0, 12]


def test_lengths_of_time_become_seconds() -> None:
    """An estimate is any length of time, or whole seconds in our own tables."""
    assert (seconds_of("2h30"), seconds_of("0,5"), whole_seconds_of("90")) == (9000, 1800, 90)


@pytest.mark.parametrize(
    ("read", "text", "says"),
    [
        (work_of, "fabricaton", "did you mean 'fabrication'?"),
        (work_of, "other", "write fabrication or assembly"),
        (done_of, "opened", "did you mean 'open'?"),
        (done_of, "finished", "write open or done"),
        (truth_of, "maybe", "write yes, no or N/A"),
        (marks_of, "-1", "write 1, 0 or x"),
        (marks_of, "1.5", "write 1, 0 or x"),
        (seconds_of, "all day", "write 3.25"),
        (whole_seconds_of, "1.5", "whole seconds"),
    ],
)
def test_other_cells_say_what_to_write(read: object, text: str, says: str) -> None:
    """What has no meaning in its column is refused with the words that have one."""
    assert callable(read)
    with pytest.raises(UnreadableError) as refused:
        read(text)
    assert says in str(refused.value)


def test_a_cell_is_one_line() -> None:
    """Line ends, tabs and runs of blanks in a cell are one blank."""
    assert one_line(" Fit \r\n the\tskins\N{NO-BREAK SPACE}on ") == "Fit the skins on"
