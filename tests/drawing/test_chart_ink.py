"""Holds the steel rule: whole numbers, few of them, and never shorter than what it measures."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.drawing.chart_ink import MOST_MARKS, Field, scale_of


@given(st.integers(0, 10**9), st.sampled_from([1, 3600]))
@settings(max_examples=40)
def test_a_rule_is_long_enough_and_has_few_numbers(longest: int, unit: int) -> None:
    """Its top is at least the longest value, and no more than six numbers stand on it."""
    scale = scale_of(longest, unit)
    assert scale.top >= longest
    assert scale.top - scale.step < max(1, longest)
    assert scale.top // scale.step <= MOST_MARKS


def test_numbers_of_a_rule_are_whole_units() -> None:
    """A rule for 41 hours counts 10, 20 and so on to 50."""
    scale = scale_of(41 * 3600, 3600)
    marks = [scale.words(value) for value in range(0, scale.top + 1, scale.step)]
    assert marks == ["0", "10", "20", "30", "40", "50"]


def test_values_stand_between_top_and_base() -> None:
    """Nothing is at the base, the rule's top at the top, half in the middle."""
    field = Field(20, 100, scale_of(50, 1))
    assert [field.y(0), field.y(25), field.y(50)] == [120, 70, 20]
