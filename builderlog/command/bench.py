"""`bench`: the live site and the form for tonight's note, in a browser of this machine."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from datetime import datetime
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from builderlog.command.opening import CACHE_FOLDER, list_journal, take_journal
from builderlog.command.shape import DONE, Command
from builderlog.command.terminal import count_problems, print_problems, say, working
from builderlog.deciding.words import counted, listed
from builderlog.reading.problem import Weight
from builderlog.storing.refusal import Refused

if TYPE_CHECKING:
    from builderlog.bench.live_journal import JournalNow

USUAL_PORT = 8737
PARTS = ("starlette", "uvicorn", "python_multipart", "segno")
STORY = """\
Opens a page on this machine alone: tonight's hours, what is open, what the evidence lacks, the
claim, and a form that writes tonight's note. It writes the same plain files as note and unload.
The site for friends is there too, drawn again whenever you save a note in your editor; a mistake
is shown over the page, and the last good page stays below it. Ctrl-C ends it.

--phone lets a phone in the same network write the note and send pictures, after a code that
stands on this terminal. What is sent passes over that network for all in it to read: do that at
home, not in a network that strangers share."""
CAUTION = (
    "Whoever is in this network can read what the phone sends. Use your own, not one that "
    "strangers share. The phone's page ends with the bench."
)


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument(
        "--port",
        metavar="N",
        type=_port,
        default=USUAL_PORT,
        help=f"the port of the page ({USUAL_PORT}); 0 is any free one",
    )
    parser.add_argument("--open", action="store_true", help="open the page in the browser")
    parser.add_argument(
        "--phone", action="store_true", help="let a phone in the network of the house in, by a code"
    )
    parser.add_argument(
        "--address", metavar="IP", help="this machine's address in the network of the house"
    )
    parser.add_argument(
        "--trial", action="store_true", help="start, ask for its own pages once, and stop"
    )


def _port(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or int(text) > 65535:
        raise ArgumentTypeError(f"'{text}' is no port; write a number from 1024 to 65535, or 0")
    return int(text)


def run(arguments: Namespace) -> int:
    """Serves until Ctrl-C. Raises Refused where it cannot, or where its parts are missing."""
    missing = [part for part in PARTS if find_spec(part) is None]
    if missing:
        raise Refused(
            f"the bench needs {listed(missing)}, not installed here; "
            "in the folder of builderlog write: pip install '.[bench]'"
        )
    from builderlog.command.bench_opening import Bench, Wanted

    root = Path(arguments.journal)
    list_journal(root)
    wanted = Wanted(
        root=root,
        cache=root / CACHE_FOLDER,
        port=arguments.port,
        phone=arguments.phone or bool(arguments.address),
        address=arguments.address or "",
    )
    if wanted.phone:
        say(CAUTION, sys.stdout)
    with working("Reading the journal"):
        bench = Bench(wanted, datetime.now, _say)
    bench.live.told = _tell
    say(f"The bench: {bench.url}", sys.stdout)
    say(f"The site for friends, live: {bench.url}site/", sys.stdout)
    _tell(bench.live.now, ())
    if arguments.trial:
        return bench.try_out()
    say("Ctrl-C ends it.", sys.stdout)
    bench.serve(lambda: _open(bench.url) if arguments.open else None)
    say("the bench is closed; all notes are in the journal", sys.stdout)
    return DONE


def _open(url: str) -> None:
    """In the browser; where none can be opened the address stands on the terminal."""
    import webbrowser

    webbrowser.open(url)


def _say(line: str) -> None:
    say(line, sys.stdout)


def _tell(now: JournalNow, changed: tuple[str, ...]) -> None:
    """One line a saving: what changed, and how the journal stands."""
    pages = sum(path.endswith(".html") for path in changed)
    drawn = f"{counted(pages, 'page')} changed; " if pages else ""
    say(f"{drawn}{count_problems(now.problems)}", sys.stdout)
    mistakes = [each for each in now.problems if each.weight is Weight.MISTAKE]
    print_problems(mistakes, now.folder, sys.stdout)
    sys.stdout.flush()


COMMAND = Command("bench", "write and look at the journal in a browser", STORY, options, run)
