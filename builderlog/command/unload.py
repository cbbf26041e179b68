"""`unload`: files pictures from the inbox or a card, and hands each to the note of its day."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER, list_journal, take_journal
from builderlog.command.shape import DONE, Command, day
from builderlog.command.terminal import say, working
from builderlog.command.unload_packing import take_packing_list
from builderlog.command.unload_print import (
    day_lines,
    noteless_lines,
    odd_lines,
    sum_line,
    twin_lines,
)
from builderlog.deciding.words import counted
from builderlog.knowing.files import is_picture
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.noting.clock import CLOCK_FILE
from builderlog.noting.filing import INBOX_FOLDER, PHOTOS_FOLDER, HowToFile, Seen, look_at
from builderlog.noting.unloading import Handed, Unloading, nearly_same, unload
from builderlog.reading.folder import Folder
from builderlog.storing.lock import hold
from builderlog.storing.refusal import Refused, refusing

STORY = """\
Takes the pictures from the journal's inbox/, reads when each was taken, and files the original,
unaltered, as photos/YYYY/YYYY-MM-DD-HHMMSS-NAME. It adds each to the photos of the note of its
day and changes no other byte of that note. Only when the copy was read back and is the same, and
the note names it, is the picture taken out of the inbox. What is no picture stays there and is
named; so does a picture whose camera had a clock that is plainly wrong, or whose month is sealed.

With --from DIR it reads a phone's folder or a card, and leaves it as it is, unless --move is given.
What was filed once is not filed again, so the same card can be read every week.

Pictures of a day without a note are filed all the same; --catch-up lays out a note for each such
day."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument(
        "--from",
        dest="source",
        metavar="DIR",
        help="read this folder (a card, a phone) instead of the inbox; it is left as it is",
    )
    parser.add_argument(
        "--move",
        action="store_true",
        help="with --from: take away from there what is safe in the journal",
    )
    parser.add_argument(
        "--day",
        type=day,
        metavar="DATE",
        help="the day of pictures that have no date, or one that is plainly wrong",
    )
    parser.add_argument(
        "--as-pages",
        action="store_true",
        help="they are pages of a paper notebook; the day is --day, or the one in a page's name",
    )
    parser.add_argument(
        "--catch-up",
        action="store_true",
        help="lay out a note for every day that has pictures and no note",
    )
    told = "bring in a kit's packing list instead, saved as CSV: its parts become a note of today"
    parser.add_argument("--packing-list", metavar="FILE", type=Path, help=told)
    parser.add_argument("--on", metavar="DATE", type=day, help="today, if it is another day")


def run(arguments: Namespace) -> int:
    """Unloads. Raises Refused where the journal or the folder cannot be read or written."""
    root = Path(arguments.journal)
    today = arguments.on or date.today()  # noqa: DTZ011 - the builder's own day
    list_journal(root)
    if arguments.packing_list:
        return take_packing_list(root, arguments.packing_list, today)
    files = _files(root, arguments)
    with hold(root / CACHE_FOLDER, f"the journal {root}"):
        ledger = _read(root)
        started = ledger.settings.started.day if ledger.settings.started else None
        remove = arguments.move or arguments.source is None
        how = HowToFile(remove, today, arguments.day, started, pages=arguments.as_pages)
        asked = Unloading(root, ledger, how)
        done = _unload(asked, files)
        if arguments.catch_up:
            _catch_up(root, today)
        else:
            _say(noteless_lines(done))
            _tell_unnamed(asked, done)
    return DONE


def _unload(asked: Unloading, files: Sequence[Path]) -> list[Handed]:
    """Says what becomes of each evening's pictures as soon as it is done."""
    seen = _look(asked, files)
    done: list[Handed] = []
    try:
        for handed in unload(asked, seen):
            done.append(handed)
            _say(day_lines(handed))
    except Refused as refusal:
        told = "what is not filed is where it was; run it again when that is mended"
        raise Refused(f"{refusal}; {told}") from refusal
    finally:  # of a run that is refused half-way what was done is told too
        _say(odd_lines(asked.root, done))
        _say(twin_lines(nearly_same(asked.ledger, seen, done)))
        _say([sum_line(done, left_there=not asked.how.remove)])
    return done


def _say(lines: Iterable[str]) -> None:
    for line in lines:
        say(line, sys.stdout)


def _read(root: Path) -> Ledger:
    with working("Reading the journal") as progress, refusing(f"read the journal in {root}"):
        return read_journal(Folder.at(root), root / CACHE_FOLDER, progress)


def _look(asked: Unloading, files: Sequence[Path]) -> list[Seen]:
    seen: list[Seen] = []
    with working("Looking at the pictures") as progress:
        for one in look_at(asked.root, files, asked.how):
            seen.append(one)
            progress(len(seen), len(files))
    return seen


def _files(root: Path, arguments: Namespace) -> list[Path]:
    """What lies in the inbox, or in the folder that was named. Raises Refused."""
    if arguments.source is None:
        if arguments.move:
            raise Refused("--move goes with --from; what is in the inbox is moved anyway")
        inbox = root / INBOX_FOLDER
        files = _walk(inbox) if inbox.is_dir() else ()
        return [file for file in files if file != root / CLOCK_FILE]
    source = Path(arguments.source)
    if not source.is_dir():
        found = "is a file" if source.exists() else "does not exist"
        raise Refused(f"{source} {found}; name the folder that holds the pictures")
    _refuse_journal(root, source)
    return list(_walk(source))


def _refuse_journal(root: Path, source: Path) -> None:
    """A folder with the journal in it, or in the journal (but for the inbox), is no card."""
    here, there = root.resolve(), source.resolve()
    if here.is_relative_to(there):
        raise Refused(f"{source} holds the journal itself; name the folder of the pictures alone")
    if there.is_relative_to(here) and not there.is_relative_to(here / INBOX_FOLDER):
        raise Refused(f"{source} belongs to the journal; what lies there need not be filed")


def _walk(folder: Path) -> Iterator[Path]:
    """Every file below a folder, in order; hidden ones are the system's, not the builder's."""
    with refusing(f"read {folder}"):
        for at, folders, names in os.walk(folder, onerror=_raise):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            yield from (Path(at) / name for name in sorted(names) if not name.startswith("."))


def _raise(error: OSError) -> None:
    raise error


def _tell_unnamed(asked: Unloading, done: Iterable[Handed]) -> None:
    """How many pictures in photos/ no note names, so that none is forgotten there."""
    named = {picture.path for picture in asked.ledger.pictures}
    named.update(one.path for handed in done if handed.note for one in handed.filed if one.path)
    with refusing(f"read the folder {asked.root}"):
        paths = Folder.at(asked.root).paths
    left = [path for path in paths if _is_photo(path) and path not in named]
    if left:
        told = counted(len(left), "picture in photos/ is", "pictures in photos/ are")
        _say([f"{told} in no note yet; builderlog unload --catch-up lays out notes for their days"])


def _is_photo(path: str) -> bool:
    return path.startswith(f"{PHOTOS_FOLDER}/") and is_picture(path)


def _catch_up(root: Path, today: date) -> None:
    from builderlog.noting.catching_up import catch_up

    _say(catch_up(root, today))


COMMAND = Command(
    "unload", "file pictures, and hand each to the note of its day", STORY, options, run
)
