"""What a bag holds beside the originals, made from the notes in it alone: tables and pages.

Who writes a bag and who checks one call the same function, so that both have the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from builderlog.deciding.findings import Findings, find
from builderlog.handover.binder import binder_pages, picture_paths
from builderlog.handover.first_page import FIRST_PAGE, first_page
from builderlog.handover.ledger_json import ledger_json
from builderlog.handover.small_copies import SmallCopies, originals_sheet, print_names
from builderlog.handover.tables import TABLES_FOLDER, all_sheets, table_files
from builderlog.knowing.ledger import Ledger
from builderlog.reading.photo_file import PhotoFile
from builderlog.sheets.chapter import Dossier
from builderlog.sheets.dossier import dossier
from builderlog.sheets.table import Sheet

LEDGER_TABLE = f"{TABLES_FOLDER}ledger.json"


@dataclass(frozen=True, slots=True)
class Names:
    """What lies in the bag under another path: journal path to path below data/.

    `renamed` are names that others' programs could not read, `prints` pictures that go along as
    copies, with the facts of their `originals`.
    """

    renamed: Mapping[str, str] = field(default_factory=dict)
    prints: Mapping[str, str] = field(default_factory=dict)
    originals: Mapping[str, PhotoFile] = field(default_factory=dict)

    @property
    def bagged(self) -> dict[str, str]:
        """All of them."""
        return {**self.renamed, **self.prints}


def names_in_bag(renamed: Mapping[str, str], small: SmallCopies) -> Names:
    """The names of a bag in which some pictures are copies; `renamed` is of all paths."""
    prints = print_names(small.facts, renamed)
    kept = {path: safe for path, safe in renamed.items() if path not in prints}
    return Names(kept, prints, small.facts)


@dataclass(frozen=True, slots=True)
class Contents:
    """Everything made from the notes; `tables` by path below data/, `pages` by path in the bag.

    `pictures` are the paths in the bag of the drawn pictures that the pages show.
    """

    found: Findings
    dossier: Dossier
    sheets: tuple[Sheet, ...]
    tables: Mapping[str, bytes]
    pages: Mapping[str, bytes]
    pictures: frozenset[str]


def contents_of(seen: Ledger, names: Names) -> Contents:
    """What the bagged journal gives."""
    found = find(seen)
    sheets = (*all_sheets(seen, names.renamed, found), *_originals(names))
    made = dossier(found)
    tables = {**table_files(sheets), LEDGER_TABLE: ledger_json(found, sheets)}
    pages = {
        FIRST_PAGE: first_page(seen, made, sheets),
        **binder_pages(made, seen, names.bagged),
    }
    return Contents(found, made, sheets, tables, pages, picture_paths(made, seen))


def _originals(names: Names) -> tuple[Sheet, ...]:
    if not names.prints:
        return ()
    return (originals_sheet(names.originals, names.prints),)
