"""worklist.yaml as areas and tasks; its mistakes stand in tests/cases/journals.txt."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.entries import Work
from builderlog.knowing.settings import Credit, Worklist
from builderlog.knowing.units import UnreadableError
from builderlog.knowing.worklist_words import parse_tenths
from tests.knowing.journals import ledger_of

WHOLE = """\
areas:
  - area: W
    name: Wings
    tasks:
      - task: W14
        name: Fit skins
        work: fabrication
        estimate: 14h
        state: open
        credit: {maker: 0.3, paid: 0, assembly: 0.2, fabrication: 0.5}
      - {task: 010, applies: no, state: done, marks: [1, 0]}
      - No
  - area: F
"""


def worklist_of(root: Path, text: str) -> Worklist:
    """The work list of a journal."""
    return ledger_of(root, {"worklist.yaml": text}).worklist


def test_every_word_of_a_task_is_read(tmp_path: Path) -> None:
    """All keys of the contract become areas and tasks, ids as written."""
    worklist = worklist_of(tmp_path, WHOLE)
    assert [(area.id, area.name, [task.id for task in area.tasks]) for area in worklist.areas] == [
        ("W", "Wings", ["W14", "010", "No"]),
        ("F", "F", []),
    ]
    first, second, third = worklist.by_id.values()
    assert (first.name, first.work, first.area) == ("Fit skins", Work.FABRICATION, "W")
    assert (first.credit, first.estimate and first.estimate.seconds) == (
        Credit(3, 0, 2, 5),
        14 * 3600,
    )
    assert (second.applies, second.done, second.marks, second.name) == (False, True, (1, 0), "010")
    assert (third.applies, third.done, third.credit, third.marks) == (True, False, None, None)


@pytest.mark.parametrize("text", ["", "# nothing yet\n"])
def test_an_empty_work_list_is_none(tmp_path: Path, text: str) -> None:
    """A file that says nothing leaves task ids free."""
    assert not worklist_of(tmp_path, text).written


def test_of_two_tasks_of_one_id_the_first_counts(tmp_path: Path) -> None:
    """A repeated id is told, and the first of its tasks is the one that counts."""
    text = "areas:\n  - {area: W, tasks: [{task: W1, name: first}, {task: W1, name: second}]}\n"
    worklist = worklist_of(tmp_path, text)
    assert [task.name for task in worklist.areas[0].tasks] == ["first"]
    assert worklist.by_id["W1"].name == "first"


@pytest.mark.parametrize(
    ("credit", "codes"),
    [
        ("{maker: 1}", []),
        ("{maker: 0.5, fabrication: 0.5}", []),
        ("{maker: 0,4}", ["comma-cuts-value"]),
        ("{maker: 0.5, paid: 0.6}", ["credit-above-1"]),
        ("{maker: 0.3, paid: 0.3, assembly: 0.3, fabrication: 0.2}", ["credit-above-1"]),
        ("{}", []),
    ],
)
def test_credit_is_at_most_one_point(tmp_path: Path, credit: str, codes: list[str]) -> None:
    """Credit up to one point is taken; more is told and nothing of it counts."""
    text = f"areas:\n  - {{area: W, tasks: [{{task: W1, credit: {credit}}}]}}\n"
    ledger = ledger_of(tmp_path, {"worklist.yaml": text})
    assert [each.code for each in ledger.problems] == codes
    assert (ledger.worklist.by_id["W1"].credit is None) is ("credit-above-1" in codes)


@given(st.integers(0, 10))
def test_every_tenth_is_read(tenths: int) -> None:
    """All eleven tenths are read with a point, a comma and a zero behind."""
    text = f"{tenths // 10}.{tenths % 10}"
    assert parse_tenths(text) == tenths
    assert parse_tenths(text.replace(".", ",")) == tenths
    assert parse_tenths(f"{text}0") == tenths
    with pytest.raises(UnreadableError):
        parse_tenths(f"{text}5")
