"""The record as one JSON document says what the tables and the commands say."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

from builderlog.deciding.claim_document import claim_document
from builderlog.deciding.findings import Findings, find
from builderlog.deciding.totals import tally, tally_document
from builderlog.handover.ledger_json import ledger_json
from builderlog.handover.tables import all_sheets, table_bytes, unguard
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder

EXAMPLE = Path(__file__).parents[2] / "example_journal"


def _found(folder: Folder) -> Findings:
    return find(read_journal(folder))


def test_it_says_what_the_tables_and_the_commands_say() -> None:
    """Tally and claim are the commands' documents; each table's rows are those of its CSV file."""
    found = _found(Folder.at(EXAMPLE))
    sheets = all_sheets(found.ledger, {}, found)
    told = json.loads(ledger_json(found, sheets))
    assert told["tally"] == tally_document(tally(found.ledger))
    assert found.portion
    assert told["claim"] == claim_document(found.portion)
    for sheet in sheets:
        rows = csv.DictReader(io.StringIO(table_bytes(sheet).decode("utf-8"), newline=""))
        plain = [{name: unguard(cell) for name, cell in row.items()} for row in rows]
        assert told["tables"][sheet.name] == plain, sheet.name


def test_the_same_findings_give_the_same_bytes() -> None:
    """Two readings of one journal come to one document."""
    one, other = (_found(Folder.at(EXAMPLE)) for _ in range(2))
    assert ledger_json(one, all_sheets(one.ledger, {}, one)) == ledger_json(
        other, all_sheets(other.ledger, {}, other)
    )
