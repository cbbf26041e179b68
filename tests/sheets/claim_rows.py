"""What the tests of the claim's tables and pages share: rows by column, a journal's rulebook."""

from __future__ import annotations

from dataclasses import replace

from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from builderlog.sheets.table import Sheet

PUBLISHED = tuple(name for name in RULEBOOKS if name != OWN)
GRANTING = ("approved", "compliant", "passed", "eligible", "qualifies")


def by_rows(sheet: Sheet) -> list[dict[str, str]]:
    """Each row as its cells by column."""
    return [dict(zip(sheet.header, row, strict=True)) for row in sheet.rows]


def ruled(ledger: Ledger, by: Rulebook | str) -> Ledger:
    """The same journal counted by this rulebook, or by the one of that name."""
    found = find_rulebook(by)[0] if isinstance(by, str) else by
    assert found is not None
    return replace(ledger, rulebook=found)
