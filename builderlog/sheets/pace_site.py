"""The pace as the newest month's page of the friends' site tells it."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding.public import PublicPace
from builderlog.deciding.words import counted, day_plain
from builderlog.sheets.pace import CAUTION, finished_between
from builderlog.sheets.rows import Time, time_of


@dataclass(frozen=True, slots=True)
class SitePace:
    """What is left, how fast it goes, and between which days it may be finished."""

    window: str  # "between 7 May 2028 and 11 March 2029"
    remaining: Time
    weekly: Time
    drawn: str  # "over 23 whole weeks"
    record: str  # "20 June 2026"
    assumptions: str
    caution: str


def site_pace(pace: PublicPace) -> SitePace:
    """The pace in words."""
    return SitePace(
        window=finished_between(pace.earliest, pace.latest),
        remaining=time_of(pace.remaining_seconds),
        weekly=time_of(pace.weekly_seconds),
        drawn=f"over {counted(pace.weeks, 'whole week')}",
        record=day_plain(pace.record_date),
        assumptions=pace.assumptions,
        caution=CAUTION,
    )
