"""Whether a wrench was calibrated within the year before its use (AC 43.13-1B, par. 7-40 a)."""

from __future__ import annotations

from datetime import date

import pytest

from builderlog.deciding.calibration import Calibrated, calibration_on, is_within_a_year
from builderlog.knowing.entries import DatedWord
from builderlog.knowing.settings import Wrench
from tests.deciding.torque_entries import HERE


@pytest.mark.parametrize(
    ("last", "day", "within"),
    [
        ("2025-03-10", "2025-03-10", True),
        ("2025-03-10", "2026-03-10", True),
        ("2025-03-10", "2026-03-11", False),
        ("2024-02-29", "2025-02-28", True),
        ("2024-02-29", "2025-03-01", False),
        ("2023-02-28", "2024-02-29", False),
        ("9998-12-31", "9999-12-31", True),
        ("2025-03-10", "2027-01-01", False),
    ],
)
def test_a_year_ends_on_the_same_day(last: str, day: str, *, within: bool) -> None:
    """The day itself still counts, and leap days end with February."""
    assert is_within_a_year(date.fromisoformat(last), date.fromisoformat(day)) == within


def test_only_calibrations_up_to_the_day_count() -> None:
    """The newest one before counts; a later one says nothing of the day of use."""
    days = ("2024-01-10", "2025-06-01", "2026-05-01")
    wrench = Wrench("one", HERE, tuple(DatedWord(date.fromisoformat(d), HERE) for d in days))
    found = {
        day: calibration_on(wrench, date.fromisoformat(day))
        for day in ("2023-12-31", "2025-05-31", "2025-06-01", "2026-04-30")
    }
    assert [(each.state.value, str(each.last)) for each in found.values()] == [
        ("never", "None"),
        ("older", "2024-01-10"),
        ("within a year", "2025-06-01"),
        ("within a year", "2025-06-01"),
    ]
    assert calibration_on(None, date(2026, 1, 1)).state is Calibrated.NO_WRENCH
    assert calibration_on(wrench, None).state is Calibrated.NO_WRENCH
