"""`verify`: checks a dossier, folder or zip: every file, digest, total, seal and attachment."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from dataclasses import asdict
from pathlib import Path

from builderlog.command.shape import DONE, MISTAKES, Command
from builderlog.command.terminal import say, working
from builderlog.handover.verify import verify_bag
from builderlog.handover.zip_verify import verify_zip

STORY = """\
Missing, extra and changed files are all told at once. Every table and page is made again from
the notes in the dossier and compared, sealed months are held against their seals, and what is
attached to dossier.pdf against the tables. Nothing in it is changed, and no link is followed. A
zip is unpacked into a temporary folder that is gone in the end.
Exit status 1 where anything is at fault. Without builderlog: see READ ME FIRST.txt in the
dossier."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    parser.add_argument("dossier", metavar="DIR|ZIP", help="the dossier's folder, or its zip")
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")


def run(arguments: Namespace) -> int:
    """Prints every fault; exit status 1 where there is one."""
    bag = Path(arguments.dossier)
    check = verify_zip if bag.is_file() else verify_bag
    with working("Checking (bytes)") as progress:
        faults = check(bag, progress)
    if arguments.json:
        told = {"faults": [asdict(fault) for fault in faults]}
        print(json.dumps(told, ensure_ascii=False, indent=2))
        return MISTAKES if faults else DONE
    for fault in faults:
        say(f"{fault.path}: {fault.code}: {fault.message}", sys.stdout)
    if not faults:
        told_all = "every file, digest, table and attachment is as it was written, seals too"
        say(f"{bag}: {told_all}", sys.stdout)
    return MISTAKES if faults else DONE


COMMAND = Command("verify", "check a dossier: every file, digest and total", STORY, options, run)
