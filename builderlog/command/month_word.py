"""A month on the command line: it stands behind the journal, which may be left out."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Sequence
from pathlib import Path

from builderlog.knowing.letters import MONTH
from builderlog.storing.refusal import Refused


def take_journal_and_month(parser: ArgumentParser) -> None:
    """The journal may be left out, so the last word is the month."""
    told = "the journal's folder (the current one unless named)"
    parser.add_argument("journal", nargs="?", metavar="JOURNAL", help=told)
    parser.add_argument("month", nargs="?", metavar="MONTH", help="the month, such as 2026-03")


def journal_and_month(given: Sequence[str | None], command: str) -> tuple[Path, str]:
    """Journal and month, from the places of the command line. Raises Refused."""
    named = [word for word in given if word]
    months = [word for word in named if MONTH.fullmatch(word)]
    if not named:
        told = f"which month? write it behind the command, such as: builderlog {command} 2026-03"
        raise Refused(told)
    if not months:
        raise Refused(f"'{named[-1]}' is no month; write it as 2026-03, behind the journal")
    month = months[-1]
    named.reverse()
    named.remove(month)
    if len(named) > 1:
        raise Refused(f"one journal and one month are wanted, not {', '.join(reversed(named))} too")
    return Path(named[0] if named else "."), month
