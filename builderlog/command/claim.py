"""`claim`: the major portion as the rulebook counts it, and what it would be if work were hired."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from dataclasses import dataclass, replace
from pathlib import Path

from builderlog.command.claim_print import print_claim, print_hiring, print_supposed
from builderlog.command.opening import Opened, open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command
from builderlog.command.terminal import print_problems
from builderlog.deciding.checks import judge
from builderlog.deciding.claim_document import claim_document, hiring_document, uncounted_document
from builderlog.deciding.hiring import Hiring, hiring, tasks_named
from builderlog.deciding.portion import Portion, portion
from builderlog.deciding.what_if import CannotSupposeError, Supposed, parse_supposed, suppose
from builderlog.knowing.journal import JOURNAL_FILE
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from builderlog.storing.refusal import Refused

STORY = """\
Counts the work list as the authority of the journal's rulebook counts it: points in tenths,
marks, or hours. It reckons what is claimed, and shows beside it what is on record. It supports
a claim and grants nothing: only the authority or its designee decides, and the form that they
use prevails.

May I hire this out? --hire I02 says how much of a task (or of a whole area, --hire I) could go
to paid help; --if I02=paid:0.5 says what that would do, and what would have to be disclosed.

--import brings in a form, or the authority's evaluation of the kit, from a table with the
columns id, name, area, kind, maker, paid, assembly, fabrication (any of them, in any order)."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument(
        "--if",
        dest="supposed",
        action="append",
        default=[],
        metavar="TASK=paid:0.5",
        help="count as if this much of the task's point went to paid help; may be given again",
    )
    parser.add_argument(
        "--hire",
        action="append",
        default=[],
        metavar="TASK",
        help="tell how much of a task or an area can still be hired out; may be given again",
    )
    parser.add_argument(
        "--rulebook",
        choices=RULEBOOKS,
        metavar="NAME",
        help=f"count by another rulebook than the journal's: {', '.join(RULEBOOKS)}",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")
    parser.add_argument(
        "--import", dest="table", metavar="CSV", help="bring a table into worklist.yaml, and stop"
    )
    parser.add_argument(
        "--preview",
        action="store_true",
        help="with --import: tell what would change, write nothing",
    )
    parser.add_argument(
        "--export", metavar="CSV", help="write the work list as such a table, and stop"
    )


def run(arguments: Namespace) -> int:
    """Prints the claim; mistakes go to standard error and make the exit status 1."""
    if arguments.preview and not arguments.table:
        raise Refused("--preview says what an import would change; write --import CSV with it")
    opened = open_journal(arguments)
    if arguments.table or arguments.export:
        return _exchange(arguments, opened)
    rulebook = _rulebook(arguments.rulebook, opened)
    if rulebook is not None:
        _tell(arguments, opened, rulebook)
    elif arguments.json:
        print(json.dumps(uncounted_document(opened.ledger), indent=2))
    sys.stdout.flush()
    print_problems(opened.mistakes, opened.folder, sys.stderr)
    return MISTAKES if opened.mistakes else DONE


def _exchange(arguments: Namespace, opened: Opened) -> int:
    """The work list from a table, or as one."""
    from builderlog.command.claim_form import export_form, import_form

    if arguments.table:
        return import_form(opened, Path(arguments.table), write=not arguments.preview)
    return export_form(opened, Path(arguments.export))


def _rulebook(asked: str | None, opened: Opened) -> Rulebook | None:
    """The rulebook to count by; None where the journal's cannot be used (told as a mistake)."""
    settings = opened.ledger.settings
    if asked is None:
        if opened.ledger.rulebook is None and not _misspelt(opened):
            told = (
                "journal.yaml names no rulebook; write rulebook: NAME there, or use --rulebook NAME"
            )
            raise Refused(f"{told}, with one of {', '.join(RULEBOOKS)}")
        return opened.ledger.rulebook
    if asked == settings.rulebook:
        return opened.ledger.rulebook
    own = settings.own_rulebook if asked == OWN else None
    found, problems = find_rulebook(asked, own)
    if found is None:
        raise Refused("; ".join(problem.message for problem in problems))
    return found


def _misspelt(opened: Opened) -> bool:
    """Whether journal.yaml has a mistake, for which its rulebook may be missing."""
    return any(each.place.path == JOURNAL_FILE for each in opened.mistakes)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What was asked for, reckoned: the claim before and after the changes, and what to hire."""

    before: Portion
    after: Portion
    changes: tuple[Supposed, ...]
    hiring: Hiring | None


def _reckon(arguments: Namespace, opened: Opened, rulebook: Rulebook) -> _Asked:
    """Raises Refused for a task that is not there, or for more than there is of it."""
    ledger = opened.ledger
    try:
        changes = tuple(parse_supposed(text, rulebook.measure) for text in arguments.supposed)
        before = portion(ledger, rulebook)
        supposed = suppose(ledger, rulebook, changes)
        after = portion(supposed, rulebook) if changes else before
        tasks = tasks_named(supposed.worklist, arguments.hire)
    except CannotSupposeError as fault:
        raise Refused(str(fault)) from fault
    return _Asked(before, after, changes, hiring(tasks, after) if arguments.hire else None)


def _tell(arguments: Namespace, opened: Opened, rulebook: Rulebook) -> None:
    asked = _reckon(arguments, opened, rulebook)
    if arguments.json:
        print(json.dumps(_document(asked), ensure_ascii=False, indent=2))
        return
    if asked.changes:
        print_supposed(opened.ledger, (asked.before, asked.after), asked.changes)
    if asked.hiring:
        print_hiring(asked.hiring, asked.after, arguments.hire)
    if not asked.changes and not asked.hiring:
        print_claim(asked.after, _judged_by(rulebook, opened))


def _judged_by(rulebook: Rulebook, opened: Opened) -> Opened:
    """The journal with the doubts and gaps that it has by this rulebook."""
    if rulebook == opened.ledger.rulebook:
        return opened
    ledger = replace(opened.ledger, rulebook=rulebook)
    return replace(opened, ledger=ledger, problems=judge(ledger))


def _document(asked: _Asked) -> dict[str, object]:
    document = claim_document(asked.after)
    if asked.changes:
        document["before"] = claim_document(asked.before)
    if asked.hiring:
        document["hire"] = hiring_document(asked.hiring, asked.after.rulebook.measure)
    return document


COMMAND = Command("claim", "count the major portion as the rulebook does", STORY, options, run)
