"""The front door: reads the command line, runs one command, turns its outcome into an exit status.

0: done, doubts and gaps included. 1: the journal has mistakes, or `verify` found faults.
2: called wrongly, or the surroundings refuse. Anything else is our bug and keeps its traceback.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser
from collections.abc import Sequence

from builderlog import __version__
from builderlog.command.asking import Asker
from builderlog.command.shape import DONE, INTERRUPTED, REFUSED, Command
from builderlog.command.terminal import say
from builderlog.storing.refusal import Refused

EPILOG = """\
A journal is a folder with a journal.yaml in it; the current folder unless one is named.

Exit status: 0 done, 1 the journal has mistakes (all are told), 2 called wrongly or refused.

builderlog supports a builder's claim; it never says that one is granted. Only the authority
or its designee decides, and the kit's manual comes before anything written here."""


def commands() -> tuple[Command, ...]:
    """All commands, in the order in which a builder meets them; imported when asked for."""
    from builderlog.command import (
        bench,
        check,
        claim,
        dossier,
        letter,
        note,
        publish,
        seal,
        start,
        tally,
        unload,
        verify,
    )

    return (
        start.COMMAND,
        note.COMMAND,
        unload.COMMAND,
        check.COMMAND,
        tally.COMMAND,
        claim.COMMAND,
        publish.COMMAND,
        bench.COMMAND,
        letter.COMMAND,
        seal.COMMAND,
        dossier.COMMAND,
        verify.COMMAND,
    )


def parser_for(every: Sequence[Command]) -> ArgumentParser:
    """The command line of all commands."""
    parser = Asker(
        prog="builderlog",
        description="A builder's journal: shop notes become totals, a site for friends, "
        "and evidence for the inspector.",
        epilog=EPILOG,
    )
    parser.add_argument("--version", action="version", version=f"builderlog {__version__}")
    places = parser.add_subparsers(metavar="COMMAND", dest="command", required=True)
    for command in every:
        place = places.add_parser(
            command.word,
            help=command.summary,
            description=f"{command.summary[:1].upper()}{command.summary[1:]}.\n\n{command.story}",
        )
        command.options(place)
        place.set_defaults(run=command.run)
    return parser


def main(words: Sequence[str] | None = None) -> int:
    """Runs one command line; returns its exit status (argparse exits by itself, with 0 or 2)."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        return _answer(words)
    except BrokenPipeError:
        # The reader of our pipe has read enough; nothing more can be said to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _answer(words: Sequence[str] | None) -> int:
    try:
        arguments = parser_for(commands()).parse_args(words)
        status: int = arguments.run(arguments)
    except Refused as refusal:
        say(f"builderlog: {refusal}", sys.stderr)
        return REFUSED
    except KeyboardInterrupt:
        say("builderlog: stopped; what was there before is untouched", sys.stderr)
        return INTERRUPTED
    finally:
        sys.stdout.flush()
    return status


def run() -> None:
    """The `builderlog` command."""
    sys.exit(main())
