"""`seal`: closes a month's record, so that any later change of it can be told."""

from __future__ import annotations

import shlex
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from builderlog.command.month_word import journal_and_month, take_journal_and_month
from builderlog.command.opening import CACHE_FOLDER, Opened, list_journal, open_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day, words
from builderlog.command.terminal import count_problems, print_problems, say, working
from builderlog.deciding.sealing import Sealing, compose, covered_by, says_the_same
from builderlog.deciding.sealing_rules import why_not
from builderlog.deciding.sealing_words import NOT_PROVED, WITNESSES, covered_words
from builderlog.deciding.words import month_long
from builderlog.knowing.seals import Seal, newest_seals
from builderlog.knowing.seals_digests import digest_of_file
from builderlog.knowing.seals_file import seal_text
from builderlog.storing.lock import hold
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused, refusing

STORY = """\
Writes seals/MONTH.txt: the SHA-256 digest of every note dated in the month, of its pictures and
papers, the month's totals, and the digest of the seal before. The file's own digest is the month's
seal: give it to a friend, or publish, and nobody has to take your word that the month stayed as it
was. `builderlog check` tells what was changed, added or lost since.

A seal is never rewritten. What has to be changed is sealed again, and the old seal stays:
builderlog seal --amend 2026-03 --why "a receipt was missing".

A month can be sealed when it is over, has no mistakes, and all earlier months with notes are."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal_and_month(parser)
    parser.add_argument(
        "--amend",
        nargs="?",
        const="",
        metavar="MONTH",
        help="seal again what has changed in a sealed month; the old seal stays",
    )
    parser.add_argument("--why", type=words, metavar="TEXT", help="the reason of the amendment")
    parser.add_argument(
        "--on", metavar="DATE", type=day, help="the day of sealing (today unless named)"
    )


def run(arguments: Namespace) -> int:
    """Seals; exit status 1 and nothing written where the journal has mistakes.

    Raises Refused where the month cannot be sealed, with the reason.
    """
    given = (arguments.journal, arguments.month, arguments.amend)
    root, month = journal_and_month(given, "seal")
    on = arguments.on or date.today()  # noqa: DTZ011 - the builder's own day
    asked = Sealing(month, on, amend=arguments.amend is not None, why=arguments.why or "")
    list_journal(root)
    with hold(root / CACHE_FOLDER, f"the journal {root}"):
        opened = open_journal(Namespace(journal=root))
        if opened.mistakes:
            print_problems(opened.mistakes, opened.folder, sys.stderr)
            say(f"builderlog: {count_problems(opened.mistakes)}; nothing was sealed", sys.stderr)
            return MISTAKES
        seal = _seal(opened, asked)
        write_new(root / seal.path, seal_text(seal).encode("utf-8"))
    for line in _report(seal, root):
        say(line, sys.stdout)
    return DONE


def _seal(opened: Opened, asked: Sealing) -> Seal:
    """The seal to be written. Raises Refused with the reason where there is none to write."""
    ledger = opened.ledger
    if reason := why_not(ledger, asked):
        raise Refused(reason)
    if "seals" in opened.folder.outside:
        raise Refused(
            f"{opened.root / 'seals'} is a link to another place; make a folder of it, so that"
            " the seals stay with the record"
        )
    seal = compose(ledger, asked, _digests(opened, asked.month))
    amended = newest_seals(ledger.seals).get(asked.month)
    if amended and says_the_same(seal, amended):
        raise Refused(f"nothing has changed since {amended.path}, so there is nothing to amend")
    return seal


def _digests(opened: Opened, month: str) -> dict[str, str]:
    """SHA-256 of all that the seal covers, from the bytes as they are on the disk now.

    What was kept of pictures from an earlier run is not taken on trust: a seal is for years.
    """
    covered = covered_by(opened.ledger, month)
    digests: dict[str, str] = {}
    with working("Sealing") as progress, refusing("read what is to be sealed"):
        for done, one in enumerate(covered, start=1):
            digests[one.path] = digest_of_file(opened.folder, one.path)
            known = opened.ledger.digests.get(one.path, digests[one.path])
            if known != digests[one.path]:
                raise Refused(
                    f"{one.path} is not what was read of it just now or earlier; delete the folder"
                    f" {opened.root / CACHE_FOLDER}, look at the file, and try again"
                )
            progress(done, len(covered))
    return digests


def _report(seal: Seal, root: Path) -> Iterator[str]:
    name = month_long(seal.month)
    what = f"{name} is sealed again" if seal.amends else f"{name} is sealed"
    yield f"{what}: {covered_words(seal)}, listed in {root / seal.path}"
    yield f"The seal of {name} is the SHA-256 digest of that file:"
    yield seal.digest
    yield (
        "Give it to a friend, or publish: the month's page for friends shows it, so that others"
        f" hold a copy (builderlog publish {shlex.quote(str(root))})."
    )
    yield WITNESSES
    yield NOT_PROVED
    yield (
        f"From now on leave the notes of {seal.month} and their files as they are;"
        " builderlog check tells what changed, and --amend seals it with your reason."
    )


COMMAND = Command("seal", "close a month's record", STORY, options, run)
