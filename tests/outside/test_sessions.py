"""The example's evenings against what builders do: common practice, without a published source.

Common practice: two to four hours on most days in the shop.
"""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path
from statistics import median

from builderlog.knowing.journal import read_journal
from builderlog.knowing.units import HOUR
from builderlog.reading.folder import Folder

EXAMPLE = Path(__file__).parents[2] / "example_journal"


def test_the_builder_of_the_example_works_two_to_four_hours_on_most_days() -> None:
    """More than half of the builder's days, and the middle one, are of two to four hours."""
    ledger = read_journal(Folder.at(EXAMPLE))
    days: Counter[date] = Counter()
    for row in ledger.work:
        if row.person == ledger.settings.builder:
            days[row.day] += row.seconds
    usual = [seconds for seconds in days.values() if 2 * HOUR <= seconds <= 4 * HOUR]
    assert len(usual) * 2 > len(days) > 30
    assert 2 * HOUR <= median(days.values()) <= 4 * HOUR
