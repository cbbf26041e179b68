"""How fast the inspector's document is set, once its pictures are drawn: pages a second, memory.

Run it by hand: `python3 tests/bench/bench_document.py [NOTES] [PICTURES]`. Not a test. The wish is
100 pages a second and less than 1 GB. The journal is that of bench_dossier.py, read once. Beside it
stands a floor of the same run: a document of as many pages with nothing but a line on each.
"""

from __future__ import annotations

import argparse
import io
import resource
import sys
import tempfile
import time
from pathlib import Path

import pypdf
import typst

sys.path.insert(0, str(Path(__file__).parents[2]))

from builderlog.deciding.findings import find
from builderlog.drawing.theme import open_theme
from builderlog.handover.ledger_json import ledger_json
from builderlog.handover.paper import Printing, document
from builderlog.handover.print_pictures import PrintRoom, lay_out_prints
from builderlog.handover.tables import all_sheets, table_bytes
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.sheets.dossier import dossier
from tests.bench.bench_dossier import write_journal


def main() -> None:
    """Prints what was measured."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("notes", nargs="?", type=int, default=600)
    parser.add_argument("pictures", nargs="?", type=int, default=3000)
    words = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        measure(Path(folder), words.notes, words.pictures)


def say(words: str) -> None:
    """One line of what was measured."""
    sys.stdout.write(f"{words}\n")


def measure(room: Path, notes: int, pictures: int) -> None:
    """Makes the journal and its pictures, then sets the document."""
    write_journal(room / "journal", notes, pictures, 60)
    journal = Folder.at(room / "journal")
    found = find(read_journal(journal))
    made = dossier(found)
    prints = PrintRoom(room / "pictures", None)
    drawn = lay_out_prints(made, found.ledger, journal.where, prints, lambda _done: None)
    sheets = all_sheets(found.ledger, {}, found)
    attached = {f"{sheet.name}.csv": table_bytes(sheet) for sheet in sheets}
    attached["ledger.json"] = ledger_json(found, sheets)
    printing = Printing(open_theme("trammel", None), "a4", room / "pictures", drawn.size)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    begun = time.perf_counter()
    pdf = document(made, printing, attached)
    seconds = time.perf_counter() - begun
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    pages = len(pypdf.PdfReader(io.BytesIO(pdf)).pages)
    say(f"{notes} notes, {pictures} pictures: {pages} pages, {len(pdf) / 1e6:.1f} MB")
    say(f"{seconds:8.2f} s  set; {pages / seconds:.0f} pages a second (wish: 100)")
    say(f"{floor(pages):8.2f} s  as many bare pages")
    say(f"{before:8} MB of memory at most before, {after} MB with it (wish: below 1000)")


def floor(pages: int) -> float:
    """Seconds for a tagged document of bare pages."""
    bare = '#set document(title: "bare")\n' + "#pagebreak()\n".join(["= Bare\n"] * pages)
    begun = time.perf_counter()
    typst.compile(bare.encode(), pdf_standards=["a-3a", "ua-1"], ignore_system_fonts=True)
    return time.perf_counter() - begun


if __name__ == "__main__":
    main()
