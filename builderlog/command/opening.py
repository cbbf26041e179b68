"""Opens the journal that a command line names: folder to ledger, with all its problems."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from builderlog.command.terminal import working
from builderlog.deciding.checks import judge
from builderlog.knowing.journal import JOURNAL_FILE, NOTES_FOLDER, WORKLIST_FILE, read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, Weight
from builderlog.storing.refusal import Refused, refusing

CACHE_FOLDER = ".builderlog"


@dataclass(frozen=True, slots=True)
class Opened:
    """A journal that was read."""

    root: Path
    folder: Folder
    ledger: Ledger
    problems: tuple[Problem, ...]  # worst first

    @property
    def mistakes(self) -> tuple[Problem, ...]:
        """The problems that must be mended."""
        return tuple(each for each in self.problems if each.weight is Weight.MISTAKE)


def take_journal(parser: ArgumentParser) -> None:
    """Every command's first word."""
    parser.add_argument(
        "journal",
        nargs="?",
        default=".",
        metavar="JOURNAL",
        help="the journal's folder (the current one unless named)",
    )


def open_journal(arguments: Namespace, on: date | None = None) -> Opened:
    """Reads and judges the journal. Raises Refused where there is none."""
    root = Path(arguments.journal)
    folder = list_journal(root)
    with working("Reading the journal") as progress, refusing(f"read the journal in {root}"):
        ledger = read_journal(folder, root / CACHE_FOLDER, progress)
    problems = judge(ledger)
    return Opened(root, folder, replace(ledger, record_date=on or ledger.record_date), problems)


def list_journal(root: Path) -> Folder:
    """The journal's files. Raises Refused where the folder is no journal at all."""
    if not root.is_dir():
        found = "is a file" if root.exists() else "does not exist"
        raise Refused(f"{root} {found}; name the folder that holds journal.yaml")
    with refusing(f"read the folder {root}"):
        folder = Folder.at(root)
    if not any(_belongs_to_a_journal(path) for path in folder.paths):
        raise Refused(
            f"{root} is no journal: it has no journal.yaml; name the journal's folder, "
            "or make one with: builderlog start DIR"
        )
    return folder


def _belongs_to_a_journal(path: str) -> bool:
    return path in {JOURNAL_FILE, WORKLIST_FILE} or path.startswith(NOTES_FOLDER)
