"""The page at the bag's root for a stranger: whose record it is, what is where, how to check it.

One HTML file that needs nothing else: no script, no picture, no address.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from builderlog import __version__
from builderlog.deciding.words import counted, day_plain, listed
from builderlog.handover.tables import TABLES_FOLDER
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Role
from builderlog.sheets.table import Sheet

GUIDE_NAME = "read-me-first.html"
CLAIM_FRONT = "claim/index.html"

_STYLE = """
body { max-width: 46rem; margin: 2rem auto; padding: 0 1rem;
  font: 1rem/1.5 Georgia, "Times New Roman", serif; color: #1c1c1c; background: #fff; }
h1, h2, h3 { line-height: 1.2; margin-top: 2rem; }
code, pre { font-family: Consolas, Menlo, monospace; font-size: 0.9rem; }
pre { padding: 0.6rem 0.8rem; background: #f2f2ee; border: 1px solid #d5d5cf;
  white-space: pre-wrap; overflow-wrap: anywhere; }
dt { font-weight: bold; }
table { border-collapse: collapse; width: 100%; margin: 0.5rem 0; font-size: 0.95rem; }
th, td { text-align: left; vertical-align: top; padding: 0.2rem 0.8rem 0.2rem 0;
  border-bottom: 1px solid #d5d5cf; }
@media print { body { margin: 0; max-width: none; } }
"""

_CHECKING = """
<h2>How to check it without us</h2>
<p>Every file is listed with its digest, a number that changes when a single bit of the file
does. The folder is a bag by the open standard BagIt 1.0 (RFC&nbsp;8493), so any program that
knows the standard can check it too. In a terminal, from inside this folder:</p>
<h3>Linux</h3>
<pre>sha256sum --check --quiet manifest-sha256.txt
sha512sum --check --quiet manifest-sha512.txt
sha256sum --check --quiet tagmanifest-sha256.txt</pre>
<h3>macOS</h3>
<pre>shasum -a 256 --check manifest-sha256.txt
shasum -a 512 --check manifest-sha512.txt
shasum -a 256 --check tagmanifest-sha256.txt</pre>
<h3>Windows (PowerShell)</h3>
<pre>Get-Content -Encoding UTF8 manifest-sha256.txt | ForEach-Object {
  $digest, $path = $_ -split '  ', 2
  if ((Get-FileHash -Algorithm SHA256 -LiteralPath $path).Hash -ne $digest) { "changed: $path" }
}</pre>
<p>On Linux and Windows no line printed means that no listed file was changed; on macOS each line
ends with <code>OK</code>. A file that no manifest lists was added later. The totals can be added
up from <code>data/tables/hours.csv</code> in any spreadsheet, and each of its rows names the note
that it comes from.</p>
"""

# Where something lies in the bag, what it is, and the journal's files for which the line stands
# ("" for what is always there).
_PLACES = (
    ("data/notes/", "the shop notes as the builder wrote them, in plain text", "notes/"),
    ("data/photos/", "the original pictures, not altered in any way", "photos/"),
    ("data/receipts/", "invoices and delivery notes", "receipts/"),
    ("data/seals/", "the months' digests as they were when each was closed", "seals/"),
    ("data/journal.yaml", "who builds what, and under which rules", "journal.yaml"),
    ("data/worklist.yaml", "areas and tasks, with the credit claimed for each", "worklist.yaml"),
    ("other folders below data/", "papers that a note or journal.yaml names", ""),
    ("data/tables/", "everything countable in the notes, as tables for a spreadsheet", ""),
    ("manifest-sha256.txt, manifest-sha512.txt", "the digest of every file below data/", ""),
    ("tagmanifest-sha256.txt, tagmanifest-sha512.txt", "the digests of the files beside data/", ""),
    ("bag-info.txt, bagit.txt", "what this folder is, for programs", ""),
)


def guide(ledger: Ledger, sheets: Sequence[Sheet]) -> bytes:
    """The page for this journal and these tables."""
    title = escape(ledger.settings.title or "A builder's record")
    parts = (
        "<!DOCTYPE html>\n",
        '<html lang="en">\n<head>\n<meta charset="utf-8">\n',
        f"<title>{title}: read me first</title>\n",
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
        f"<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{title}</h1>\n",
        *_whose(ledger),
        *_places(ledger),
        _CHECKING,
        *_tables(sheets),
        f"<p>Written by builderlog {escape(__version__)}.</p>\n</main>\n</body>\n</html>\n",
    )
    return "".join(parts).encode("utf-8")


def _whose(ledger: Ledger) -> Iterable[str]:
    yield "<p>This folder is the record of the building of an amateur-built aircraft: the notes "
    yield "that its builder wrote as the work went on, with the original pictures.</p>\n<dl>\n"
    for term, words in _facts(ledger):
        if words:
            yield f"<dt>{term}</dt><dd>{escape(words)}</dd>\n"
    yield "</dl>\n<p><strong>What it is not.</strong> The record supports the builder's own "
    yield "statement. It grants nothing and replaces no inspection: whether the aircraft and its "
    yield "builder qualify is decided by the authority alone. The digests show whether a file "
    yield "was changed and the lists were not; they do not show that what was written is true."
    yield "</p>\n"
    if ledger.rulebook:
        yield f'<p><a href="{CLAIM_FRONT}">The claim, counted by its rulebook, with the evidence '
        yield "of each task</a>: begin there.</p>\n"
    yield "<p>Notes that the builder keeps to themselves hold their date and time only, and "
    yield "say <code>private: hours only</code>; pictures and receipts that belong to nothing "
    yield "else are left out.</p>\n"


def _facts(ledger: Ledger) -> tuple[tuple[str, str], ...]:
    settings, aircraft = ledger.settings, ledger.settings.aircraft
    people = [person for person in settings.people if person.role is Role.BUILDER]
    builders = listed([person.full_name or person.name for person in people])
    days = [note.day for note in ledger.notes if note.day]
    span = f"{day_plain(min(days))} to {day_plain(max(days))}" if days else ""
    return (
        ("Builder" if len(people) == 1 else "Builders", builders),
        ("Design", aircraft.design or ""),
        ("Kit", aircraft.kit or ""),
        ("Registration", aircraft.registration or ""),
        ("Maker, model, serial number", _data_plate(ledger)),
        ("Notes", counted(len(ledger.notes), "note")),
        ("Dated", span),
    )


def _data_plate(ledger: Ledger) -> str:
    aircraft = ledger.settings.aircraft
    return ", ".join(word for word in (aircraft.maker, aircraft.model, aircraft.serial) if word)


def _places(ledger: Ledger) -> Iterable[str]:
    yield "<h2>What is where</h2>\n<dl>\n"
    if ledger.rulebook:
        yield "<dt><code>claim/</code></dt><dd>the claim as its rulebook counts it, with the "
        yield "evidence of each task, on plain pages that open in any browser</dd>\n"
    for path, meaning, begins in _PLACES:
        if not any(file.startswith(begins) for file in ("", *ledger.files)):
            continue
        yield f"<dt><code>{path}</code></dt><dd>{meaning}</dd>\n"
    yield "</dl>\n<p>Nothing here needs a program of ours: notes open in any editor, tables in any "
    yield "spreadsheet, pictures in any viewer.</p>\n"


def _tables(sheets: Sequence[Sheet]) -> Iterable[str]:
    yield "<h2>What the tables hold</h2>\n<p>Dates are written year-month-day. Several words in a "
    yield "cell are separated by <code>; </code>. Text that a spreadsheet could take for a formula "
    yield "has an apostrophe in front, as in <code>'=A1</code>.</p>\n"
    for sheet in sheets:
        yield f"<h3><code>{TABLES_FOLDER}{escape(sheet.name)}.csv</code></h3>\n"
        yield f"<p>{escape(sheet.title)} {counted(len(sheet.rows), 'row').capitalize()}.</p>\n"
        yield "<table>\n<thead><tr><th>column</th><th>meaning</th></tr></thead>\n<tbody>\n"
        for heading in sheet.headings:
            yield f"<tr><td><code>{escape(heading.name)}</code></td>"
            yield f"<td>{escape(heading.meaning)}</td></tr>\n"
        yield "</tbody>\n</table>\n"
