"""What hangs on each task, in each measure."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.stakes import stakes
from tests.deciding.claim_journals import journal

TASKS = [
    "W1, credit: {maker: 0.3, assembly: 0.2, fabrication: 0.4}",
    "W2, marks: [1, 1]",
    "W3, marks: [1, 0]",
    "W4, credit: {maker: 1.0}, marks: [1, 1]",
    "W5, credit: {assembly: 0.2}, marks: [1, 1]",
    "W6",
    "W7, applies: no, credit: {assembly: 1.0}",
]
NOTES = {
    "2026-03-01": "hours: {Ines: 2h, Osk: 1h}\ntasks: {task: W1, hours: 1h, who: [Ines, Ada, Osk]}",
    "2026-03-02": "tasks: {task: W6, hours: 1h}",
    "2026-03-04": "tasks: {task: W6, hours: 1h}",
}


@pytest.mark.parametrize("rulebook", ["rulebook: us-checklist", "rulebook: us-8000-38", ""])
def test_tenths_of_what_the_builder_claims(tmp_path: Path, rulebook: str) -> None:
    """The builder's tenths of each task that applies; ten for each mark where only marks claim."""
    found = stakes(journal(tmp_path, TASKS, NOTES, rulebook))
    assert found == {"W1": 6, "W2": 10, "W3": 0, "W4": 10, "W5": 2, "W6": 0}


def test_seconds_of_the_amateurs_where_hours_are_counted(tmp_path: Path) -> None:
    """Where hours count it is the amateurs' time up to the certificate, whatever the credit."""
    more = "rulebook: france-hours\nkit hours: 10h\ncertificated: 2026-03-02"
    found = stakes(journal(tmp_path, TASKS, NOTES, more))
    assert found == {"W1": 7200, "W2": 0, "W3": 0, "W4": 0, "W5": 0, "W6": 3600}
