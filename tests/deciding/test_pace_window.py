"""Resampling: same draws each time, runs that stay together, percentiles that are one of them."""

from __future__ import annotations

import random
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.pace_window import (
    MOST_WEEKS,
    RESAMPLES,
    RUN_WEEKS,
    drawn,
    percentile,
    resampled_weeks,
    window_after,
)
from tests.deciding.pace_journals import holiday
from tests.making import day


def test_the_same_record_gives_the_same_window() -> None:
    """The draws are fixed numbers, the same on every machine: these two never change by chance."""
    found = window_after(day("2026-03-29"), 100, (3, 0, 9, 2, 5, 0, 0, 7, 4, 6), ())
    assert found == window_after(day("2026-03-29"), 100, (3, 0, 9, 2, 5, 0, 0, 7, 4, 6), ())
    assert found is not None
    assert found.weeks == (22, 37)


def test_weeks_are_drawn_in_runs_as_they_followed_each_other() -> None:
    """Each run of four is one of the sample's, its first week after its last."""
    sample = tuple(range(10))
    weeks = list(islice(drawn(sample, random.Random(7)), 80))
    runs = [weeks[at : at + RUN_WEEKS] for at in range(0, 80, RUN_WEEKS)]
    assert all(run == [(run[0] + step) % 10 for step in range(RUN_WEEKS)] for run in runs)
    assert len({run[0] for run in runs}) > 5


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(1, 50), min_size=8, max_size=52), st.integers(1, 500))
def test_no_resample_is_faster_or_slower_than_the_weeks_allow(
    sample: list[int], remaining: int
) -> None:
    """Every number of weeks lies between all at the best week's pace and all at the worst's."""
    found = resampled_weeks(remaining, sample)
    assert len(found) == RESAMPLES
    assert -(-remaining // max(sample)) <= found[0]
    assert found[-1] <= min(-(-remaining // min(sample)), MOST_WEEKS + 1)
    assert list(found) == sorted(found)


@pytest.mark.parametrize(("at", "value"), [(1, 1), (10, 1), (11, 2), (50, 5), (90, 9), (100, 10)])
def test_a_percentile_is_the_least_value_that_so_many_do_not_exceed(at: int, value: int) -> None:
    """Of ten values the first is the tenth percentile, the ninth the ninetieth."""
    assert percentile(range(1, 11), at) == value


def test_a_short_record_gives_a_wider_window_than_a_long_one() -> None:
    """Of the same weeks, eight leave the pace less certain than forty-eight."""
    few, many = (
        window_after(day("2026-03-29"), 600, (0, 9, 1, 2, 8, 5, 3, 0) * n, ()) for n in (1, 6)
    )
    assert few is not None
    assert many is not None
    assert few.weeks[1] - few.weeks[0] > many.weeks[1] - many.weeks[0]


@pytest.mark.parametrize(
    ("last", "remaining", "until"),
    [("2026-03-29", 2_000, None), ("9990-03-29", 900, None), ("2026-03-29", 50, "2090-01-01")],
)
def test_beyond_twenty_years_or_the_calendar_there_is_no_window(
    last: str, remaining: int, until: str | None
) -> None:
    """Too slow, a year 9990 by a slip, a holiday without end: no window, and no error."""
    away = [holiday("2026-03-30", until)] if until else []
    assert window_after(day(last), remaining, (1,) * 8, away) is None
