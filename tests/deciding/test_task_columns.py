"""One task's columns: tenths as claimed, marks as given or derived."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from builderlog.deciding.counting import Columns
from builderlog.deciding.task_columns import Marks, columns_of, kind_of, marks_of
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure, Side
from builderlog.knowing.settings import Task
from tests.deciding.made_claims import Tenths, claimed, credits_in_tenths

MARKS, POINTS = Measure.MARKS, Measure.POINTS


@pytest.mark.parametrize(
    ("tenths", "columns"),
    [
        (None, Columns(unclaimed=10)),
        ((0, 0, 0, 0), Columns(unclaimed=10)),
        ((3, 1, 2, 0), Columns(3, 1, 2, 0, 4)),
        ((3, 0, 2, 5), Columns(3, 0, 2, 5, 0)),
    ],
)
def test_a_point_is_whole(tenths: Tenths | None, columns: Columns) -> None:
    """What is missing to one point stands as unclaimed, also where nothing is claimed."""
    assert columns_of(claimed("W1", tenths), POINTS) == columns


@settings(deadline=None)
@given(credits_in_tenths())
def test_every_task_brings_one_point(tenths: Tenths) -> None:
    """The columns of a task that applies add to ten tenths, whatever is claimed."""
    columns = columns_of(claimed("W1", tenths), POINTS)
    assert columns.of(tuple(Side)) == 10


@pytest.mark.parametrize("measure", list(Measure))
def test_what_does_not_apply_brings_nothing(measure: Measure) -> None:
    """A task that does not apply enters no column, whatever credit and marks it carries."""
    task = claimed("W1", (3, 0, 2, 5), applies=False, marks=(2, 5))
    assert columns_of(task, measure) == Columns()


@pytest.mark.parametrize(
    ("tenths", "marks"),
    [
        (None, Marks(0, 0, derived=False)),
        ((0, 0, 0, 0), Marks(0, 0, derived=True)),
        ((9, 0, 1, 0), Marks(1, 1, derived=True)),
        ((0, 0, 0, 1), Marks(0, 1, derived=True)),
        ((10, 0, 0, 0), Marks(1, 0, derived=True)),
        ((0, 10, 0, 0), Marks(0, 0, derived=True)),
        ((5, 5, 0, 0), Marks(1, 0, derived=True)),
    ],
)
def test_marks_follow_from_the_credit(tenths: Tenths | None, marks: Marks) -> None:
    """Each side with any credit has one mark; paid help marks for neither side."""
    assert marks_of(claimed("W1", tenths)) == marks


@pytest.mark.parametrize("given_marks", [(0, 0), (1, 0), (2, 5)])
def test_given_marks_stand(given_marks: tuple[int, int]) -> None:
    """Marks that the builder gave stand as given, against what the credit says."""
    found = marks_of(claimed("W1", (5, 0, 0, 5), marks=given_marks))
    assert found == Marks(*given_marks, derived=False)


@pytest.mark.parametrize(
    ("task", "columns"),
    [
        (claimed("W1", (5, 0, 2, 3)), Columns(maker=1, fabrication=1)),
        (claimed("W1", (5, 0, 2, 3), work=Work.ASSEMBLY), Columns(maker=1, assembly=1)),
        (claimed("W1", (5, 0, 3, 2)), Columns(maker=1, assembly=1)),
        (claimed("W1", (5, 3, 2, 0)), Columns(maker=1, paid=1, assembly=1)),
        (claimed("W1", (0, 10, 0, 0)), Columns(paid=1)),
        (claimed("W1", None), Columns(unclaimed=1)),
        (claimed("W1", (5, 0, 2, 3), marks=(0, 0)), Columns(unclaimed=1)),
        (claimed("W1", None, marks=(2, 5)), Columns(maker=2, assembly=5)),
    ],
)
def test_marks_stand_in_columns(task: Task, columns: Columns) -> None:
    """The builder's marks stand in the column of the task's kind; a row without any is nobody's."""
    assert columns_of(task, MARKS) == columns


def test_the_kind_of_a_task() -> None:
    """The stated kind comes before the one of which more credit is claimed."""
    assert kind_of(claimed("W1", (0, 0, 1, 2))) is Work.FABRICATION
    assert kind_of(claimed("W1", (0, 0, 1, 2), work=Work.ASSEMBLY)) is Work.ASSEMBLY
    assert kind_of(claimed("W1", (0, 0, 2, 2))) is Work.ASSEMBLY
    assert kind_of(claimed("W1")) is Work.ASSEMBLY


def test_hours_stand_in_no_work_list() -> None:
    """Where hours are counted a task brings nothing by itself."""
    assert columns_of(claimed("W1", (3, 0, 2, 5)), Measure.HOURS) == Columns()
