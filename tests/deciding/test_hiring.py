"""How much can still be hired out, against trying it step by step."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.hiring import Hiring, hiring, tasks_named
from builderlog.deciding.portion import Portion, portion
from builderlog.deciding.what_if import CannotSupposeError, Supposed, suppose
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Credit, Task
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import (
    HALF_AND_MORE,
    HOUR,
    book,
    claimed,
    credits_in_tenths,
    rules,
    task_lists,
)

W1 = claimed("W1", (3, 0, 2, 5))
W2 = claimed("W2", (0, 0, 8, 0), done=True)
W3 = claimed("W3", applies=False)
T1 = claimed("T1", (2, 1, 4, 1))
X1 = claimed("X1", applies=False)


def asked(before: Ledger, by: Rulebook, *names: str) -> Hiring:
    """What of these can be hired out."""
    return hiring(tasks_named(before.worklist, names), portion(before, by))


@pytest.mark.parametrize(
    ("names", "found"),
    [
        (["W"], ["W1", "W2"]),
        (["T1", "W1"], ["T1", "W1"]),
        (["W1", "W"], ["W1", "W2"]),
        (["T", "T1", "T"], ["T1"]),
        ([], []),
    ],
)
def test_tasks_are_named_by_id_or_area(names: list[str], found: list[str]) -> None:
    """A name is a task or an area, whose tasks that apply it stands for; each counts once."""
    worklist = book(W1, W2, W3, T1, X1).worklist
    assert [task.id for task in tasks_named(worklist, names)] == found


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("w1", "'w1' is no task and no area of the work list; did you mean 'W1'?"),
        ("", "'' is no task and no area of the work list; name one of worklist.yaml"),
        ("W3", "nothing of W3 applies to this aircraft"),
        ("X", "nothing of X applies to this aircraft"),
    ],
)
def test_names_that_stand_for_nothing(name: str, told: str) -> None:
    """An unknown name, and one of which nothing applies, is refused with advice."""
    with pytest.raises(CannotSupposeError, match=f"^{re.escape(told)}$"):
        tasks_named(book(W1, W2, W3, T1, X1).worklist, ["W1", name])


def test_hiring_by_hand() -> None:
    """Of two open tasks the builder claims 1.2; 1.4 points are the headroom of 20 in 30 tenths."""
    found = asked(book(W1, W2, T1), rules(), "W", "T")
    assert [task.id for task in found.open] == ["W1", "T1"]
    assert (found.builder, found.unclaimed, found.most) == (12, 2, 4)
    assert (found.before.columns.assembly, found.after.columns.assembly) == (14, 10)
    assert (found.after.columns.paid, found.after.meets, found.after.headroom) == (5, True, 0)


def test_hiring_where_the_limit_is_not_met() -> None:
    """Where the share does not reach the limit nothing can be hired out."""
    found = asked(book(claimed("W1", (9, 0, 1, 0)), claimed("T1")), rules(), "W1")
    assert (found.builder, found.most, found.after) == (1, 0, found.before)


def test_only_the_columns_that_count_are_hired_out() -> None:
    """Where fabrication alone counts for the builder, it is fabrication that goes to paid help."""
    by = replace(rules(), builder=(Side.FABRICATION,))
    found = asked(book(claimed("W1", (2, 0, 2, 6))), by, "W1")
    assert (found.builder, found.most) == (6, 1)
    assert (found.after.columns.assembly, found.after.columns.fabrication) == (2, 5)
    assert (found.after.meets, found.after.headroom) == (True, 0)


def meets(found: Portion) -> bool:
    """Whether the limit is met, as planned where hours are counted."""
    return (found.planned if found.rulebook.measure is Measure.HOURS else found.whole).meets


@settings(deadline=None)
@given(task_lists(6), st.sampled_from(HALF_AND_MORE))
def test_most_of_points_is_exactly_right(tasks: list[Task], limit: str) -> None:
    """Supposing tenth after tenth on the open tasks loses the limit just behind `most`."""
    by, names = rules(limit=limit), [task.area for task in tasks if task.applies]
    found = asked(book(*tasks), by, *names)
    tried = [meets(portion(each, by)) for each in tenth_by_tenth(book(*tasks), by)]
    assert found.builder == len(tried) - 1
    assert found.most == (max(step for step, met in enumerate(tried) if met) if tried[0] else 0)
    assert tried == sorted(tried, reverse=True)


def tenth_by_tenth(before: Ledger, by: Rulebook) -> Iterator[Ledger]:
    """The ledger with 0, 1, 2, … tenths more on the open tasks gone from builder to paid help."""
    yield before
    for task in before.worklist.by_id.values():
        credit = task.credit or Credit()
        if task.applies and not task.done:
            for more in range(1, credit.builder + 1):
                yield suppose(before, by, [Supposed(task.id, credit.paid + more)])
            if credit.builder:
                before = suppose(before, by, [Supposed(task.id, credit.paid + credit.builder)])


@settings(deadline=None)
@given(st.lists(credits_in_tenths(), max_size=6), st.sampled_from(HALF_AND_MORE))
def test_most_of_marks_is_exactly_right(held: list[tuple[int, int, int, int]], limit: str) -> None:
    """Supposing task after task as hired out whole loses the limit just behind `most`."""
    by = rules(Measure.MARKS, limit)
    tasks = [claimed(f"W{number}", tenths) for number, tenths in enumerate(held)]
    now = book(*tasks)
    found = asked(now, by, *(["W"] if tasks else []))
    tried = [meets(portion(now, by))]
    for task in tasks:
        if task.credit and task.credit.builder:
            now = suppose(now, by, [Supposed(task.id, 10 - task.credit.maker)])
            tried.append(meets(portion(now, by)))
    assert found.builder == len(tried) - 1
    assert found.most == (max(step for step, met in enumerate(tried) if met) if tried[0] else 0)


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12), st.booleans()), max_size=3),
    st.tuples(st.integers(0, 20), st.integers(0, 20)),
    st.sampled_from(HALF_AND_MORE),
)
def test_most_of_hours_is_exactly_right(
    planned: list[tuple[int, int, bool]], beside: tuple[int, int], limit: str
) -> None:
    """Second after second that is planned gone to paid help loses the limit just behind `most`."""
    by = rules(Measure.HOURS, limit)
    tasks, work = few_seconds(planned)
    kit, elsewhere = beside
    now = with_kit(book(*tasks, work=[*work, made_work("elsewhere", elsewhere)]), kit)
    found = asked(now, by, *(["W"] if tasks else []))
    tried = [meets(portion(each, by)) for each in second_by_second(now, by)]
    assert found.builder == len(tried) - 1
    assert found.most == (max(step for step, met in enumerate(tried) if met) if tried[0] else 0)


def few_seconds(planned: list[tuple[int, int, bool]]) -> tuple[list[Task], list[Worked]]:
    """Tasks with an estimate, and work done of them, of a few seconds each."""
    tasks = [
        claimed(f"W{number}", estimate=Length(estimate), done=done)
        for number, (estimate, _, done) in enumerate(planned)
    ]
    return tasks, [made_work(f"W{number}", done) for number, (_, done, _) in enumerate(planned)]


def made_work(name: str, seconds: int) -> Worked:
    """Seconds of assembly on a task."""
    return making.worked("2026-03-14", seconds, name, kind=Work.ASSEMBLY)


def with_kit(now: Ledger, seconds: int) -> Ledger:
    """The same with the maker's declared time in seconds."""
    return replace(now, settings=replace(now.settings, kit_hours=Length(seconds)))


def second_by_second(now: Ledger, by: Rulebook) -> Iterator[Ledger]:
    """0, 1, 2, … seconds of what is planned and not done gone to paid help."""
    yield now
    left = portion(now, by).open_builder
    for task in now.worklist.by_id.values():
        for _ in range(left.get(task.id, 0)):
            held = now.worklist.by_id[task.id]
            assert held.estimate is not None
            shorter = replace(held, estimate=Length(held.estimate.seconds - 1))
            tasks = [
                shorter if each.id == task.id else each for each in now.worklist.areas[0].tasks
            ]
            now = replace(now, worklist=making.worklist(*tasks))
            yield now


def test_hours_to_hire_are_those_that_are_planned() -> None:
    """Where hours are counted, what is left of the estimates can be hired out, no more."""
    task = claimed("W1", estimate=Length(10 * HOUR))
    work = [making.worked("2026-03-14", 4 * HOUR, "W1", kind=Work.ASSEMBLY)]
    found = asked(book(task, work=work, kit=8), rules(Measure.HOURS, ">= 0.5"), "W1")
    assert (found.builder, found.most, found.unclaimed) == (6 * HOUR, 2 * HOUR, 0)
    assert found.before.columns.assembly == 10 * HOUR
    assert found.after.columns.assembly == found.after.columns.maker == 8 * HOUR
