"""Makes every table and page again from the bagged notes; tells what each says, what the notes say.

Writes nothing and reads only files that were found to be regular and readable.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest
from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.handover.claim_pages import claim_pages
from builderlog.handover.fault import Fault, printable
from builderlog.handover.guide import GUIDE_NAME, guide
from builderlog.handover.pages_check import check_pages
from builderlog.handover.tables import (
    NAMES_TABLE,
    TABLES_FOLDER,
    TableError,
    all_sheets,
    read_table,
    renamed_from,
    table_files,
)
from builderlog.knowing.journal import JOURNAL_FILE, NOTE_ENDINGS, WORKLIST_FILE, read_journal
from builderlog.reading.folder import Folder

PAYLOAD = "data/"
LARGEST_TEXT = 1 << 25  # bytes; beyond this a note, list or table is none of ours

Row = tuple[str, ...]


def check_tables(bag: Path, sizes: Mapping[str, int]) -> Iterator[Fault]:
    """The faults of all tables; `sizes` holds every readable regular file of the bag, in bytes."""
    held = {
        path.removeprefix(PAYLOAD): size for path, size in sizes.items() if path.startswith(PAYLOAD)
    }
    yield from _too_large(held)
    usable = {path for path, size in held.items() if size <= LARGEST_TEXT or not _is_text(path)}
    renamed, faults = _read_names(bag, usable)
    yield from faults
    seen = read_journal(_journal(bag, usable, renamed))
    found = find(seen)
    sheets = all_sheets(seen, renamed, found)
    expected = table_files(sheets)
    for path in sorted(expected):
        if path in usable:
            yield from compare(PAYLOAD + path, (bag / PAYLOAD / path).read_bytes(), expected[path])
        elif path not in held:
            told = "this table is not in the bag, though the notes give one"
            yield Fault(PAYLOAD + path, "table-missing", told)
    for path in sorted(held):
        if path.startswith(TABLES_FOLDER) and path not in expected:
            told = "no table of this name comes from the notes"
            yield Fault(PAYLOAD + printable(path), "table-unknown", told)
    pages = {GUIDE_NAME: guide(seen, sheets), **claim_pages(seen, renamed, found)}
    yield from check_pages(bag, sizes, pages)


def _is_text(path: str) -> bool:
    """What is read whole: notes, the two lists, tables."""
    texts = (*NOTE_ENDINGS, ".csv")
    return path in (JOURNAL_FILE, WORKLIST_FILE) or path.lower().endswith(texts)


def _too_large(held: Mapping[str, int]) -> Iterator[Fault]:
    for path in sorted(held):
        if held[path] > LARGEST_TEXT and _is_text(path):
            told = (
                f"{held[path]} bytes are more than a note, list or table ever has; it is not read"
            )
            yield Fault(PAYLOAD + printable(path), "too-large", told)


def _read_names(bag: Path, usable: set[str]) -> tuple[dict[str, str], tuple[Fault, ...]]:
    """Journal path to bagged path; none where the list is missing or makes no sense."""
    if NAMES_TABLE not in usable:
        return {}, ()
    try:
        renamed = renamed_from((bag / PAYLOAD / NAMES_TABLE).read_bytes())
        _refuse_strays(renamed, usable)
    except TableError as error:
        return {}, (Fault(PAYLOAD + NAMES_TABLE, "names", f"this list cannot be used: {error}"),)
    return renamed, ()


def _refuse_strays(renamed: Mapping[str, str], usable: set[str]) -> None:
    """Raises `TableError` where the list leads anywhere but to files of the bag."""
    for original, bagged in renamed.items():
        if bagged not in usable:
            raise TableError(f"there is no file {printable(bagged)!r}")
        if original in usable and not original.startswith(TABLES_FOLDER):
            raise TableError(f"{printable(original)!r} is no name that had to be changed")


def _journal(bag: Path, usable: Iterable[str], renamed: Mapping[str, str]) -> Folder:
    """The bagged journal under its own names, our tables left out."""
    originals = {bagged: original for original, bagged in renamed.items()}
    paths = [originals.get(path, path) for path in usable if not path.startswith(TABLES_FOLDER)]
    return Folder(bag / PAYLOAD, tuple(sorted(paths)), stored=dict(renamed))


def compare(path: str, found: bytes, expected: bytes) -> Iterator[Fault]:
    """The first difference between a table and what the notes give, in words; none where equal."""
    if found == expected:
        return
    try:
        rows = read_table(found)
    except TableError as error:
        yield Fault(path, "table", f"it differs from what the notes give: {error}")
        return
    yield Fault(path, "table", _difference(rows, read_table(expected)))


def _difference(found: list[Row], expected: list[Row]) -> str:
    """Rows are counted as a spreadsheet counts them: the names of the columns are row 1."""
    if found[:1] != expected[:1]:
        return f"its columns are {_cells(found[:1])}; the notes give {_cells(expected[:1])}"
    pairs = zip_longest(found[1:], expected[1:])
    for number, (row, right) in enumerate(pairs, start=2):
        if row is None:
            return f"row {number} is missing: the notes give {_cells([right])}"
        if right is None:
            return f"row {number} is one too many: {_cells([row])}"
        if row != right:
            return f"row {number}, {_column(expected[0], row, right)}"
    return "it says the same as the notes, but in other bytes (quotes or line ends)"


def _column(header: Row, row: Row, right: Row) -> str:
    for name, says, is_right in zip(header, row, right, strict=False):
        if says != is_right:
            return f"column {name}: the table says {_cell(says)}, the notes say {_cell(is_right)}"
    return f"has {len(row)} cells, not {len(right)}"


def _cells(rows: list[Row]) -> str:
    return ", ".join(_cell(cell) for cell in rows[0]) if rows else "none"


def _cell(text: str) -> str:
    """A cell that may hold anything, short enough to be read."""
    return f"'{printable(text[:80])}{'…' if len(text) > 80 else ''}'"
