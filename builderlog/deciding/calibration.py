"""Whether a torque wrench was calibrated within a year before it was used.

AC 43.13-1B, paragraph 7-40 a: at least once a year, and at once after abuse or a drop.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from builderlog.knowing.settings import Wrench


class Calibrated(StrEnum):
    """What the record says of a wrench on a day."""

    WITHIN_A_YEAR = "within a year"
    OLDER = "older"
    NEVER = "never"  # no calibration on record up to that day
    NO_WRENCH = "no wrench"  # none is named, or it is not declared


@dataclass(frozen=True, slots=True)
class Calibration:
    """The newest calibration up to the day of use, and what it is worth."""

    state: Calibrated
    last: date | None = None


def calibration_on(wrench: Wrench | None, day: date | None) -> Calibration:
    """What is on record for a wrench used on a day; later calibrations do not count for it."""
    if wrench is None or day is None:
        return Calibration(Calibrated.NO_WRENCH)
    last = max((each.day for each in wrench.calibrated if each.day <= day), default=None)
    if last is None:
        return Calibration(Calibrated.NEVER)
    within = is_within_a_year(last, day)
    return Calibration(Calibrated.WITHIN_A_YEAR if within else Calibrated.OLDER, last)


def is_within_a_year(last: date, day: date) -> bool:
    """Up to the same day of the next year, that day too; 28 February after 29 February."""
    return (day.year - 1, day.month, day.day) <= (last.year, last.month, last.day)
