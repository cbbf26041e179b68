"""Makes every table and page again from the bagged notes; tells what each says, what the notes say.

Writes nothing and reads only files that were found to be regular and readable.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from builderlog.deciding.checks_seals import seal_faults
from builderlog.handover.bag_info import PAYLOAD
from builderlog.handover.contents import LEDGER_TABLE, Contents, Names, contents_of
from builderlog.handover.differences import json_difference, table_difference
from builderlog.handover.fault import Fault, printable
from builderlog.handover.pages_check import check_pages
from builderlog.handover.pdf_check import DOCUMENT, check_document
from builderlog.handover.small_copies import (
    ORIGINALS_TABLE,
    PRINTS_FOLDER,
    read_originals,
    size_of_copy,
)
from builderlog.handover.tables import (
    NAMES_TABLE,
    TABLES_FOLDER,
    TableError,
    read_table,
    renamed_from,
)
from builderlog.knowing.journal import JOURNAL_FILE, NOTE_ENDINGS, WORKLIST_FILE, read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.photo_file import PhotoFile, read_photo
from builderlog.storing.two_threads import each_in_two_threads

SEALS_TABLE = f"{TABLES_FOLDER}seals.csv"
LARGEST_TEXT = 1 << 25  # bytes; beyond this a note or list is none of ours
LARGEST_TABLE = 1 << 28  # bytes; the same for a table
LARGEST_FILE = 1 << 62  # bytes; what is never read whole may have any size


def check_contents(bag: Path, sizes: Mapping[str, int]) -> Iterator[Fault]:
    """The faults of tables, pages, document and seals.

    `sizes` holds every readable regular file of the bag, in bytes.
    """
    held = {
        path.removeprefix(PAYLOAD): size for path, size in sizes.items() if path.startswith(PAYLOAD)
    }
    yield from _too_large(held)
    usable = {path for path, size in held.items() if size <= _most(path)}
    names, faults = _read_names(bag, usable)
    yield from faults
    seen = read_journal(_journal(bag, usable, names), known=names.originals)
    contents = contents_of(seen, names)
    yield from _check_tables(bag, held, usable, contents.tables)
    yield from check_pages(bag, sizes, contents.pages, contents.pictures)
    yield from _seal_faults(seen, names)
    if SEALS_TABLE in usable:
        held_seals = (bag / PAYLOAD / SEALS_TABLE).read_bytes()
        yield from _altered_seals(held_seals, contents.tables.get(SEALS_TABLE, b""))
    yield from check_document(bag / DOCUMENT, sizes.get(DOCUMENT), _attached(bag, usable, contents))


def _most(path: str) -> int:
    """How large a file may be that is read whole: notes, the two lists, tables."""
    if path.startswith(TABLES_FOLDER) and path.lower().endswith((".csv", ".json")):
        return LARGEST_TABLE
    texts = (*NOTE_ENDINGS, ".csv")
    is_text = path in (JOURNAL_FILE, WORKLIST_FILE) or path.lower().endswith(texts)
    return LARGEST_TEXT if is_text else LARGEST_FILE


def _too_large(held: Mapping[str, int]) -> Iterator[Fault]:
    for path in sorted(held):
        if held[path] > _most(path):
            told = (
                f"{held[path]} bytes are more than a note, list or table ever has; it is not read"
            )
            yield Fault(PAYLOAD + printable(path), "too-large", told)


def _read_names(bag: Path, usable: set[str]) -> tuple[Names, tuple[Fault, ...]]:
    """What has another name in the bag; nothing of a list that is missing or makes no sense."""
    renamed, told_names = _read_renamed(bag, usable)
    prints, originals, told_originals = _read_prints(bag, usable)
    return Names(renamed, prints, originals), (*told_names, *told_originals)


def _read_renamed(bag: Path, usable: set[str]) -> tuple[dict[str, str], tuple[Fault, ...]]:
    if NAMES_TABLE not in usable:
        return {}, ()
    try:
        renamed = renamed_from((bag / PAYLOAD / NAMES_TABLE).read_bytes())
        _refuse_strays(renamed, usable)
    except TableError as error:
        return {}, (Fault(PAYLOAD + NAMES_TABLE, "names", f"this list cannot be used: {error}"),)
    return renamed, ()


def _read_prints(
    bag: Path, usable: set[str]
) -> tuple[dict[str, str], dict[str, PhotoFile], tuple[Fault, ...]]:
    """The copies' names and the originals' facts, with the likeness that the copies have."""
    if ORIGINALS_TABLE not in usable:
        return {}, {}, ()
    try:
        found = read_originals((bag / PAYLOAD / ORIGINALS_TABLE).read_bytes())
        prints = {path: bagged for path, (bagged, _) in found.items()}
        _refuse_strays(prints, usable)
    except TableError as error:
        told = f"this list cannot be used: {error}"
        return {}, {}, (Fault(PAYLOAD + ORIGINALS_TABLE, "originals", told),)
    originals: dict[str, PhotoFile] = {}
    faults: list[Fault] = []
    items = [(bag / PAYLOAD / bagged, path) for path, bagged in prints.items()]
    for path, copy in each_in_two_threads(_read_copy, items):
        originals[path] = replace(found[path][1], likeness=copy.likeness)
        if copy.fault or (copy.width_px, copy.height_px) != size_of_copy(originals[path]):
            told = "this is no print-size copy of the picture that originals.csv describes"
            faults.append(Fault(PAYLOAD + printable(prints[path]), "copy", told))
    return prints, originals, tuple(faults)


def _read_copy(item: tuple[Path, str]) -> tuple[str, PhotoFile]:
    file, path = item
    return path, read_photo(file, path)


def _refuse_strays(renamed: Mapping[str, str], usable: set[str]) -> None:
    """Raises `TableError` where the list leads anywhere but to files of the bag."""
    for original, bagged in renamed.items():
        if bagged not in usable:
            raise TableError(f"there is no file {printable(bagged)!r}")
        if original in usable and not original.startswith((TABLES_FOLDER, PRINTS_FOLDER)):
            raise TableError(f"{printable(original)!r} is no name that had to be changed")


def _journal(bag: Path, usable: Iterable[str], names: Names) -> Folder:
    """The bagged journal under its own names, our tables left out."""
    bagged = names.bagged
    originals = {stored: original for original, stored in bagged.items()}
    paths = [originals.get(path, path) for path in usable if not path.startswith(TABLES_FOLDER)]
    return Folder(bag / PAYLOAD, tuple(sorted(paths)), stored=bagged)


def _check_tables(
    bag: Path, held: Mapping[str, int], usable: set[str], expected: Mapping[str, bytes]
) -> Iterator[Fault]:
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


def compare(path: str, found: bytes, expected: bytes) -> Iterator[Fault]:
    """The first difference between a table and what the notes give, in words; none where equal."""
    if found != expected:
        differ = json_difference if path == PAYLOAD + LEDGER_TABLE else table_difference
        yield Fault(path, "table", differ(found, expected))


def _seal_faults(seen: Ledger, names: Names) -> Iterator[Fault]:
    """Where a sealed month is no longer what its seal says."""
    bagged = names.bagged
    for path, message in seal_faults(seen):
        yield Fault(PAYLOAD + printable(bagged.get(path, path)), "seal", message)


def _altered_seals(found: bytes, expected: bytes) -> Iterator[Fault]:
    """The seals whose digest the bag's own list of seals has otherwise.

    The last seal of the chain has none after it that would name its digest.
    """
    try:
        listed = _seals_listed(found)
    except TableError:
        return  # told as a table
    for path, digest in _seals_listed(expected).items():
        if listed.get(path, digest) != digest:
            told = f"its digest is {digest}; {SEALS_TABLE} has {printable(listed[path])!r}"
            yield Fault(PAYLOAD + printable(path), "seal", told)


def _seals_listed(table: bytes) -> dict[str, str]:
    """Path to digest, as seals.csv has them; none of a table with other columns."""
    header, *rows = read_table(table) or [()]
    places = {name: place for place, name in enumerate(header)}
    if not {"seal", "digest"} <= set(places):
        return {}
    whole = (row for row in rows if len(row) == len(header))
    return {row[places["seal"]]: row[places["digest"]] for row in whole}


def _attached(bag: Path, usable: set[str], contents: Contents) -> dict[str, Path]:
    """The tables of the bag that the document has to carry, by name."""
    found = {path.removeprefix(TABLES_FOLDER): path for path in contents.tables if path in usable}
    return {name: bag / PAYLOAD / path for name, path in sorted(found.items())}
