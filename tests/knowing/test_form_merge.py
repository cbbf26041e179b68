"""A form taken into a work list: what changes, what is new, what stays, and what cannot be."""

from __future__ import annotations

import pytest

from builderlog.knowing.form_merge import Merge, merge_form
from builderlog.knowing.form_table import form_of
from builderlog.knowing.settings import Credit
from builderlog.reading.csv_rows import read_csv
from tests.knowing.forms_typed import listed, merged, rows, told

LIST = """\
areas:
  - area: W
    name: Wings
    tasks:
      - {task: W01, name: Spars, work: assembly, credit: {maker: 0.3, paid: 0, assembly: 0.5}}
      - {task: W02, name: Ribs, applies: no, estimate: 2h, state: done}
      - {task: W04, marks: [1, 0]}
      - W03
  - area: F
    tasks: [F1]
"""


def settings(merge: Merge) -> dict[str, list[tuple[str, str, str]]]:
    """What is to be written of each task."""
    return {
        change.task.id: [(each.key, each.before, each.after) for each in change.settings]
        for change in (*merge.changed, *merge.added)
    }


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("task,a\nW01,0.5\n", [("maker", "0.3", "0.5")]),
        ("task,a,b,c,d\nW01,0.3,0,0.5,0\n", []),
        ("task,a,b,c,d\nW01,0.4,,0.4,0.2\n", [
            ("maker", "0.3", "0.4"), ("assembly", "0.5", "0.4"), ("fabrication", "0", "0.2"),
        ]),
        ("task,a,b\nW03,0,1\n", [("maker", "", "0"), ("paid", "", "1.0")]),
        ("task,name,kind\nW01,Main spars,fabrication\n", [
            ("name", "Spars", "Main spars"), ("work", "assembly", "fabrication"),
        ]),
        ("task,name,kind\nW01,,\n", []),
        ('task,name\nW01,"  Spars\n"\n', []),
        ("task,name\nW03,W03\n", []),
        ("task,applies,state,estimate\nW02,yes,open,3h\n", [
            ("applies", "no", "yes"), ("estimate", "2h", "3h"), ("state", "done", "open"),
        ]),
        ("task,applies,state,estimate\nW02,no,done,120m\n", []),
        ("task,marks maker,marks builder\nW04,1,\n", []),
        ("task,marks maker,marks builder\nW04,,2\n", [("marks", "[1, 0]", "[0, 2]")]),
        ("task,marks builder\nW04,2\n", [("marks", "[1, 0]", "[1, 2]")]),
        ("task,a\nW01,N/A\n", [
            ("applies", "yes", "no"), ("maker", "0.3", "0"), ("assembly", "0.5", "0"),
        ]),
        ("task,a\nW04,N/A\n", [("applies", "yes", "no"), ("marks", "[1, 0]", "[0, 0]")]),
        ("task,applies,a,b\nW02,no,0,\n", [("maker", "", "0")]),
    ],
)  # fmt: skip
def test_what_the_form_gives_and_differs_is_changed(
    table: str, expected: list[tuple[str, str, str]]
) -> None:
    """Only what is given and differs is to be written; what the form leaves empty stays."""
    merge, problems = merged(LIST, table)
    assert [each for each in problems if each.weight == "mistake"] == []
    assert next(iter(settings(merge).values()), []) == expected
    assert merge.unchanged == (0 if expected else 1)


def test_tasks_that_the_form_lacks_are_told_and_kept() -> None:
    """Nothing is taken out of the list because a form does not name it."""
    merge, _ = merged(LIST, "task,a\nW01,0.5\n")
    assert merge.missing == ("W02", "W04", "W03", "F1")
    assert [task.id for area in merge.wanted.areas for task in area.tasks] == [
        "W01", "W02", "W04", "W03", "F1",
    ]  # fmt: skip


def test_new_tasks_carry_all_that_the_form_gives() -> None:
    """A task that the list lacks is added with what is given, and nothing else."""
    merge, problems = merged(
        LIST, "task,area,name,kind,applies,state,a,d\nW9,W,Tips,fabrication,yes,open,0.3,\nF2,F\n"
    )
    assert problems == ()
    assert settings(merge) == {
        "W9": [
            ("name", "", "Tips"), ("work", "", "fabrication"), ("state", "", "open"),
            ("maker", "", "0.3"),
        ],
        "F2": [],
    }  # fmt: skip
    assert [(task.id, task.area) for task in merge.wanted.by_id.values()][-1] == ("F2", "F")
    assert merge.wanted.by_id["W9"].credit == Credit(maker=3)


@pytest.mark.parametrize(
    ("list_", "table", "expected", "says"),
    [
        (LIST, "task,a\nW01,0.6\n", ("2:5", "credit-above-1-together"), "worklist.yaml:5:16"),
        (
            LIST,
            "task,d\nW01,0.3\n",
            ("2:5", "credit-above-1-together"),
            "maker 0.3 and assembly 0.5",
        ),
        (
            LIST,
            "task,marks maker\nW01,1\n",
            ("2:5", "marks-one-side"),
            "the builder's marks of 'W01'",
        ),
        (
            LIST,
            "task,marks builder\nW9,1\n",
            ("2:4", "marks-one-side"),
            "the maker's marks of 'W9'",
        ),
        (LIST, "task\nW1\n", ("2:1", "id-nearly-known"), "'W01' is (worklist.yaml:5:16)"),
        (LIST, "task\nw-02\n", ("2:1", "id-nearly-known"), "'W02'"),
        (LIST, "task\nf 1\n", ("2:1", "id-nearly-known"), "'F1'"),
        ("areas: [{area: A, tasks: ['010']}]", "task\n10\n", ("2:1", "id-nearly-known"), "'010'"),
        ("", "area,area name,task\nA,x,A1\nA,y,A2\n", ("3:1", "area-names-differ"), "in line 2"),
        (
            LIST,
            "task,a\nW02,0.3\n",
            ("2:5", "number-without-use"),
            "by the work list (worklist.yaml:6",
        ),
        (
            LIST,
            "task,marks maker,marks builder\nW02,,1\n",
            ("2:6", "number-without-use"),
            "write N/A",
        ),
        (
            LIST,
            "area,task\nF,W01\n",
            ("2:1", "other-area"),
            "to 'W' in the work list (worklist.yaml:5",
        ),
    ],
)
def test_what_does_not_go_together_is_told_with_both_places(
    list_: str, table: str, expected: tuple[str, str], says: str
) -> None:
    """A form against its list: the cell's place, and in the message where the list says it."""
    _, problems = merged(list_, table)
    assert told(problems) == [expected]
    assert says in problems[0].message


def test_an_id_with_its_own_row_is_not_mistaken_for_another() -> None:
    """`W1` beside a row for `W01` is a task of its own."""
    merge, problems = merged(LIST, "task\nW1\nW01\n")
    assert problems == ()
    assert [change.task.id for change in merge.added] == ["W1"]


def test_a_row_that_is_above_a_point_by_itself_is_told_once() -> None:
    """The form's own mistake is not told again for the list."""
    table, _ = read_csv("form.csv", b"task,a,b\nW01,0.8,0.8\n")
    form, first = form_of(table)
    _, then = merge_form(form.rows, listed(LIST).worklist)
    assert ([each.code for each in first], then) == (["credit-above-1"], ())


def test_other_areas_are_told_once_for_each_pair() -> None:
    """A form with other areas gives one doubt for each pair of areas, not one for each task."""
    _, problems = merged(LIST, "section,task\nWing group,W01\n,W02\nWing group,W03\nBody,F1\n")
    assert told(problems) == [("2:1", "other-area"), ("5:1", "other-area")]


def test_rows_of_a_form_without_mistakes_are_its_rows() -> None:
    """The same ids in the same order come out of the merge as went in."""
    table = "task,a\nW03,1\nW01,0.5\nF1,0\n"
    merge, _ = merge_form(rows(table), listed(LIST).worklist)
    assert [change.task.id for change in merge.changed] == ["W03", "W01", "F1"]
