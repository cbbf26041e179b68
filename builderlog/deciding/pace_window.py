"""The window of finishing dates: the builder's own weeks drawn again and again until all is done.

Each resample first draws a record as long as the builder's, then the weeks to come from that: of
few weeks nobody knows the pace well, and the window shows it. Weeks are drawn in runs of four as
they followed each other, so that a hole stays a hole. The draws are the same each time: a window
moves because the record did, and for nothing else.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate, islice

from builderlog.deciding.pace_weeks import holiday_of, monday_of
from builderlog.knowing.settings import Holiday

RESAMPLES = 1_000
RUN_WEEKS = 4
MOST_WEEKS = 1_040  # twenty years: beyond that a date says nothing
SEED = 1903
PERCENTILES = (10, 90)


@dataclass(frozen=True, slots=True)
class Window:
    """Between which days the work may be finished: the Sundays of two weeks."""

    earliest: date  # a tenth of the resamples is finished by then
    latest: date  # nine tenths are
    weeks: tuple[int, int]  # the same, in weeks after that of the record's last day


def window_after(
    last: date, remaining: int, sample: Sequence[int], holidays: Sequence[Holiday]
) -> Window | None:
    """The window of a record that ends on `last`; None where it lies beyond twenty years."""
    worked = resampled_weeks(remaining, sample)
    begin = monday_of(last)
    early, late = (_calendar(begin, percentile(worked, at), holidays) for at in PERCENTILES)
    if early is None or late is None:
        return None
    sundays = [begin + timedelta(weeks=weeks, days=6) for weeks in (early, late)]
    return Window(sundays[0], sundays[1], (early, late))


def resampled_weeks(remaining: int, sample: Sequence[int]) -> tuple[int, ...]:
    """How many weeks of work each resample takes, fewest first; MOST_WEEKS + 1 is never."""
    draws = random.Random(SEED)  # noqa: S311 - the same draws each time are wanted, no secret
    records = (tuple(islice(drawn(sample, draws), len(sample))) for _ in range(RESAMPLES))
    return tuple(sorted(_until_done(remaining, record, draws) for record in records))


def _until_done(remaining: int, record: Sequence[int], draws: random.Random) -> int:
    """Weeks until the sum of those drawn from this record is what remains."""
    if remaining > MOST_WEEKS * max(record):
        return MOST_WEEKS + 1
    sums = accumulate(islice(drawn(record, draws), MOST_WEEKS))
    return next((count for count, done in enumerate(sums, 1) if done >= remaining), MOST_WEEKS + 1)


def drawn(sample: Sequence[int], draws: random.Random) -> Iterator[int]:
    """Weeks without end, in runs of four from anywhere in the sample, its first after its last.

    `random()` alone gives the same numbers on every version of Python.
    """
    while True:
        start = int(draws.random() * len(sample))
        for step in range(RUN_WEEKS):
            yield sample[(start + step) % len(sample)]


def percentile(ordered: Sequence[int], at: int) -> int:
    """The least value that `at` in a hundred do not exceed: one of them, none in between."""
    return ordered[max(0, -(-at * len(ordered) // 100) - 1)]


def _calendar(begin: date, worked: int, holidays: Sequence[Holiday]) -> int | None:
    """Weeks of the calendar after `begin` that hold so many of work, holidays to come left out."""
    left = worked
    for count in range(1, MOST_WEEKS + 1):
        if begin.toordinal() + 7 * count + 6 > date.max.toordinal():
            return None
        left -= holiday_of(begin + timedelta(weeks=count), holidays) is None
        if not left:
            return count
    return None
