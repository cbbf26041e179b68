"""The front door: reads the command line, runs one command, turns its outcome into an exit status.

0: done, doubts and gaps included. 1: the journal has mistakes, or `verify` found faults.
2: called wrongly, or the surroundings refuse. Anything else is our bug and keeps its traceback.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from types import ModuleType

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


# Every command's module by its word, in the order in which a builder meets them. Each import names
# its module in full, so that who reads the imports finds it.
MODULES: Mapping[str, Callable[[], ModuleType]] = {
    "start": lambda: import_module("builderlog.command.start"),
    "note": lambda: import_module("builderlog.command.note"),
    "unload": lambda: import_module("builderlog.command.unload"),
    "check": lambda: import_module("builderlog.command.check"),
    "tally": lambda: import_module("builderlog.command.tally"),
    "claim": lambda: import_module("builderlog.command.claim"),
    "publish": lambda: import_module("builderlog.command.publish"),
    "bench": lambda: import_module("builderlog.command.bench"),
    "letter": lambda: import_module("builderlog.command.letter"),
    "seal": lambda: import_module("builderlog.command.seal"),
    "dossier": lambda: import_module("builderlog.command.dossier"),
    "verify": lambda: import_module("builderlog.command.verify"),
}


def commands(asked: str = "") -> tuple[Command, ...]:
    """The command that is asked for, else all: what is not asked for is not imported."""
    modules = [MODULES[asked]] if asked in MODULES else MODULES.values()
    return tuple(module().COMMAND for module in modules)


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
        given = sys.argv[1:] if words is None else list(words)
        arguments = parser_for(commands(next(iter(given), ""))).parse_args(given)
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
