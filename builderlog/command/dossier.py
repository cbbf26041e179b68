"""`dossier`: the evidence for the inspector, as one folder that anyone can check without us."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path

from builderlog.command.opening import Opened, open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day
from builderlog.command.terminal import count_problems, print_problems, say, working
from builderlog.deciding.words import counted
from builderlog.handover.bag import DossierReport, write_dossier

STORY = """\
The folder is a BagIt 1.0 bag (RFC 8493): notes, pictures and receipts as they are, tables made
from them, and digests of every file. Notes marked private go along; of those marked private:
hours only nothing but the time. It supports a claim; it does not say that one is granted.
With mistakes in the journal it is not made, since a mistake may hide what must stay private."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument("--out", metavar="DIR", help="where it goes (JOURNAL/dossier)")
    parser.add_argument(
        "--on", metavar="DATE", type=day, help="the day of handing over, written into the bag"
    )


def run(arguments: Namespace) -> int:
    """Makes the dossier; exit status 1 and nothing made where the journal has mistakes."""
    opened = open_journal(arguments, arguments.on)
    if opened.mistakes:
        print_problems(opened.mistakes, opened.folder, sys.stderr)
        say(f"builderlog: {count_problems(opened.mistakes)}; no dossier was made", sys.stderr)
        return MISTAKES
    out = Path(arguments.out) if arguments.out else opened.root / "dossier"
    with working("Bagging (bytes)") as progress:
        report = write_dossier(opened.folder, opened.ledger, out, arguments.on, progress)
    for line in _report(opened, report, out):
        say(line, sys.stdout)
    return DONE


def _report(opened: Opened, report: DossierReport, out: Path) -> Iterator[str]:
    changes = report.changes
    yield f"{report.files} files, {report.size_bytes} bytes are in {out}"
    yield f"{len(changes.new)} new, {len(changes.changed)} changed, {len(changes.deleted)} deleted"
    for kept, safe in sorted(report.renamed.items()):
        yield f"{kept!r} is bagged as {safe!r} (see data/tables/names.csv)"
    if report.hours_only:
        yield f"with nothing but the time: {counted(report.hours_only, 'note')}"
    if opened.problems:
        yield f"{count_problems(opened.problems)}: builderlog check tells them"
    yield f"Check it with: builderlog verify {out}"


COMMAND = Command("dossier", "gather the evidence for the inspector", STORY, options, run)
