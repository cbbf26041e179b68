"""`dossier`: the evidence for the inspector, as one folder that anyone can check without us."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER, Opened, open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day
from builderlog.command.terminal import count_problems, print_problems, say, working_in_stages
from builderlog.deciding.words import counted
from builderlog.drawing.theme import ThemeFault
from builderlog.handover.bag import DossierReport, Wish, write_dossier
from builderlog.handover.binder import BINDER_FRONT
from builderlog.handover.pdf_check import DOCUMENT
from builderlog.reading.problem import Problem, mistake

STORY = """\
The folder is a BagIt 1.0 bag (RFC 8493): dossier.pdf to put on the table, the same as pages in
binder/, notes, pictures and receipts as they are, tables made from them, and digests of every
file. Notes marked private go along; of those marked private: hours only nothing but the time. It
supports a claim; it does not say that one is granted. With mistakes in the journal it is not
made, since a mistake may hide what must stay private; gaps are listed in it."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument("--out", metavar="DIR", help="where it goes (JOURNAL/dossier)")
    parser.add_argument(
        "--on", metavar="DATE", type=day, help="the day of handing over, written into the bag"
    )
    parser.add_argument(
        "--zip", action="store_true", help="also as one file, DIR.zip beside the folder"
    )
    parser.add_argument(
        "--pictures",
        choices=("full", "print"),
        default="full",
        help="the original pictures (full), or print-size copies of them for a smaller dossier",
    )


def run(arguments: Namespace) -> int:
    """Makes the dossier; exit status 1 and nothing made where the journal has mistakes."""
    opened = open_journal(arguments, arguments.on)
    if opened.mistakes:
        return _stop(opened, opened.mistakes)
    out = Path(arguments.out) if arguments.out else opened.root / "dossier"
    wish = Wish(
        arguments.on, arguments.pictures == "print", arguments.zip, opened.root / CACHE_FOLDER
    )
    try:
        with working_in_stages() as progress:
            report = write_dossier(opened.folder, opened.ledger, out, wish, progress)
    except ThemeFault as fault:
        return _stop(opened, (mistake(fault.place, "theme", fault.message),))
    for line in (*_report(opened, report, out), *_where(report, out)):
        say(line, sys.stdout)
    if report.trouble:
        say(f"builderlog: nothing could be kept for next time: {report.trouble}", sys.stderr)
    return DONE


def _stop(opened: Opened, mistakes: tuple[Problem, ...]) -> int:
    print_problems(mistakes, opened.folder, sys.stderr)
    say(f"builderlog: {count_problems(mistakes)}; no dossier was made", sys.stderr)
    return MISTAKES


def _report(opened: Opened, report: DossierReport, out: Path) -> Iterator[str]:
    changes = report.changes
    yield f"{report.files} files, {report.size_bytes} bytes are in {out}"
    yield f"{len(changes.new)} new, {len(changes.changed)} changed, {len(changes.deleted)} deleted"
    for kept, safe in sorted(report.renamed.items()):
        yield f"{kept!r} is bagged as {safe!r} (see data/tables/names.csv)"
    if report.copies:
        copies = counted(report.copies, "picture")
        yield f"as print-size copies: {copies}; see data/tables/originals.csv for the originals"
    if report.hours_only:
        yield f"with nothing but the time: {counted(report.hours_only, 'note')}"
    if opened.problems:
        yield f"{count_problems(opened.problems)}: builderlog check tells them"


def _where(report: DossierReport, out: Path) -> Iterator[str]:
    """What to open, to send and to do next."""
    yield f"To put on the table: {out / DOCUMENT}, {counted(report.pages, 'page')}"
    yield f"To read on a screen: {out / BINDER_FRONT}"
    if report.zipped:
        yield f"To send: {report.zipped.file}, {report.zipped.size_bytes} bytes"
    yield f"Check it with: builderlog verify {out}"


COMMAND = Command("dossier", "gather the evidence for the inspector", STORY, options, run)
