"""The major portion of a journal on small cases that were reckoned by hand."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.counting import Columns, Count
from builderlog.deciding.portion import Portion, amateur_seconds, build_work, portion
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import Credit, Role, Task
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import HOUR, book, claimed, hours, reckoned, rules, task_lists

MARKS, HOURS = Measure.MARKS, Measure.HOURS
BY_MARKS, BY_HOURS = rules(MARKS), rules(HOURS, ">= 0.5")
BY = st.sampled_from((rules(), rules(limit=">= 0.51"), BY_MARKS, BY_HOURS))

W1 = claimed("W1", (3, 0, 2, 5), done=True)  # worked on
W2 = claimed("W2", (4, 1, 5, 0), done=True)  # no work on record
T1 = claimed("T1", (0, 0, 4, 2))  # paid work alone on record
T2 = claimed("T2")
T3 = claimed("T3", (0, 0, 10, 0), applies=False)
T4 = claimed("T4", (5, 2, 0, 3))  # a helper's work on record
BY_HAND = book(
    *(W1, W2, T1, T2, T3, T4),
    work=[
        hours(2, "W1", Work.FABRICATION),
        hours(1, "T1", Work.ASSEMBLY, "Shop & Co"),
        hours(1, "T4", Work.FABRICATION, "Ada"),
        hours(9, "T3", Work.ASSEMBLY),
        hours(3, None, Work.OTHER),
    ],
)


def in_hours(**columns: int) -> Columns:
    """Columns from whole hours."""
    return Columns(**{side: count * HOUR for side, count in columns.items()})


def test_points_by_hand() -> None:
    """Six tasks of two areas give the columns, shares and areas that were added up by hand."""
    found = portion(BY_HAND, rules())
    assert found.whole == Count(5, Columns(12, 3, 11, 10, 14), Fraction(21, 50), short=5)
    done = Columns(7, 1, 7, 5, 0)
    assert found.done == Count(2, done, Fraction(12, 20), meets=True, headroom=1)
    assert found.planned == Count(5, Columns(12, 3, 6, 10, 19), Fraction(16, 50), short=10)
    assert found.recorded == 7 + 3
    assert found.open_builder == {"T1": 6, "T2": 0, "T4": 3}
    assert [(each.area.id, each.count.tasks, each.open_builder) for each in found.areas] == [
        ("W", 2, 0),
        ("T", 3, 9),
    ]
    assert found.areas[0].count == found.done
    assert found.areas[1].count.columns == Columns(5, 2, 4, 5, 14)


def test_open_headroom_is_what_can_still_be_hired() -> None:
    """Of a headroom of 0.8 points only the 0.4 that lie in open tasks can still be hired out."""
    done = [claimed(f"W{number}", (0, 0, 10, 0), done=True) for number in range(2)]
    found = reckoned(*done, claimed("T1", (6, 0, 4, 0)))
    assert (found.whole.headroom, found.open_headroom) == (8, 4)
    found = reckoned(*done, claimed("T1", (6, 0, 4, 0)), claimed("T2", (5, 5, 0, 0)))
    assert (found.whole.headroom, found.open_headroom) == (3, 3)


def test_a_row_that_does_not_apply_leaves_the_denominator() -> None:
    """With N/A rows among them the count is the one without those rows."""
    rows = (W1, T1, T4)
    beside = (T3, claimed("T9", None, applies=False), claimed("X1", (10, 0, 0, 0), applies=False))
    with_them, without = reckoned(*rows, *beside), reckoned(*rows)
    assert with_them.whole == without.whole
    assert [each.area.id for each in with_them.areas] == ["W", "T"]


def test_an_added_row_enters_both_sides() -> None:
    """One more task raises the number of tasks, the builder's column and what it is a share of."""
    before = reckoned(W1, T1)
    after = reckoned(W1, T1, claimed("T8", (0, 0, 0, 10)))
    assert (before.whole.share, after.whole.share) == (Fraction(13, 20), Fraction(23, 30))
    assert after.whole.tasks == before.whole.tasks + 1


def test_unclaimed_never_counts() -> None:
    """A credit of 0.6 alone is 60 %, not all; a task without credit halves it."""
    assert reckoned(claimed("W1", (0, 0, 6, 0))).whole.share == Fraction(6, 10)
    assert reckoned(claimed("W1", (0, 0, 6, 0)), claimed("W2")).whole.share == Fraction(6, 20)


@pytest.mark.parametrize("tenths", [None, (0, 0, 0, 0)])
def test_nothing_claimed_is_a_share_of_nothing(tenths: tuple[int, int, int, int] | None) -> None:
    """Tasks of which nothing is claimed have the share 0 in points, and none at all in marks."""
    found = reckoned(claimed("W1", tenths), claimed("W2", tenths))
    assert found.whole == Count(2, Columns(unclaimed=20), Fraction(0), short=11)
    by_marks = reckoned(claimed("W1", tenths), by=BY_MARKS).whole
    assert by_marks == Count(1, Columns(unclaimed=1))


@pytest.mark.parametrize("by", [rules(), BY_MARKS, BY_HOURS])
def test_a_journal_without_a_work_list(by: Rulebook) -> None:
    """Without tasks, or with none that applies, there is no share, and nothing is met."""
    for found in (reckoned(by=by), reckoned(T3, claimed("X1", applies=False), by=by)):
        assert (found.whole.tasks, found.whole.share, found.whole.meets) == (0, None, False)
        assert (found.areas, found.open_builder, found.derived) == ((), {}, ())
        assert found.planned.share is None
        assert found.done.share is None


def test_marks_by_hand() -> None:
    """Rows marked on both sides count on both; the derived ones are named."""
    tasks = (
        claimed("W1", (5, 0, 0, 5)),
        claimed("W2", (5, 0, 0, 5), marks=(1, 0), done=True),
        claimed("W3", (0, 5, 5, 0)),
        claimed("T1", None, marks=(2, 5)),
        claimed("T2", (0, 10, 0, 0)),
        claimed("T3", None),
        claimed("T4", (1, 0, 9, 0), applies=False),
    )
    found = reckoned(*tasks, by=BY_MARKS)
    assert found.whole.columns == Columns(maker=4, paid=2, assembly=6, fabrication=1, unclaimed=1)
    assert (found.whole.share, found.whole.tasks) == (Fraction(7, 11), 6)
    assert found.whole.headroom == 2
    assert found.derived == ("W1", "W3", "T2")
    assert found.open_builder == {"W1": 1, "W3": 1, "T1": 5, "T2": 0, "T3": 0}


def test_points_name_no_marks() -> None:
    """Where points are counted, no marks are told as derived."""
    assert portion(BY_HAND, rules()).derived == ()


WORKED = (
    hours(3, "W1", Work.FABRICATION),
    hours(2, "W1", Work.ASSEMBLY, "Ada"),
    hours(1, "W1", Work.OTHER),
    hours(4, None, Work.OTHER, "Tomas"),
    hours(5, "W1", Work.ASSEMBLY, "Shop & Co"),
    hours(6, "T3", Work.ASSEMBLY),
    making.worked("2026-03-31", HOUR, "W1", "Ines", Work.ASSEMBLY),
    making.worked("2026-04-01", 7 * HOUR, "W1", "Ines", Work.ASSEMBLY),
    making.worked("2026-04-01", 8 * HOUR, "W1", "Shop & Co", Work.ASSEMBLY),
)


def book_of_hours(kit: int | None = 10, done: bool = False) -> Ledger:  # noqa: FBT001, FBT002
    """One task that applies, its estimate 20 hours, and the certificate of 31 March."""
    task = claimed("W1", (5, 0, 5, 0), done=done, estimate=Length(20 * HOUR))
    return book(task, T3, work=WORKED, kit=kit, until="2026-03-31")


def test_hours_by_hand() -> None:
    """Fabrication and assembly of amateurs count; paid time on no side; the rest is shown.

    Other work, time given to no task and time on a task that does not apply are unclaimed; the
    day of the certificate is build time, the day after is not.
    """
    found = portion(book_of_hours(), BY_HOURS)
    columns = in_hours(maker=10, paid=5, assembly=3, fabrication=3, unclaimed=11)
    assert found.whole.columns == columns
    assert (found.whole.share, found.whole.meets) == (Fraction(6, 16), False)
    assert found.whole.short == 4 * HOUR
    assert found.recorded == 6 * HOUR
    assert found.after_certificate == 15 * HOUR
    assert found.areas[0].count == Count(1, replace(columns, maker=0, unclaimed=HOUR))


def test_hours_as_planned() -> None:
    """An open task's estimate, less what amateurs did of it, is added; a done task's is not."""
    found = portion(book_of_hours(), BY_HOURS)
    assert found.open_builder == {"W1": 14 * HOUR}
    assert found.planned.share == Fraction(20, 30)
    finished = portion(book_of_hours(done=True), BY_HOURS)
    assert finished.open_builder == {}
    assert finished.planned == finished.whole


def test_hours_of_builders_alone() -> None:
    """Where helpers are no amateurs to the rulebook, their hours are shown and count nowhere."""
    by = replace(BY_HOURS, amateurs=(Role.BUILDER,))
    found = portion(book_of_hours(), by)
    assert found.whole.columns == in_hours(
        maker=10, paid=5, assembly=1, fabrication=3, unclaimed=13
    )
    assert found.whole.share == Fraction(4, 14)


def test_hours_without_the_makers() -> None:
    """Without declared hours of the maker there are columns but no share, met or planned."""
    found = portion(book_of_hours(kit=None), BY_HOURS)
    assert found.whole.columns.maker == 0
    assert found.whole.columns.fabrication == 3 * HOUR
    for each in (found.whole, found.planned):
        assert (each.share, each.meets, each.headroom, each.short) == (None, False, 0, 0)


def test_hours_against_a_kit_of_none() -> None:
    """With declared hours of 0, as for plans alone, all is the builder's and none may all go."""
    found = portion(book_of_hours(kit=0), BY_HOURS).whole
    assert (found.share, found.headroom) == (Fraction(1), 6 * HOUR - 1)


def test_hours_without_a_work_list() -> None:
    """Where task ids are free text the hours count by the kind that the notes give them."""
    work = [hours(3, "loose", Work.FABRICATION), hours(2, "other", Work.OTHER)]
    found = portion(book(work=work, kit=1), BY_HOURS).whole
    assert (found.tasks, found.share) == (0, Fraction(3, 4))
    assert found.columns == in_hours(maker=1, fabrication=3, unclaimed=2)


def test_more_hours_than_estimated() -> None:
    """Where more was worked than estimated nothing is left to do, and nothing is taken back."""
    task = claimed("W1", estimate=Length(2 * HOUR))
    found = portion(book(task, work=[hours(5, "W1", Work.ASSEMBLY)], kit=5), BY_HOURS)
    assert found.open_builder == {"W1": 0}
    assert found.planned.share == Fraction(1, 2)


def test_work_after_the_certificate_proves_nothing() -> None:
    """A task whose only work came after the certificate has no work on record in the claim."""
    late = making.worked("2026-04-01", HOUR, "W1", "Ines", Work.ASSEMBLY)
    found = portion(book(W1, work=[late], until="2026-03-31"), rules())
    assert (found.recorded, found.planned.share) == (0, Fraction(0))
    assert found.after_certificate == HOUR


def test_the_work_that_is_build_time() -> None:
    """Build work ends with the certificate's day, and amateurs' seconds leave out paid ones."""
    rows = build_work(book_of_hours())
    assert rows == WORKED[:-2]
    assert amateur_seconds(rows, BY_HOURS) == {"W1": 7 * HOUR, "T3": 6 * HOUR}
    assert build_work(book(work=WORKED)) == WORKED


@settings(deadline=None)
@given(task_lists(), BY, st.randoms(use_true_random=False))
def test_order_changes_nothing(tasks: list[Task], by: Rulebook, chance: random.Random) -> None:
    """The tasks in any order, and the areas in any order, give the same count."""
    work = [hours(1 + index, task.id, Work.ASSEMBLY) for index, task in enumerate(tasks[::2])]
    mixed, shuffled = chance.sample(tasks, len(tasks)), chance.sample(work, len(work))
    one, other = (
        portion(book(*tasks, work=work, kit=5), by),
        portion(book(*mixed, work=shuffled, kit=5), by),
    )
    assert told(one) == told(other)


def told(found: Portion) -> tuple[object, ...]:
    """A portion without its order."""
    areas = {each.area.id: (each.count, each.open_builder) for each in found.areas}
    counts = (found.whole, found.done, found.planned, found.recorded, found.open_headroom)
    return counts, areas, found.open_builder, set(found.derived), found.after_certificate


@settings(deadline=None)
@given(task_lists(), st.sampled_from((rules(), BY_MARKS)))
def test_areas_add_to_the_whole(tasks: list[Task], by: Rulebook) -> None:
    """The areas' columns, tasks and open credit add to those of the whole."""
    found = reckoned(*tasks, by=by)
    columns = Columns()
    for each in found.areas:
        columns += each.count.columns
    assert columns == found.whole.columns
    assert sum(each.count.tasks for each in found.areas) == found.whole.tasks
    assert sum(each.open_builder for each in found.areas) == sum(found.open_builder.values())


@settings(deadline=None)
@given(task_lists(), st.sampled_from((rules(), BY_MARKS)))
def test_a_tenth_to_paid_help_never_raises_the_share(tasks: list[Task], by: Rulebook) -> None:
    """A tenth that moves from the builder's columns of one task to paid help never helps."""
    before = reckoned(*tasks, by=by).whole.share or Fraction(0)
    for place, task in enumerate(tasks):
        held = task.credit
        if held is None or not held.builder:
            continue
        own = (held.assembly - 1, held.fabrication) if held.assembly else (0, held.fabrication - 1)
        moved = replace(task, credit=Credit(held.maker, held.paid + 1, *own))
        after = reckoned(*tasks[:place], moved, *tasks[place + 1 :], by=by)
        assert (after.whole.share or Fraction(0)) <= before


def test_a_thousand_tasks() -> None:
    """A thousand tasks in 26 areas are counted task by task, none twice and none left out."""
    tasks = [claimed(f"{chr(65 + n % 26)}{n}", (4, 0, n % 7, 0)) for n in range(1000)]
    found = reckoned(*tasks)
    builder = sum(n % 7 for n in range(1000))
    assert found.whole.columns == Columns(4000, 0, builder, 0, 6000 - builder)
    assert (len(found.areas), found.whole.tasks) == (26, 1000)
