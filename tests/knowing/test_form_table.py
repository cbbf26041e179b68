"""A typed form is read row by row: tasks, headings, sums and mistakes, each for what it is."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.entries import Work
from builderlog.knowing.form_columns import CREDITS
from builderlog.knowing.form_merge import merge_form
from builderlog.knowing.form_table import form_of
from builderlog.knowing.worklist_edit import new_worklist, read_worklist
from builderlog.reading.csv_rows import read_csv
from tests.knowing.forms_typed import rows, told, typed

CREDIT = "task,maker,paid,assembly,fabrication\n"


def credit(row: str) -> dict[str, int]:
    """The credit of one row below its columns, in tenths."""
    (found,) = rows(CREDIT + row)
    return found.credit


def test_the_worked_row_of_the_checklist_is_one_point() -> None:
    """0.5 to A, 0.3 to B and 0.2 to D are a point, and C is not given.

    FAA Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), instructions: the
    example "for a total of 1 point".
    """
    (row,) = rows("Task,A,B,C,D\nF1,0.5,0.3,,0.2\n")
    assert row.credit == {"maker": 5, "paid": 3, "fabrication": 2}
    assert sum(row.credit.values()) == 10


def test_an_evaluation_of_a_kit_may_have_two_columns() -> None:
    """Ids and the maker's credit alone are a form."""
    found = rows("No.;Mfr kit/part/component\nF1;0,9\nF2;1\nF3;0\nF4;\n")
    assert [(row.id, row.credit) for row in found] == [
        ("F1", {"maker": 9}),
        ("F2", {"maker": 10}),
        ("F3", {"maker": 0}),
        ("F4", {}),
    ]


def test_every_cell_of_a_row_is_read() -> None:
    """A whole row, in another order than ours, says all that a work list can hold."""
    (row,) = rows(
        "kind,name,task,area id,area name,applies,state,estimate (h),d,c,b,a,"
        "marks maker,marks builder\n"
        'Fabrication,"Fit\nskins",W14,W,Wings,yes,Done,"2,5",.5,0.2,0,"0,3",1,2\n'
    )
    assert (row.id, row.name, row.work, row.applies, row.done) == (
        "W14",
        "Fit skins",
        Work.FABRICATION,
        True,
        True,
    )
    assert row.area
    assert (row.area.id, row.area.name, row.estimate, row.marks) == ("W", "Wings", 9000, (1, 2))
    assert row.credit == {"maker": 3, "paid": 0, "assembly": 2, "fabrication": 5}
    assert (row.place.line, row.place.column, row.credit_at.line) == (3, 8, 3)


def test_an_empty_credit_is_not_nothing() -> None:
    """An empty cell gives no credit, a zero gives none of it: only the zero is written."""
    assert credit("W1,,0,,") == {"paid": 0}


@pytest.mark.parametrize("cells", ["N/A,N/A,N/A,N/A", "n/a,,,", ",,,na", "N.A.,,,N/A"])
def test_not_applicable_in_any_box_is_enough(cells: str) -> None:
    """N/A goes in any box where a listed task does not apply.

    FAA Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), instructions.
    """
    (row,) = rows(CREDIT + f"W1,{cells}")
    assert (row.applies, row.credit) == (False, {})


@pytest.mark.parametrize(
    ("table", "applies"),
    [
        ("task,applies\nW1,no", False),
        ("task,applies\nW1,N/A", False),
        ("task,applies\nW1,yes", True),
        ("task,applies\nW1,", None),
        ("task,n/a\nW1,x", False),
        ("task,n/a\nW1,yes", False),
        ("task,n/a\nW1,no", True),
        ("task,n/a\nW1,", None),
        ("task,not applicable\nW1,N/A", False),
        ("task,maker\nW1,0.3", None),
    ],
)
def test_a_column_says_whether_a_task_applies(table: str, applies: bool | None) -> None:  # noqa: FBT001
    """Either column says it; an empty cell says nothing."""
    assert rows(table)[0].applies is applies


@pytest.mark.parametrize(
    ("cells", "marks"),
    [("x,", (1, 0)), (",x", (0, 1)), ("x,X", (1, 1)), ("2,3", (2, 3)), (",", (None, None))],
)
def test_ticks_are_marks(cells: str, marks: tuple[int | None, int | None]) -> None:
    """A tick is one mark, and an empty box beside it none; two empty boxes say nothing."""
    assert rows(f"task,marks maker,marks builder\nW1,{cells}")[0].marks == marks


def test_a_column_of_marks_alone_says_nothing_of_the_other() -> None:
    """Where the form has only the maker's marks the builder's stay open."""
    assert rows("task,marks maker\nW1,x")[0].marks == (1, None)


def areas(table: str) -> list[tuple[str, str | None, str | None]]:
    """Each task with the id and the name of its area as the form has them."""
    return [
        (row.id, row.area.id if row.area else None, row.area.name if row.area else None)
        for row in rows(table)
    ]


def test_headings_name_the_area_of_the_rows_below() -> None:
    """A name alone in a row is a heading, in the column of names or in that of ids."""
    assert areas("no,name,a\n,Fuselage,\nF1,Frames,1\nSection 2: Wings,,\nW1,Spars,1\n") == [
        ("F1", None, "Fuselage"),
        ("W1", None, "Section 2: Wings"),
    ]
    assert areas("no,name,a\nX1,x,1\nTailcone,,\nT1,Skins,\n") == [
        ("X1", None, None),
        ("T1", None, "Tailcone"),
    ]
    assert typed("no,name,a\n,Fuselage,\nF1,Frames,1\n")[0].headings == ("Fuselage",)


@pytest.mark.parametrize("table", ["no,a\nF1,\n", "no\nFuselage\n", "no,a\nDoor,\n"])
def test_a_short_id_or_one_with_a_number_is_no_heading(table: str) -> None:
    """An id alone in its row is a task where it is short, holds a number, or is all there is."""
    form, problems = typed(table)
    assert (len(form.rows), form.headings, problems) == (1, (), ())


def test_an_empty_area_is_that_of_the_row_above() -> None:
    """Merged cells come out of a spreadsheet as one filled and empty ones below."""
    table = "section,task,a\nWings,W1,1\n,W2,1\nTail surfaces,E1,0\n,E2,\n"
    assert areas(table) == [
        ("W1", None, "Wings"),
        ("W2", None, "Wings"),
        ("E1", None, "Tail surfaces"),
        ("E2", None, "Tail surfaces"),
    ]
    assert [row.area and row.area.own for row in rows(table)] == [True, False, True, False]


@pytest.mark.parametrize(
    ("table", "area"),
    [
        ("area,task\nW,W1", ("W", None)),
        ("area,task\nWings,W1", (None, "Wings")),
        ("area,task\nW 1,W1", (None, "W 1")),
        ("area,area name,task\nWings,,W1", ("Wings", None)),
        ("area,area name,task\n,Wings,W1", (None, "Wings")),
        ("area id,task\nWings,W1", ("Wings", None)),
        ("area,task,kind\nWings,,\n,W1,", (None, "Wings")),
    ],
)
def test_an_area_is_an_id_or_a_name(table: str, area: tuple[str | None, str | None]) -> None:
    """A short word is an id; any word is where another column has the names."""
    assert [found[1:] for found in areas(table)] == [area]


@pytest.mark.parametrize(
    "row",
    [
        *(",Total,2.3", ",Column totals:,2.3", ",Sum,", "Total,,2.3", ",Sub-total,1"),
        *(",Percent,60", ",Total Fuselage,12.5", ",Total points (24 tasks):,"),
    ],
)
def test_sums_are_told_and_never_counted(row: str) -> None:
    """A row of sums is a doubt, wherever its word stands, and no task."""
    form, problems = typed(f"no,name,a\nF1,Frames,1\n{row}\n")
    assert [row.id for row in form.rows] == ["F1"]
    assert [each.code for each in problems] == ["sums-left-out"]


@pytest.mark.parametrize("row", [",Total energy probe,0.5", ",Total energy probe,1", ",,2.3"])
def test_a_row_without_id_that_may_be_a_task_is_no_sum(row: str) -> None:
    """What could be a task, or says nothing of sums, needs an id: it is not left out."""
    _, problems = typed(f"no,name,a\nF1,Frames,1\n{row}\n")
    assert "task-id-missing" in [each.code for each in problems]


@pytest.mark.parametrize("row", ["F2,Total energy probe,1", "Sum1,Adder,1", "Total energy,x,1"])
def test_a_task_whose_name_begins_like_sums_is_a_task(row: str) -> None:
    """With an id of its own a row counts, whatever its name."""
    form, problems = typed(f"no,name,a\nF1,Frames,1\n{row}\n")
    assert (len(form.rows), problems) == (2, ())


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("task,a\n", [("1:1", "no-tasks")]),
        ("name,a\nFrames,1\n", [("1:1", "no-id-column")]),
        ("task,name,a\n,Frames,0.3\n", [("2:2", "task-id-missing")]),
        ("task,a\n\n,0.3\n", [("3:2", "task-id-missing")]),
        ("task,a\nW1,1\nW2,1\nW1,0\n", [("4:1", "task-id-twice")]),
        ("task,kind,state,applies\nW1,fab,shut,perhaps\n", [
            ("2:4", "unknown-word"), ("2:8", "unknown-word"), ("2:13", "unknown-word"),
        ]),
        ("task,estimate,a\nW1,long,0.35\n", [("2:4", "unreadable"), ("2:9", "unreadable")]),
        (CREDIT + "W1,0.5,0.6,,\n", [("2:4", "credit-above-1")]),
        (CREDIT + "W1,,1,0.1,\n", [("2:5", "credit-above-1")]),
        ("task,applies,a,b\nW1,no,0.3,0\n", [("2:7", "number-beside-na")]),
        (CREDIT + "W1,N/A,0.3,0,\n", [("2:8", "number-beside-na"), ("2:12", "number-beside-na")]),
        ("task,a,marks maker,applies\nW1,0.1,1,n/a\n", [
            ("2:4", "number-beside-na"), ("2:8", "number-beside-na"),
        ]),
        ("task,a\nW1,0.3,x\n", [("2:8", "too-many-cells")]),
        ('task,name\nW1,"a\nb"\nW2,c,d\n', [("4:6", "too-many-cells")]),
        ("task,marks maker\nW1,many\n", [("2:4", "unreadable")]),
    ],
)  # fmt: skip
def test_every_mistake_is_told_at_its_cell(table: str, expected: list[tuple[str, str]]) -> None:
    """What cannot be counted is told where it stands; all of it in one run."""
    assert told(typed(table)[1]) == expected


def test_a_repeated_id_names_the_first_line() -> None:
    """The message says where the id stood before."""
    assert "first in line 2" in typed("task\nW1\nW2\nW1\n")[1][0].message


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ("task,a,b\nW1,0,3,0,2\n", "too-many-cells"),
        ("task,a,b\nW1,0,3,\n", "too-many-cells"),
        ("task,a\nW1,0,3\n", "too-many-cells"),
        (CREDIT + "W1,0,3\n", "unreadable"),
    ],
)
def test_a_decimal_comma_between_commas_is_told_helpfully(table: str, code: str) -> None:
    """`0,3` where commas separate cells: the message says so and what to write."""
    problems = typed(table)[1]
    assert [each.code for each in problems] == [code]
    assert "a decimal comma splits its number; write 0.3" in problems[0].message


def test_a_decimal_comma_in_quotes_or_between_semicolons_is_read() -> None:
    """Where the comma cannot split a cell it is a decimal comma."""
    assert rows('task,a\nW1,"0,3"\n')[0].credit == {"maker": 3}
    assert rows("task;a\nW1;0,3\n")[0].credit == {"maker": 3}


def test_short_rows_and_empty_cells_at_the_end_are_no_mistake() -> None:
    """Cells that a spreadsheet leaves out or adds at a row's end say nothing."""
    assert [row.credit for row in rows("task,a,b\nW1\nW2,1\nW3,1,0,,\n")] == [
        {},
        {"maker": 10},
        {"maker": 10, "paid": 0},
    ]


def test_an_apostrophe_before_a_formula_is_taken_off_our_own_tables_only() -> None:
    """Our export guards `=` and its like; in a form of others an apostrophe is a sign."""
    row = "'-5 tab,W1,'=a,,,,,,,,,,,\n"
    ours = "area,area_name,task,name,kind,applies,state,estimate,maker,paid,assembly,fabrication,"
    (found,) = rows(f"{ours}marks_maker,marks_builder\n{row}")
    assert (found.name, found.area and found.area.id) == (None, "'-5 tab".removeprefix("'"))
    (other,) = rows("task,name\nW1,'=a\n")
    assert other.name == "'=a"


def test_ten_thousand_bad_rows_are_all_told() -> None:
    """No mistake hides another, however many there are."""
    table = "task,maker,estimate\n" + "".join(f"W{row},0.35,long\n" for row in range(10_000))
    found, _ = read_csv("form.csv", table.encode())
    form, problems = form_of(found)
    assert (len(form.rows), len(problems)) == (10_000, 20_000)
    assert told(problems[-2:]) == [("10001:7", "unreadable"), ("10001:12", "unreadable")]


NAMES = (
    "task name area area_name kind applies n/a state estimate a b c d marks_maker marks_builder x"
).split()
CELLS = (
    "", "", "0", "0.3", "1", ",3", "0.35", "N/A", "x", "yes", "no", "done", "assembly", "W", "W1",
    "Wings", "Body parts", "Total", "2h", "'=a", "- a: b", "#1", "{", "1-2", "é\nü",
)  # fmt: skip


@given(
    st.lists(st.sampled_from(NAMES), min_size=1, max_size=8),
    st.lists(st.lists(st.sampled_from(CELLS), max_size=9), max_size=6),
)
def test_any_table_is_taken_in_or_told(header: list[str], cells: list[list[str]]) -> None:
    """Whatever stands in the cells: a mistake is told, or a work list says what the form says."""
    out = io.StringIO()
    csv.writer(out).writerows([header, *cells])
    form, problems = typed(out.getvalue())
    merge, more = merge_form(form.rows, read_worklist("worklist.yaml", b"").worklist)
    if any(each.weight == "mistake" for each in (*problems, *more)):
        return
    made = read_worklist("worklist.yaml", new_worklist("worklist.yaml", "form.csv", merge))
    assert made.mistakes == ()
    assert {row.id for row in form.rows} == set(made.worklist.by_id)
    for row in form.rows:
        credit = made.worklist.by_id[row.id].credit
        assert row.credit == {
            each.value: getattr(credit, each.value) for each in CREDITS if each.value in row.credit
        }
