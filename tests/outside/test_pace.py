"""The window of finishing dates against numpy: the same resamples, summed and ranked by it.

numpy's `inverted_cdf` is the percentile that is one of the values (Hyndman and Fan, 1996, type 1).
"""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.pace import pace
from builderlog.deciding.pace_window import (
    MOST_WEEKS,
    RESAMPLES,
    RUN_WEEKS,
    SEED,
    percentile,
    resampled_weeks,
    window_after,
)
from tests.deciding.pace_journals import estimated, journal, week_by_week
from tests.examples import many
from tests.making import day

SAMPLE = (7, 0, 0, 12, 3, 9, 0, 5, 5, 14, 2, 0, 8, 6, 0, 0, 0, 11, 4, 7, 9, 3, 10)
REMAINING = 300


def by_numpy(remaining: int, sample: tuple[int, ...]) -> np.ndarray:
    """The resamples made anew: indices in runs, running sums, the first week that reaches all."""
    numbers = random.Random(SEED)
    found = []
    for _ in range(RESAMPLES):
        record = np.asarray(sample)[_indices(numbers, len(sample), len(sample))]
        ahead, sums = record[:0], record[:0]
        while not sums.size or (sums[-1] < remaining and sums.size < MOST_WEEKS):
            ahead = np.append(ahead, record[_indices(numbers, len(sample), RUN_WEEKS)])
            sums = np.cumsum(ahead)
        found.append(int(np.searchsorted(sums, remaining)) + 1)
    return np.sort(np.asarray(found))


def _indices(numbers: random.Random, size: int, count: int) -> np.ndarray:
    """The places of `count` weeks in runs of four."""
    runs = -(-count // RUN_WEEKS)
    starts = np.asarray([int(numbers.random() * size) for _ in range(runs)])
    return ((starts[:, None] + np.arange(RUN_WEEKS)) % size).ravel()[:count]


def test_the_resamples_are_those_that_numpy_makes_of_the_same_draws() -> None:
    """Every one of the thousand numbers of weeks is the same."""
    assert resampled_weeks(REMAINING, SAMPLE) == tuple(by_numpy(REMAINING, SAMPLE).tolist())


def test_the_window_is_numpy_s_tenth_and_ninetieth_percentile() -> None:
    """Of the same resamples, and of the days that they lead to."""
    low, high = np.percentile(by_numpy(REMAINING, SAMPLE), [10, 90], method="inverted_cdf")
    found = window_after(day("2026-03-29"), REMAINING, SAMPLE, ())
    assert found is not None
    assert found.weeks == (low, high)
    sundays = np.datetime64("2026-03-29") + np.asarray([low, high]) * np.timedelta64(7, "D")
    assert [str(each) for each in sundays] == [str(found.earliest), str(found.latest)]


@settings(max_examples=many(50), deadline=None)
@given(st.lists(st.integers(0, 2_000), min_size=1, max_size=200), st.integers(1, 100))
def test_any_percentile_is_numpy_s(values: list[int], at: int) -> None:
    """For values of any number and any hundredth."""
    ordered = sorted(values)
    assert percentile(ordered, at) == np.percentile(ordered, at, method="inverted_cdf")


def test_a_steady_builder_s_window_is_plain_division() -> None:
    """The same hours every week: what is left divided by them, rounded up, both ends alike."""
    for hours, left in ((3, 100), (5, 100), (7, 101)):
        book = journal(week_by_week((hours,) * 12), estimated("W1", 12 * hours + left))
        found = pace(book).window
        assert found is not None
        assert found.weeks == (np.ceil(left / hours), np.ceil(left / hours))


@pytest.mark.slow
def test_the_window_holds_what_it_says_on_made_up_builders() -> None:
    """Of builders whose weeks are drawn by numpy, six to ten of ten finish inside their window."""
    dice, inside = np.random.default_rng(11), 0
    for _ in range(40):
        past = tuple(dice.integers(0, 12, 40).tolist())
        ahead = np.cumsum(dice.integers(0, 12, MOST_WEEKS))
        found = window_after(day("2026-03-29"), REMAINING, past, ())
        assert found is not None
        took = int(np.searchsorted(ahead, REMAINING)) + 1
        inside += found.weeks[0] <= took <= found.weeks[1]
    assert 24 <= inside <= 40
