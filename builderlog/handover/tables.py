"""Sheets as CSV files and back: RFC 4180, UTF-8 without a byte-order mark, CRLF line ends.

A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula; such text gets an
apostrophe in front, and reading takes it off again. Numbers are left as they are.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping

from builderlog.deciding.findings import Findings
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.record import record_sheets
from builderlog.sheets.table import Heading, Sheet

TABLES_FOLDER = "tables/"
NAMES_TABLE = "tables/names.csv"

# What a spreadsheet may take for a formula, or strip before it looks again.
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n")
_APOSTROPHE = "'"


class TableError(ValueError):
    """Bytes that are no table of ours; the message says why."""


def tables(ledger: Ledger, renamed: Mapping[str, str]) -> dict[str, bytes]:
    """Every table by its path below data/; `renamed` maps journal paths to bagged ones."""
    return table_files(all_sheets(ledger, renamed))


def table_files(sheets: Iterable[Sheet]) -> dict[str, bytes]:
    """Each sheet's table by its path below data/."""
    return {f"{TABLES_FOLDER}{sheet.name}.csv": table_bytes(sheet) for sheet in sheets}


def all_sheets(
    ledger: Ledger, renamed: Mapping[str, str], found: Findings | None = None
) -> tuple[Sheet, ...]:
    """The record's sheets and the list of names that were changed."""
    return (*record_sheets(ledger, found), names_sheet(renamed))


def names_sheet(renamed: Mapping[str, str]) -> Sheet:
    """Which file of the bag has another name than in the journal; without rows where none has."""
    headings = (
        Heading("bagged", "the path below data/"),
        Heading("original", "the path in the journal, as notes name it"),
    )
    rows = tuple((renamed[path], path) for path in sorted(renamed))
    return Sheet("names", "Files whose names others' programs could not read.", headings, rows)


def renamed_from(data: bytes) -> dict[str, str]:
    """Journal path to bagged path, from the bytes of names.csv. Raises `TableError`."""
    header, *rows = read_table(data) or [()]
    if header != ("bagged", "original") or any(len(row) != 2 for row in rows):
        raise TableError("it has not the columns bagged and original")
    renamed = {original: bagged for bagged, original in rows}
    if len(renamed) != len(rows) or len(set(renamed.values())) != len(rows):
        raise TableError("it lists a name twice")
    return renamed


def table_bytes(sheet: Sheet) -> bytes:
    """The sheet as a CSV file; the same sheet gives the same bytes."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(sheet.header)
    writer.writerows(_guarded(row, sheet.headings) for row in sheet.rows)
    return out.getvalue().encode("utf-8")


def _guarded(row: Iterable[str], headings: Iterable[Heading]) -> list[str]:
    pairs = zip(row, headings, strict=True)
    return [cell if heading.number else guard(cell) for cell, heading in pairs]


def guard(text: str) -> str:
    """The text, with one more apostrophe where a spreadsheet might take it for a formula."""
    return _APOSTROPHE + text if _looks_like_formula(text) else text


def unguard(cell: str) -> str:
    """What `guard` was given."""
    return cell[1:] if cell.startswith(_APOSTROPHE) and _looks_like_formula(cell) else cell


def _looks_like_formula(text: str) -> bool:
    """Behind any apostrophes: else a text that has one already could not be read back."""
    return text.lstrip(_APOSTROPHE).startswith(_FORMULA_SIGNS)


def read_table(data: bytes) -> list[tuple[str, ...]]:
    """All rows with the header, apostrophes taken off. Raises `TableError`."""
    try:
        rows = csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True)
        return [tuple(unguard(cell) for cell in row) for row in rows]
    except (UnicodeDecodeError, csv.Error) as error:
        raise TableError(f"it is no CSV table in UTF-8 ({error})") from error
