"""The pace as the newest month's page of the friends' site tells it."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding.public import PublicPace
from builderlog.deciding.words import counted, day_plain
from builderlog.sheets.pace import CAUTION, finished_between
from builderlog.sheets.rows import time_of


@dataclass(frozen=True, slots=True)
class SitePace:
    """Between which days it may be finished, from what that is reckoned, and what it is worth."""

    told: str
    assumptions: str
    caution: str


def site_pace(pace: PublicPace) -> SitePace:
    """The pace in words."""
    window, record = finished_between(pace.earliest, pace.latest), day_plain(pace.record_date)
    left, weekly = (
        time_of(seconds).words for seconds in (pace.remaining_seconds, pace.weekly_seconds)
    )
    told = (
        f"If work goes on as in the {counted(pace.weeks, 'whole week')} up to {record}, all will "
        f"be done {window}: by the estimates {left} are left, and {weekly} a week went into them."
    )
    return SitePace(told, pace.assumptions, CAUTION)
