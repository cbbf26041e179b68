"""The names of columns: those of forms, of our own tables, and what is told of all others."""

from __future__ import annotations

import pytest

from builderlog.knowing.form_columns import Columns, Meaning, columns_of
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.problem import Problem
from builderlog.sheets.form import form_sheet
from builderlog.sheets.record_time import tasks
from tests.knowing.forms_typed import told
from tests.making import ledger, task


def columns(header: str) -> tuple[Columns, tuple[Problem, ...]]:
    """The columns of a table with this first row."""
    return columns_of(read_csv("form.csv", header.encode())[0])


@pytest.mark.parametrize(
    ("name", "meaning"),
    [
        ("Task", Meaning.ID),
        ("task id", Meaning.ID),
        ("No.", Meaning.ID),
        ("#", Meaning.ID),
        ("Item", Meaning.ID),
        ("ID", Meaning.ID),
        ("Kit", Meaning.MAKER),
        ("A", Meaning.MAKER),
        ("(A)", Meaning.MAKER),
        ("Manufacturer", Meaning.MAKER),
        ("Maker (tenths)", Meaning.MAKER),
        ("credit_maker", Meaning.MAKER),
        ("paid", Meaning.PAID),
        ("B", Meaning.PAID),
        ("Assembly [points]", Meaning.ASSEMBLY),
        ("amateur builder assembly", Meaning.ASSEMBLY),
        ("D", Meaning.FABRICATION),
        ("Marks maker", Meaning.MARKS_MAKER),
        ("marks_builder", Meaning.MARKS_BUILDER),
        ("Section", Meaning.AREA),
        ("Area ID", Meaning.AREA_ID),
        ("group name", Meaning.AREA_NAME),
        ("Type", Meaning.KIND),
        ("Applies?", Meaning.APPLIES),
        ("N/A", Meaning.NOT_APPLICABLE),
        ("Status", Meaning.STATE),
        ("Estimate (h)", Meaning.ESTIMATE),
        ("estimate_seconds", Meaning.SECONDS),
        ("Operation", Meaning.NAME),
    ],
)
def test_a_name_is_known_whatever_its_case_and_signs(name: str, meaning: Meaning) -> None:
    """Case, blanks, punctuation and a unit in brackets change nothing."""
    found, problems = columns(f'{"" if meaning is Meaning.ID else "task;"}"{name}";x' + "y" * 9)
    assert meaning in found.at
    assert [each.code for each in problems] == ["column-not-understood"]


@pytest.mark.parametrize(
    ("header", "meanings"),
    [
        # FAA Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), its header.
        (
            (
                "Task,A Mfr Kit/Part/Component,B Commercial Assistance,C Am-Builder Assembly,"
                "D Am-Builder Fabrication"
            ),
            "task maker paid assembly fabrication",
        ),
        (
            (
                '"Task","Mfr\nKit/Part/\nComponent","Commercial\nAssistance",'
                '"Am-Builder\nAssembly","Am-Builder\nFabrication"'
            ),
            "task maker paid assembly fabrication",
        ),
        ("No;Task;A;B;C;D", "task name maker paid assembly fabrication"),
        ("Task;No;A", "name task maker"),
        ("Item;Task;A", "task name maker"),
    ],
)
def test_the_columns_of_forms_are_known(header: str, meanings: str) -> None:
    """The long names and letters of a form are known; beside a number, `task` is the name."""
    found, problems = columns(header)
    assert problems == ()
    assert [meaning.value for meaning, _ in sorted(found.at.items(), key=lambda i: i[1])] == (
        meanings.split()
    )


def test_our_own_tables_are_known() -> None:
    """The table that we export and the dossier's table of tasks read without a doubt, as ours."""
    book = ledger(tasks=[task("W1")])
    for sheet in (form_sheet(book.worklist), tasks(book)):
        found, problems = columns(",".join(sheet.header))
        assert problems == ()
        assert found.ours
        assert len(found.at) >= 13


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("task,colour", [("1:6", "column-not-understood")]),
        ("task,estimate (min)", [("1:6", "column-not-understood")]),
        ("task,hours,notes", [("1:6", "column-not-understood"), ("1:12", "column-not-understood")]),
        ("name,a,b", [("1:1", "no-id-column")]),
        ("W1,Fit skins,0.3", [("1:1", "no-id-column")]),
        ("task,maker,kit", [("1:12", "column-twice")]),
        ("task,applies,n/a", [("1:14", "column-twice")]),
        ("task,task,task", [("1:6", "column-twice"), ("1:11", "column-twice")]),
        ("no,id,a", [("1:4", "column-twice")]),
    ],
)
def test_other_columns_are_told(header: str, expected: list[tuple[str, str]]) -> None:
    """What is not understood is a doubt; a meaning twice, or no ids, is a mistake."""
    assert told(columns(header)[1]) == expected


def test_a_column_that_is_nearly_known_gets_a_hint() -> None:
    """A slip in a column's name is told with the name that is near."""
    _, problems = columns("task,makr,fabricaton")
    assert "did you mean 'maker'?" in problems[0].message
    assert "did you mean 'fabrication'?" in problems[1].message


def test_a_column_without_a_name_is_told_only_where_it_holds_something() -> None:
    """Empty columns, as spreadsheets leave them, are no doubt; a cell that is left out is one."""
    assert columns("task,,maker\nW1,,0.3\n")[1] == ()
    assert told(columns("task,,maker\nW1,,0.3\nW2,x,\n")[1]) == [("3:4", "column-without-name")]
