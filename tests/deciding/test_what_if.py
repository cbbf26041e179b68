"""What if a task were hired out: what can be supposed, and what it takes from whom."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.portion import portion
from builderlog.deciding.what_if import (
    CannotSupposeError,
    Supposed,
    parse_supposed,
    suppose,
    tenths_text,
)
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import Credit, Task
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import (
    HOUR,
    Tenths,
    book,
    claimed,
    credits_in_tenths,
    hours,
    rules,
    task_lists,
)

BY_POINTS, BY_MARKS, BY_HOURS = rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5")


@pytest.mark.parametrize(
    ("text", "task", "paid"),
    [
        ("W1=paid:0.5", "W1", 5),
        ("W1=paid:0,5", "W1", 5),
        ("W1=paid:1", "W1", 10),
        ("W1=paid:1.0", "W1", 10),
        ("W1=paid:0", "W1", 0),
        ("  W1 = paid : 0.5  ", "W1", 5),
        ("a=b=paid:0.5", "a=b", 5),
        ("a:b=paid:0.5", "a:b", 5),
        ("a=paid:0.1=paid:0.5", "a=paid:0.1", 5),
        ("27-3 rev C=paid:.5", "27-3 rev C", 5),
        ("Flügel №1=paid:0.5", "Flügel №1", 5),
    ],
)
def test_suppositions_that_are_read(text: str, task: str, paid: int) -> None:
    """A task id may hold any sign, also `=` and `:`; the paid part is tenths, point or comma."""
    assert parse_supposed(text, Measure.POINTS) == Supposed(task, paid)
    assert parse_supposed(text, Measure.MARKS) == Supposed(task, paid)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "'' cannot be read; write TASK=paid:0.5"),
        ("W1", "'W1' cannot be read; write TASK=paid:0.5"),
        ("=paid:0.5", "'=paid:0.5' cannot be read; write TASK=paid:0.5"),
        ("W1=paid:", "'W1=paid:' cannot be read; write TASK=paid:0.5"),
        ("W1=maker:0.5", "'W1=maker:0.5' cannot be read; write TASK=paid:0.5"),
        ("W1:paid=0.5", "'W1:paid=0.5' cannot be read; write TASK=paid:0.5"),
        ("W1=paid:0.55", "'0.55' is not a credit in tenths; write 0 to 1, as in 0.3"),
        ("W1=paid:-0.5", "'-0.5' is not a credit in tenths; write 0 to 1, as in 0.3"),
        ("W1=paid:.", "'.' is not a credit in tenths; write 0 to 1, as in 0.3"),
        ("W1=paid:half", "'half' is not a credit in tenths; write 0 to 1, as in 0.3"),
        ("W1=paid:50 %", "'50 %' is not a credit in tenths; write 0 to 1, as in 0.3"),
        ("W1=paid:1.1", "'1.1' is more than the task's one point; write 0 to 1"),
    ],
)
def test_suppositions_that_are_not(text: str, told: str) -> None:
    """What cannot be read is quoted, with what to write."""
    with pytest.raises(CannotSupposeError, match=f"^{re.escape(told)}$"):
        parse_supposed(text, Measure.POINTS)


def test_hours_are_supposed_as_lengths_of_time() -> None:
    """Where hours are counted the paid part is a length of time in any form that notes know."""
    for text in ("W1=paid:1h30", "W1=paid: 1.5", "W1=paid:1:30", "W1=paid:90m"):
        assert parse_supposed(text, Measure.HOURS) == Supposed("W1", 5400)
    with pytest.raises(CannotSupposeError, match="'all day' is not a length of time"):
        parse_supposed("W1=paid:all day", Measure.HOURS)


def after(tenths: Tenths | None, paid: int, **more: object) -> Task:
    """The one task with its paid part set."""
    task = claimed("W1", tenths, **more)
    return suppose(book(task), BY_POINTS, [Supposed("W1", paid)]).worklist.by_id["W1"]


@pytest.mark.parametrize(
    ("tenths", "paid", "then"),
    [
        ((3, 0, 2, 5), 1, (3, 1, 1, 5)),
        ((3, 0, 2, 5), 2, (3, 2, 0, 5)),
        ((3, 0, 2, 5), 4, (3, 4, 0, 3)),
        ((3, 0, 2, 5), 7, (3, 7, 0, 0)),
        ((3, 0, 2, 1), 4, (3, 4, 0, 0)),  # of 4 one comes from what nobody claims
        ((3, 0, 2, 1), 7, (3, 7, 0, 0)),
        ((3, 2, 2, 3), 4, (3, 4, 0, 3)),  # it has 2 already
        ((3, 5, 1, 1), 2, (3, 2, 1, 1)),  # what it gives back is nobody's
        ((3, 5, 1, 1), 5, (3, 5, 1, 1)),
        (None, 4, (0, 4, 0, 0)),
        ((0, 0, 0, 0), 10, (0, 10, 0, 0)),
    ],
)
def test_what_paid_help_takes(tenths: Tenths | None, paid: int, then: Tenths) -> None:
    """Paid help takes assembly, then fabrication, then what is unclaimed, never the maker's."""
    assert after(tenths, paid).credit == Credit(*then)


@settings(deadline=None)
@given(credits_in_tenths(), st.integers(0, 10))
def test_a_point_stays_a_point(tenths: Tenths, paid: int) -> None:
    """Whatever is supposed, the maker's part stays, paid is what was said, and nobody gains."""
    if paid > 10 - tenths[0]:
        with pytest.raises(CannotSupposeError):
            after(tenths, paid)
        return
    credit = after(tenths, paid).credit
    assert credit is not None
    assert (credit.maker, credit.paid) == (tenths[0], paid)
    assert min(credit.assembly, credit.fabrication, credit.unclaimed) >= 0
    assert credit.assembly <= tenths[2]
    assert credit.fabrication <= tenths[3]


@settings(deadline=None)
@given(task_lists(), st.data(), st.sampled_from((BY_POINTS, BY_MARKS)))
def test_no_supposition_raises_the_share(
    tasks: list[Task], data: st.DataObject, by: Rulebook
) -> None:
    """More paid help on any task never raises the builder's share, in points or marks."""
    open_tasks = [task for task in tasks if task.applies]
    if not open_tasks:
        return
    task = data.draw(st.sampled_from(open_tasks))
    held = task.credit or Credit()
    paid = data.draw(st.integers(held.paid, 10 - held.maker))
    before = book(*tasks)
    then = suppose(before, by, [Supposed(task.id, paid)])
    shares = [portion(each, by).whole.share or 0 for each in (before, then)]
    assert shares[1] <= shares[0]


@pytest.mark.parametrize(
    ("name", "paid", "told"),
    [
        ("W1", 8, "W1 has 0.7 left beside its maker's 0.3; write at most 0.7"),
        ("W1", 10, "W1 has 0.7 left beside its maker's 0.3; write at most 0.7"),
        ("w1", 5, "'w1' is no task of the work list; did you mean 'W1'?"),
        ("engine", 5, "'engine' is no task of the work list; name a task of worklist.yaml"),
        ("T1", 5, "T1 does not apply to this aircraft, so it counts nowhere"),
    ],
)
@pytest.mark.parametrize("by", [BY_POINTS, BY_MARKS])
def test_what_cannot_be_supposed(name: str, paid: int, told: str, by: Rulebook) -> None:
    """More than there is, unknown tasks and ones that do not apply are refused, with advice."""
    tasks = book(claimed("W1", (3, 0, 2, 5)), claimed("T1", applies=False))
    with pytest.raises(CannotSupposeError, match=f"^{re.escape(told)}$"):
        suppose(tasks, by, [Supposed(name, paid)])


def test_a_task_is_supposed_once() -> None:
    """Two suppositions on one task would hide one of them, and are refused."""
    tasks = book(claimed("W1", (3, 0, 2, 5)), claimed("W2", (3, 0, 2, 5)))
    twice = [Supposed("W1", 5), Supposed("W2", 1), Supposed("W1", 1)]
    with pytest.raises(CannotSupposeError, match=r"^W1 is supposed twice; write it once$"):
        suppose(tasks, BY_POINTS, twice)
    both = suppose(tasks, BY_POINTS, twice[:2]).worklist.by_id
    assert [task.credit and task.credit.paid for task in both.values()] == [5, 1]


def test_areas_and_ids_tell_the_same() -> None:
    """After a supposition the task is one and the same in its area and by its id."""
    found = suppose(book(claimed("W1"), claimed("W2")), BY_POINTS, [Supposed("W2", 5)]).worklist
    assert found.areas[0].tasks == tuple(found.by_id.values())
    assert found.by_id["W2"].credit == Credit(paid=5)


@pytest.mark.parametrize(
    ("tenths", "paid", "given_marks", "then"),
    [
        ((3, 0, 2, 5), 6, (2, 5), (2, 5)),  # a tenth is left
        ((3, 0, 2, 5), 7, (2, 5), (2, 0)),
        ((3, 0, 0, 0), 5, (1, 1), (1, 1)),  # the marks stand for what nobody claims
        ((3, 0, 0, 0), 7, (1, 1), (1, 0)),
        (None, 5, (0, 3), (0, 3)),
        (None, 10, (1, 3), (1, 0)),
        (None, 5, (0, 0), (0, 0)),
    ],
)
def test_given_marks_go_with_the_last_of_the_builders(
    tenths: Tenths | None, paid: int, given_marks: tuple[int, int], then: tuple[int, int]
) -> None:
    """Given marks stay while the builder has anything left on the task, and then go."""
    assert after(tenths, paid, marks=given_marks).marks == then


def test_derived_marks_follow_the_credit() -> None:
    """Without given marks the builder's derived one goes when paid help has taken all."""
    tasks = book(claimed("W1", (3, 0, 2, 5), work=Work.FABRICATION))
    columns = [
        portion(suppose(tasks, BY_MARKS, [Supposed("W1", paid)]), BY_MARKS).whole.columns
        for paid in (0, 6, 7)
    ]
    assert [(each.maker, each.paid, each.fabrication) for each in columns] == [
        (1, 0, 1),
        (1, 1, 1),
        (1, 1, 0),
    ]


WORKED = (
    hours(2, "W1", Work.OTHER),
    hours(3, "W1", Work.FABRICATION),
    hours(1, "W1", Work.ASSEMBLY, "Ada"),
    hours(1, "W1", Work.ASSEMBLY, "Ada"),
    hours(1, "W1", Work.ASSEMBLY, "Shop & Co"),
    hours(9, "W2", Work.ASSEMBLY),
    making.worked("2026-04-01", 4 * HOUR, "W1", "Ines", Work.ASSEMBLY),
    making.worked("2026-04-01", 4 * HOUR, "W1", "Shop & Co", Work.ASSEMBLY),
)


def by_hours(paid: int, estimate: int | None = 7, *, done: bool = False) -> Ledger:
    """W1 has 5 hours of the amateurs, 1 paid, and what the estimate leaves."""
    length = Length(estimate * HOUR) if estimate is not None else None
    tasks = (claimed("W1", estimate=length, done=done), claimed("W2"))
    before = book(*tasks, work=WORKED, kit=10, until="2026-03-31")
    return suppose(before, BY_HOURS, [Supposed("W1", paid * HOUR)])


@pytest.mark.parametrize(
    ("paid", "columns", "left"),
    [
        (1, (1, 11, 3, 2), 2),
        (2, (2, 10, 3, 2), 2),
        (3, (3, 9, 3, 2), 2),
        (4, (4, 9, 2, 2), 2),
        (6, (6, 9, 0, 2), 2),
        (7, (7, 9, 0, 2), 1),
        (8, (8, 9, 0, 2), 0),
    ],
)
def test_what_paid_hours_take(paid: int, columns: tuple[int, ...], left: int) -> None:
    """Paid hours take recorded assembly, then fabrication, then what is planned and not done.

    Work of no building kind, and work after the certificate, stays what it was.
    """
    found = portion(by_hours(paid), BY_HOURS)
    held = found.whole.columns
    assert held.maker == 10 * HOUR
    assert (held.paid, held.assembly, held.fabrication, held.unclaimed) == tuple(
        count * HOUR for count in columns
    )
    assert found.open_builder["W1"] == left * HOUR
    assert found.after_certificate == 8 * HOUR


@pytest.mark.parametrize(
    ("paid", "estimate", "done", "told"),
    [
        (9, 7, False, "W1 has 7h on record and planned; write at most 8h"),
        (7, 7, True, "W1 has 5h on record and planned; write at most 6h"),
        (7, None, False, "W1 has 5h on record and planned; write at most 6h"),
        (7, 2, False, "W1 has 5h on record and planned; write at most 6h"),
        (0, 7, False, "W1 has 1h of paid help on record already; write at least that"),
    ],
)
def test_paid_hours_that_cannot_be(
    paid: int,
    estimate: int | None,
    done: bool,  # noqa: FBT001 - a parameter of the test
    told: str,
) -> None:
    """More hours than recorded and planned, or less than paid already, are refused."""
    with pytest.raises(CannotSupposeError, match=f"^{re.escape(told)}$"):
        by_hours(paid, estimate, done=done)


def test_overrun_estimates_stay_spent() -> None:
    """Where more was worked than estimated, hiring hours out opens no new ones to plan."""
    found = portion(by_hours(5, estimate=2), BY_HOURS)
    assert found.open_builder["W1"] == 0
    assert (found.whole.columns.fabrication, found.planned.share) == (HOUR, found.whole.share)


def test_nothing_else_of_the_ledger_changes() -> None:
    """A supposition changes the work list and the work of one task, and nothing else."""
    before = book(claimed("W1", estimate=Length(7 * HOUR)), claimed("W2"), work=WORKED, kit=10)
    then = suppose(before, BY_HOURS, [Supposed("W1", 6 * HOUR)])
    assert replace(then, work=before.work, worklist=before.worklist) == before
    others = [row for row in then.work if row.task != "W1"]
    assert others == [row for row in before.work if row.task != "W1"]


def test_tenths_as_the_form_writes_them() -> None:
    """Tenths are told with one decimal."""
    assert [tenths_text(tenths) for tenths in (0, 3, 10, 64)] == ["0.0", "0.3", "1.0", "6.4"]
