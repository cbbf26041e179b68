"""`verify`: checks a dossier, every file, every digest, every total."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from dataclasses import asdict
from pathlib import Path

from builderlog.command.shape import DONE, MISTAKES, Command
from builderlog.command.terminal import say, working
from builderlog.handover.verify import verify_bag

STORY = """\
Missing, extra and changed files are all told at once, and every table is made again from the
notes in the bag and compared. Nothing in the bag is changed, and no link is followed.
Exit status 1 where anything is at fault. Without builderlog: see read-me-first.html in the bag."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    parser.add_argument("directory", metavar="DIR", help="the dossier's folder")
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")


def run(arguments: Namespace) -> int:
    """Prints every fault; exit status 1 where there is one."""
    bag = Path(arguments.directory)
    with working("Checking (bytes)") as progress:
        faults = verify_bag(bag, progress)
    if arguments.json:
        print(
            json.dumps(
                {"faults": [asdict(fault) for fault in faults]}, ensure_ascii=False, indent=2
            )
        )
    else:
        for fault in faults:
            say(f"{fault.path}: {fault.code}: {fault.message}", sys.stdout)
        if not faults:
            say(f"{bag}: every file, every digest and every table is as it was written", sys.stdout)
    return MISTAKES if faults else DONE


COMMAND = Command("verify", "check a dossier: every file, digest and total", STORY, options, run)
