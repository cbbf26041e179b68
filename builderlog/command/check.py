"""`check`: every mistake, doubt and gap in the evidence, worst first; and what is open."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable
from datetime import date, datetime

from builderlog.command.opening import Opened, open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day
from builderlog.command.terminal import count_problems, print_problems, say
from builderlog.deciding.words import counted
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.vocabulary import describe_words
from builderlog.reading.problem import Problem
from builderlog.storing.refusal import Refused

STORY = """\
A mistake is something that cannot be counted as it is written; the journal cannot be
published until it is mended. A doubt is counted as written, but worth a second look.
A gap is a place where the evidence is thin; only the authority decides what it wants to see.
Each is told with its path, line and column, and with what to write.

What is open? --open tells the next steps, open snags, parts awaited and work away, decisions to
look at again, torque and marks outstanding, and the evidence missing of work still in sight.

Before you close something, --before-closing W (an area or a task) tells what could still be
mended. A note that says closes: gets the same list from check, as long as no later day has one."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")
    asked = parser.add_mutually_exclusive_group()
    asked.add_argument(
        "--open", dest="what_is_open", action="store_true", help="tell what is open, and stop"
    )
    asked.add_argument(
        "--before-closing",
        dest="closing",
        metavar="W",
        help="tell what an area or a task lacks before it can no longer be seen, and stop",
    )
    parser.add_argument(
        "--words",
        action="store_true",
        help="list the words that notes, journal.yaml and worklist.yaml may use, and stop",
    )
    parser.add_argument(
        "--on", type=day, metavar="DATE", help="with --open: reckon days up to this one, not today"
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
    """Prints all problems, or what was asked for; exit status 1 where there is a mistake."""
    if arguments.words:
        print(describe_words())
        return DONE
    if arguments.on and not arguments.what_is_open:
        raise Refused("--on says on which day to reckon what is open; write --open with it")
    opened = open_journal(arguments)
    if arguments.what_is_open:
        _tell_open(arguments, opened)
    elif arguments.closing is not None:
        _tell_closing(arguments, opened)
    else:
        _tell_problems(arguments, opened)
        return MISTAKES if opened.mistakes else DONE
    sys.stdout.flush()
    print_problems(opened.mistakes, opened.folder, sys.stderr)
    return MISTAKES if opened.mistakes else DONE


def _tell_problems(arguments: Namespace, opened: Opened) -> None:
    if arguments.json:
        document = {**document_of(opened.problems), "closing": _closing_documents(opened.ledger)}
        print(json.dumps(document, ensure_ascii=False, indent=2))
        return
    print_problems(opened.problems, opened.folder, sys.stdout)
    notes = counted(len(opened.ledger.notes), "note")
    aside = sys.stdout if sys.stdout.isatty() else sys.stderr
    say(f"{notes}: {count_problems(opened.problems)}", aside)
    _tell_closed_last(opened.ledger)


def _closing_documents(ledger: Ledger) -> list[dict[str, object]]:
    from builderlog.deciding.before_closing import closed_last
    from builderlog.deciding.open_document import closing_document

    return [closing_document(each) for each in closed_last(ledger)]


def _tell_closed_last(ledger: Ledger) -> None:
    """The list for what the newest notes close: this day it still helps."""
    from builderlog.command.open_print import print_closing
    from builderlog.deciding.before_closing import closed_last
    from builderlog.sheets.open_list import closing_list

    aside = sys.stdout if sys.stdout.isatty() else sys.stderr
    lists = [closing_list(ledger, each) for each in closed_last(ledger)]
    if lists:
        print(file=aside)
        print_closing(lists, aside)


def _tell_open(arguments: Namespace, opened: Opened) -> None:
    from builderlog.command.open_print import print_open
    from builderlog.deciding.open_document import open_document
    from builderlog.deciding.still_open import still_open
    from builderlog.sheets.open_list import open_list

    found = still_open(opened.ledger, arguments.on or _today(opened.ledger))
    if arguments.json:
        print(json.dumps(open_document(found), ensure_ascii=False, indent=2))
        return
    print_open(open_list(opened.ledger, found), sys.stdout)


def _today(ledger: Ledger) -> date:
    """The builder's own day, which goes on past midnight."""
    from builderlog.deciding.tonight import night_of

    now = datetime.now()  # noqa: DTZ005 - the builder's own clock
    return night_of(now, ledger.settings.day_ends)


def _tell_closing(arguments: Namespace, opened: Opened) -> None:
    """Raises Refused for what is no area and no task."""
    from builderlog.command.open_print import print_closing
    from builderlog.deciding.before_closing import UnknownSubjectError, before_closing
    from builderlog.deciding.open_document import closing_document
    from builderlog.sheets.open_list import closing_list

    try:
        found = before_closing(opened.ledger, arguments.closing)
    except UnknownSubjectError as fault:
        raise Refused(str(fault)) from fault
    if arguments.json:
        print(json.dumps(closing_document(found), ensure_ascii=False, indent=2))
        return
    print_closing([closing_list(opened.ledger, found)], sys.stdout)


COMMAND = Command("check", "tell every mistake, doubt and gap, worst first", STORY, options, run)
