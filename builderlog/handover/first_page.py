"""`READ ME FIRST.txt` at the bag's root, for a stranger in thirty years: plain text, 76 columns.

Whose record it is, what it claims and what not, what lies where, how to check it without us.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from builderlog import __version__
from builderlog.deciding.words import counted, day_plain, listed
from builderlog.handover.small_copies import ORIGINALS
from builderlog.handover.tables import TABLES_FOLDER
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Dossier
from builderlog.sheets.table import Sheet

FIRST_PAGE = "READ ME FIRST.txt"
COLUMNS = 76
INDENT = "    "
SEALS = "seals/"

_Place = tuple[str, str, str]

_WHAT = """\
This folder is the record of the building of an amateur-built aircraft: the notes that its
builder wrote as the work went on, with the original pictures and papers, and what was reckoned
from them.
"""
_NOT = """\
The record supports the builder's own statement. It grants nothing and replaces no inspection:
whether the aircraft and its builder qualify is decided by the authority alone.

The digests show whether a file was changed and the lists were not. They do not show that what
was written is true.

A note that says "private: yes" was kept from friends, and is here whole. A note that the builder
keeps to themselves says "private: hours only" and holds its date and time alone; pictures and
receipts that belong to nothing else are left out.
"""
_BEGIN = """\
Open dossier.pdf to read the record as one document, or to print it. Open binder/index.html in
any browser for the same on a screen, with links to the notes and the original pictures. Neither
needs a network, nor a program of ours: notes open in any editor, tables in any spreadsheet,
pictures in any viewer.
"""

ORIGINAL = "the original pictures, not altered in any way"
_COPIES: _Place = (
    "data/prints/",
    "the pictures as print-size copies (data/tables/originals.csv tells of the originals)",
    "",
)
_NOT_COPIED: _Place = ("data/photos/", "pictures of which no copy could be drawn", "photos/")

# Where something lies in the bag, what it is, and the journal's files for which the line stands
# ("" for what is always there).
_PLACES: tuple[_Place, ...] = (
    ("dossier.pdf", "the record as one document; the tables are attached inside", ""),
    ("binder/", "the record as pages for a browser; begin with index.html", ""),
    ("data/notes/", "the shop notes as the builder wrote them, in plain text", "notes/"),
    ("data/photos/", ORIGINAL, "photos/"),
    ("data/receipts/", "invoices and delivery notes", "receipts/"),
    ("data/seals/", "the months' digests as they were when each was sealed", SEALS),
    ("data/journal.yaml", "who builds what, and under which rules", "journal.yaml"),
    ("data/worklist.yaml", "areas and tasks, with the credit claimed for each", "worklist.yaml"),
    ("data/tables/", "everything countable in the notes, for a spreadsheet", ""),
    ("other folders in data/", "papers that a note or journal.yaml names", ""),
    ("manifest-*.txt", "the digest of every file below data/", ""),
    ("tagmanifest-*.txt", "the digests of the files beside data/", ""),
    ("bagit.txt, bag-info.txt", "what this folder is, for programs", ""),
)

_CHECKING = """\
Every file is listed with its digest, a number that changes when a single bit of the file does.
The folder is a bag by the open standard BagIt 1.0 (RFC 8493), so any program that knows the
standard can check it too. The files below data/ are listed in manifest-sha256.txt and
manifest-sha512.txt, all others, this one too (its name has blanks), in the tag manifests. In a
terminal, from inside this folder:
"""
_COMMANDS = (
    (
        "Linux",
        (
            "sha256sum --check --quiet manifest-sha256.txt",
            "sha512sum --check --quiet manifest-sha512.txt",
            "sha256sum --check --quiet tagmanifest-sha256.txt",
        ),
    ),
    (
        "macOS",
        (
            "shasum -a 256 --check manifest-sha256.txt",
            "shasum -a 512 --check manifest-sha512.txt",
            "shasum -a 256 --check tagmanifest-sha256.txt",
        ),
    ),
    (
        "Windows (PowerShell)",
        (
            "'manifest-sha256.txt', 'tagmanifest-sha256.txt' | ForEach-Object {",
            "  Get-Content -Encoding UTF8 $_ } | ForEach-Object {",
            "  $digest, $path = $_ -split '  ', 2",
            "  $is = Get-FileHash -Algorithm SHA256 -LiteralPath $path",
            '  if ($is.Hash -ne $digest) { "changed: $path" }',
            "}",
        ),
    ),
)
_CHECKED = """\
On Linux and Windows no line printed means that no listed file was changed; on macOS each line
ends with OK. A file that no manifest lists was added later.

The totals can be added up from data/tables/hours.csv in any spreadsheet, and each of its rows
names the note that it comes from. data/tables/names.csv lists the files whose names had to be
changed for the bag, with the names that the notes use.
"""
_SEALS = """\
When a month was over the builder could seal it: a file in data/seals/ lists the digests of that
month's notes, pictures and receipts and the digest of the seal before, so that a later change
of any of them is seen. A seal shows that nothing was changed since others were given its
digest; it does not show that what was written was true. From inside data/ (a file that has
another name in the bag is not found under its old one):
"""
_TABLES = """\
Dates are written year-month-day (ISO 8601). Several words in a cell are separated by "; ". Text
that a spreadsheet could take for a formula has an apostrophe in front, as in '=A1. The tables
are UTF-8 with commas between cells (RFC 4180). ledger.json holds the same for programs.
"""


def first_page(ledger: Ledger, dossier: Dossier, sheets: Sequence[Sheet]) -> bytes:
    """The page for this journal and these tables: UTF-8, a line feed after each line."""
    lines = (
        *_title(dossier.title),
        *_whose(ledger, dossier),
        *_chapter("What it is not", _NOT),
        *_chapter("Where to begin", _BEGIN),
        *_places(ledger, sheets),
        *_checking(),
        *_sealed(ledger),
        *_tables(sheets),
        "",
        *_filled(f"Written by builderlog {__version__}."),
    )
    return "".join(f"{line}\n" for line in lines).encode("utf-8")


def _title(title: str) -> Iterator[str]:
    lines = [*_filled(" ".join(title.split()))]
    yield from lines
    yield "=" * max(map(len, lines), default=0)


def _chapter(title: str, words: str) -> Iterator[str]:
    yield from _heading(title)
    yield from _paragraphs(words)


def _paragraphs(words: str) -> Iterator[str]:
    for paragraph in words.split("\n\n"):
        yield ""
        yield from _filled(paragraph)


def _heading(title: str) -> Iterator[str]:
    yield from ("", "", title, "-" * len(title))


def _filled(words: str, indent: str = "", further: str | None = None) -> list[str]:
    """Lines of at most 76 characters; only a word that is longer than a line is cut."""
    later = indent if further is None else further
    return wrap(
        words, COLUMNS, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False
    )


def _whose(ledger: Ledger, dossier: Dossier) -> Iterator[str]:
    yield from _paragraphs(_WHAT)
    yield ""
    for term, words in _facts(ledger, dossier):
        if words:
            yield from _filled(f"{term}: {' '.join(words.split())}", INDENT, INDENT * 2)


def _facts(ledger: Ledger, dossier: Dossier) -> tuple[tuple[str, str], ...]:
    aircraft = ledger.settings.aircraft
    days = [note.day for note in ledger.notes if note.day]
    plate = (aircraft.maker, aircraft.model, aircraft.serial)
    return (
        ("Builder" if len(dossier.builders) == 1 else "Builders", listed(dossier.builders)),
        ("Design", aircraft.design or ""),
        ("Kit", aircraft.kit or ""),
        ("Registration", aircraft.registration or ""),
        ("Maker, model, serial number", ", ".join(word for word in plate if word)),
        ("Notes", counted(len(ledger.notes), "note")),
        ("Dated", f"{day_plain(min(days))} to {day_plain(max(days))}" if days else ""),
        ("Counted by the rulebook", ledger.rulebook.title if ledger.rulebook else ""),
    )


def _places(ledger: Ledger, sheets: Sequence[Sheet]) -> Iterator[str]:
    yield from _heading("What lies where")
    yield ""
    places = _places_with_copies() if any(each.name == ORIGINALS for each in sheets) else _PLACES
    width = max(len(path) for path, _, _ in places) + 2
    for path, meaning, begins in places:
        if any(file.startswith(begins) for file in ("", *ledger.files)):
            yield from _filled(f"{path:{width}}{meaning}", "", " " * width)


def _places_with_copies() -> tuple[_Place, ...]:
    at = next(at for at, (_, meaning, _) in enumerate(_PLACES) if meaning == ORIGINAL)
    return (*_PLACES[:at], _COPIES, _NOT_COPIED, *_PLACES[at + 1 :])


def _checking() -> Iterator[str]:
    yield from _chapter("How to check it without us", _CHECKING)
    for system, commands in _COMMANDS:
        yield from ("", f"{system}:", "")
        yield from (INDENT + command for command in commands)
    yield from _paragraphs(_CHECKED)


def _sealed(ledger: Ledger) -> Iterator[str]:
    """Nothing where no month was sealed."""
    if ledger.seals:
        yield from _chapter("Sealed months", _SEALS)
        yield from ("", f"{INDENT}sha256sum -c {ledger.seals[-1].path}")


def _tables(sheets: Sequence[Sheet]) -> Iterator[str]:
    yield from _chapter(f"What the tables in data/{TABLES_FOLDER} hold", _TABLES)
    yield ""
    for sheet in sheets:
        rows = counted(len(sheet.rows), "row")
        yield from _filled(f"{sheet.name}.csv: {sheet.title} ({rows})", "", INDENT)
    yield from _heading("What each column means")
    for sheet in sheets:
        yield from ("", f"{sheet.name}.csv")
        for heading in sheet.headings:
            yield from _filled(f"{heading.name}: {heading.meaning}", INDENT, INDENT * 2)
