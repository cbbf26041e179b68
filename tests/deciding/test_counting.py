"""The arithmetic of a claim against a brute force in fractions."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.counting import Columns, Count, count
from builderlog.knowing.rulebook import Measure, Side
from tests.deciding.made_claims import ALL_BUT_OURS, HALF_AND_MORE, MAKER_ALONE, met, rules

COLUMNS = st.builds(Columns, *[st.integers(0, 14)] * 5)
KINDS = (ALL_BUT_OURS, MAKER_ALONE, (Side.MAKER, Side.PAID))
AGAINST = st.sampled_from(KINDS)
OURS = (Side.ASSEMBLY, Side.FABRICATION)
LIMITS = st.sampled_from(HALF_AND_MORE)
MEASURES = st.sampled_from(list(Measure))


def meets(builder: int, against: int, limit: str) -> bool:
    """Whether the builder's part of both is enough; of nothing it never is."""
    whole = builder + against
    return whole > 0 and met(limit, Fraction(builder, whole))


def test_columns_add_side_by_side() -> None:
    """Two counts add column by column, and a choice of sides is summed."""
    both = Columns(1, 2, 3, 4, 5) + Columns(10, 20, 30, 40, 50)
    assert both == Columns(11, 22, 33, 44, 55)
    assert both.of((Side.MAKER, Side.UNCLAIMED)) == 66
    assert both.of(()) == 0


@pytest.mark.parametrize("limit", HALF_AND_MORE)
def test_nothing_has_no_share(limit: str) -> None:
    """Where neither side has anything there is no share, and no limit is met."""
    assert count(Columns(), 0, rules(limit=limit)) == Count(0, Columns())
    beside = Columns(paid=3, unclaimed=2)
    assert count(beside, 1, rules(Measure.MARKS, limit)) == Count(1, beside)


def test_more_than_half_is_strict_and_at_least_is_not() -> None:
    """Exactly half misses `more than 0.5` and meets `at least 0.5`."""
    half = Columns(maker=5, assembly=2, fabrication=3)
    assert not count(half, 1, rules(limit="> 0.5")).meets
    assert count(half, 1, rules(limit=">= 0.5")).meets
    assert count(half, 1, rules()).share == Fraction(1, 2)


@settings(deadline=None)
@given(COLUMNS, LIMITS, AGAINST, MEASURES)
def test_headroom_is_the_last_step_that_still_meets(
    columns: Columns, limit: str, against: tuple[Side, ...], measure: Measure
) -> None:
    """Headroom gone to paid help leaves the limit met, and one step more does not."""
    hold_headroom(count(columns, 1, rules(measure, limit, against)), limit, against)


@settings(deadline=None)
@given(COLUMNS, LIMITS, AGAINST, MEASURES)
def test_short_is_the_first_step_that_meets(
    columns: Columns, limit: str, against: tuple[Side, ...], measure: Measure
) -> None:
    """With what is short the limit is met, and with one step less it is not.

    What the builder gains comes out of the whole where unclaimed tasks are part of it, and is
    added to the whole where they are not.
    """
    hold_short(count(columns, 1, rules(measure, limit, against)), limit, against)


@pytest.mark.parametrize("limit", HALF_AND_MORE)
@pytest.mark.parametrize("against", KINDS)
def test_all_small_counts(limit: str, against: tuple[Side, ...]) -> None:
    """Headroom and shortfall are right for every count of up to 8 steps on each side."""
    by = rules(limit=limit, against=against)
    for builder, other in product(range(9), repeat=2):
        found = count(Columns(maker=other, fabrication=builder), 1, by)
        hold_headroom(found, limit, against)
        hold_short(found, limit, against)


def hold_headroom(found: Count, limit: str, against: tuple[Side, ...]) -> None:
    """Against trying every step."""
    builder, other = found.columns.of(OURS), found.columns.of(against)

    def after(steps: int) -> bool:
        return meets(builder - steps, other + (steps if Side.PAID in against else 0), limit)

    assert found.meets == after(0)
    possible = [steps for steps in range(builder + 1) if after(steps)]
    assert possible == [*range(len(possible))]
    assert found.headroom == max(possible, default=0)


def hold_short(found: Count, limit: str, against: tuple[Side, ...]) -> None:
    """Against the step itself and the one before it."""
    builder, other = found.columns.of(OURS), found.columns.of(against)

    def after(steps: int) -> bool:
        gone = steps if Side.UNCLAIMED in against else 0
        return meets(builder + steps, other - gone, limit)

    if found.meets or found.share is None:
        assert found.short == 0
        return
    assert after(found.short)
    assert not after(found.short - 1)


@settings(deadline=None)
@given(COLUMNS, LIMITS, AGAINST, st.sampled_from(("assembly", "fabrication")))
def test_a_step_to_paid_help_never_raises_the_share(
    columns: Columns, limit: str, against: tuple[Side, ...], column: str
) -> None:
    """Whatever counts against the builder, the share does not rise when a step goes to paid."""
    step = Columns(paid=1, assembly=-(column == "assembly"), fabrication=-(column == "fabrication"))
    if getattr(columns, column) == 0:
        return
    by = rules(limit=limit, against=against)
    before, after = count(columns, 1, by), count(columns + step, 1, by)
    assert (after.share or 0) <= (before.share or 0)
    assert before.meets or not after.meets


@settings(deadline=None)
@given(COLUMNS, AGAINST)
def test_what_is_unclaimed_never_helps(columns: Columns, against: tuple[Side, ...]) -> None:
    """A share with more unclaimed is not greater than one with less."""
    by = rules(against=against)
    more = count(columns + Columns(unclaimed=1), 1, by)
    assert (more.share or 0) <= (count(columns, 1, by).share or 0)


def test_hours_that_are_missing_are_new_hours() -> None:
    """With 100 hours against the maker's 600 the builder has to work 500 more, not to take 250."""
    seconds = Columns(maker=600 * 3600, assembly=100 * 3600)
    assert count(seconds, 1, rules(Measure.HOURS, ">= 0.5")).short == 500 * 3600


def test_points_that_are_missing_come_out_of_the_whole() -> None:
    """Of 2 points with 0.4 the builder's, 0.7 more are needed to have more than half."""
    found = count(Columns(maker=6, assembly=4, unclaimed=10), 2, rules())
    assert found.short == 7
