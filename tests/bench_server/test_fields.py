"""Fields of a form: values without blanks, rows by their numbers."""

from __future__ import annotations

from builderlog.bench.fields import filled, lines, many, one, rows, split

FIELDS = {
    "title": ("  Skins on ", "second"),
    "still": ("a", " a", "", "b"),
    "closes": ("W14, W15;E01\nW14",),
    "next": ("dimple\r\n\r\n drill \n",),
    "task-2": ("W14",),
    "task-10": ("",),
    "task-10-who": ("Ada",),
    "task-3-hours": (" ",),
    "task-1234": ("x",),
    "taskx-1": ("x",),
}


def test_one_value_is_the_first_without_blanks() -> None:
    """The first value of a name counts, and a missing name says nothing."""
    assert (one(FIELDS, "title"), one(FIELDS, "gone")) == ("Skins on", "")


def test_many_values_are_told_once() -> None:
    """Empty and repeated values are left out."""
    assert many(FIELDS, "still") == ("a", "b")


def test_a_value_can_hold_several() -> None:
    """Commas, semicolons and line ends part a value."""
    assert split(FIELDS, "closes") == ("W14", "W15", "E01")


def test_lines_are_those_that_say_something() -> None:
    """Empty lines are left out, whatever system ended them."""
    assert lines(FIELDS, "next") == ("dimple", "drill")


def test_rows_are_numbers_of_at_most_three_digits() -> None:
    """Only `task-3` and `task-3-…` are rows, in the order of their numbers, not of their words."""
    assert rows(FIELDS, "task") == (2, 3, 10)


def test_filled_rows_say_something() -> None:
    """A row is filled by any of its fields, not by blanks or by a row whose number begins so."""
    assert filled(FIELDS, "task") == (2, 10)
    assert filled({"task-1": ("",), "task-11": ("x",)}, "task") == (11,)
