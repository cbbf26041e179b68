"""The work list as a form: one row a task, empty where the list says nothing."""

from __future__ import annotations

from dataclasses import replace

from builderlog.knowing.settings import Area, Credit, Task, Worklist
from builderlog.knowing.units import Length
from builderlog.sheets.form import form_sheet
from builderlog.sheets.table import Sheet
from tests.making import NOWHERE, task

HEADER = (
    "area area_name task name kind applies state estimate maker paid assembly fabrication "
    "marks_maker marks_builder"
)


def sheet_of(*tasks: Task, name: str = "Wings") -> Sheet:
    """The form of one area."""
    return form_sheet(Worklist((Area("W", name, NOWHERE, tasks),), written=True))


def test_a_full_task_fills_every_cell() -> None:
    """Credit in decimals, time as a note writes it, marks as numbers."""
    full = replace(task("W1", done=True), estimate=Length(9000), marks=(1, 2))
    made = sheet_of(full)
    assert (made.name, " ".join(made.header)) == ("form", HEADER)
    assert made.rows == (
        (
            *("W", "Wings", "W1", "Task W1", "assembly", "yes", "done", "2h30"),
            *("0.3", "0.1", "0.2", "0.3", "1", "2"),
        ),
    )


def test_a_bare_task_leaves_its_cells_empty() -> None:
    """A name that is only the id, and all that the list does not give, is an empty cell."""
    bare = Task("W2", "W2", "W", NOWHERE, applies=False)
    assert sheet_of(bare, name="W").rows == (
        ("W", "", "W2", "", "", "no", "open", "", "", "", "", "", "", ""),
    )


def test_credit_given_in_part_is_nothing_in_its_other_columns() -> None:
    """What is not given of a credit counts as nothing and is written so."""
    part = Task("W3", "Ribs", "W", NOWHERE, credit=Credit(maker=10))
    assert sheet_of(part).rows[0][8:12] == ("1.0", "0.0", "0.0", "0.0")


def test_a_name_over_lines_is_one_line() -> None:
    """A cell is one line, whatever the list has."""
    long = Task("W4", "Ribs\n and  more\n", "W", NOWHERE)
    assert sheet_of(long).rows[0][3] == "Ribs and more"


def test_only_credit_and_marks_are_numbers() -> None:
    """Text that looks like a formula is guarded in a table; numbers never are."""
    numbers = [heading.name for heading in sheet_of().headings if heading.number]
    assert " ".join(numbers) == "maker paid assembly fabrication marks_maker marks_builder"
