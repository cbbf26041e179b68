"""The whole record as one JSON document (RFC 8259): totals, claim, and every table's rows.

It says what the tables say, for programs; numbers that are not whole are decimal text, as in the
tables, so that no reader rounds them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable

from builderlog.deciding.claim_document import claim_document, uncounted_document
from builderlog.deciding.claim_words import CAUTION
from builderlog.deciding.findings import Findings
from builderlog.deciding.totals import tally, tally_document
from builderlog.sheets.table import Sheet


def ledger_json(found: Findings, sheets: Iterable[Sheet]) -> bytes:
    """The document as UTF-8; the same findings and sheets give the same bytes.

    `tally` and `claim` are what the commands of these names print with `--json`; `tables` holds
    the rows of each sheet, each row with its headings.
    """
    record_date, counted = found.ledger.record_date, found.portion
    document = {
        "title": found.ledger.settings.title,
        "record_date": record_date.isoformat() if record_date else None,
        "caution": CAUTION,
        "tally": tally_document(tally(found.ledger)),
        "claim": claim_document(counted) if counted else uncounted_document(found.ledger),
        "tables": {sheet.name: _rows(sheet) for sheet in sheets},
    }
    text = json.dumps(document, ensure_ascii=False, indent=1)
    return f"{text}\n".encode("utf-8", "backslashreplace")


def _rows(sheet: Sheet) -> list[dict[str, str]]:
    return [dict(zip(sheet.header, row, strict=True)) for row in sheet.rows]
