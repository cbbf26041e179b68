"""`holidays` of journal.yaml, in short and in long form."""

from __future__ import annotations

from pathlib import Path

from tests.knowing.journals import ledger_of
from tests.making import day

JOURNAL = """\
title: A test
builder: Ines
people: {Ines: builder}
holidays: [2026-12-24, {from: 2026-07-06, until: 2026-07-26, why: harvest}]
"""


def test_a_bare_date_is_one_day(tmp_path: Path) -> None:
    """A date alone is a day; with `until` its last day counts too; the reason is kept."""
    ledger = ledger_of(tmp_path, {"journal.yaml": JOURNAL})
    assert ledger.problems == ()
    found = ledger.settings.holidays
    assert [(each.since.day, each.last, each.why) for each in found] == [
        (day("2026-12-24"), day("2026-12-24"), None),
        (day("2026-07-06"), day("2026-07-26"), "harvest"),
    ]


def test_one_holiday_needs_no_brackets(tmp_path: Path) -> None:
    """As every list, it takes one item alone; without `from` it is told what to write."""
    one = JOURNAL.replace("[2026-12-24, {", "{").replace("}]", "}")
    assert len(ledger_of(tmp_path / "a", {"journal.yaml": one}).settings.holidays) == 1
    bare = JOURNAL.replace("{from: 2026-07-06, until", "{until")
    told = [
        problem.message for problem in ledger_of(tmp_path / "b", {"journal.yaml": bare}).problems
    ]
    assert told == ["a holiday needs 'from:'; write from: …"]
