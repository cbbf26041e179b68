"""`check`: every mistake and doubt, and every gap in the evidence, worst first."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable

from builderlog.command.opening import open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command
from builderlog.command.terminal import count_problems, print_problems, say
from builderlog.deciding.words import counted
from builderlog.knowing.vocabulary import describe_words
from builderlog.reading.problem import Problem

STORY = """\
A mistake is something that cannot be counted as it is written; the journal cannot be
published until it is mended. A doubt is counted as written, but worth a second look.
A gap is a place where the evidence is thin; only the authority decides what it wants to see.
Each is told with its path, line and column, and with what to write."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")
    parser.add_argument(
        "--words",
        action="store_true",
        help="list the words that notes, journal.yaml and worklist.yaml may use, and stop",
    )


def document_of(problems: Iterable[Problem]) -> dict[str, list[dict[str, object]]]:
    """What `check --json` prints; other programs rely on its keys."""
    return {
        "problems": [
            {
                "path": problem.place.path,
                "line": problem.place.line,
                "column": problem.place.column,
                "code": problem.code,
                "weight": problem.weight.value,
                "message": problem.told,
            }
            for problem in problems
        ]
    }


def run(arguments: Namespace) -> int:
    """Prints all problems; exit status 1 where one of them is a mistake."""
    if arguments.words:
        print(describe_words())
        return DONE
    opened = open_journal(arguments)
    if arguments.json:
        print(json.dumps(document_of(opened.problems), ensure_ascii=False, indent=2))
    else:
        print_problems(opened.problems, opened.folder, sys.stdout)
        notes = counted(len(opened.ledger.notes), "note")
        told = f"{notes}: {count_problems(opened.problems)}"
        say(told, sys.stdout if sys.stdout.isatty() else sys.stderr)
    return MISTAKES if opened.mistakes else DONE


COMMAND = Command("check", "tell every mistake, doubt and gap, worst first", STORY, options, run)
