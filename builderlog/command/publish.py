"""`publish`: draws the friends' site into a folder, whole or not at all."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER, Opened, open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day
from builderlog.command.terminal import count_problems, print_problems, say, say_indented, working
from builderlog.deciding.checks import paths_with_mistakes
from builderlog.deciding.checks_own_words import folders_in_look, names_in_look, told_anyhow
from builderlog.deciding.explaining import explain
from builderlog.deciding.withheld import lines_of
from builderlog.deciding.words import counted
from builderlog.drawing.look_files import HEAD_BYTES, unseen
from builderlog.drawing.publication import (
    Draft,
    Manuscript,
    draft_of,
    kept_from_friends,
    theme_of,
)
from builderlog.drawing.site import write_site
from builderlog.drawing.theme import LOOK, ThemeFault
from builderlog.knowing.journal import NOTES_FOLDER
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, mistake
from builderlog.storing.cache import Store
from builderlog.storing.outbox import Changes, open_outbox

TEXT_ENDINGS = (".html", ".css", ".js", ".json", ".md", ".svg", ".txt", ".xml")
LONGEST_TEXT = 1_000_000  # bytes: what is longer was written by no builder
STORY = """\
The site is a folder of plain pages: it opens from disk, from a stick, and from any folder of
a web space. Nothing private is on it, and no request leaves it. With mistakes in the journal
the last good site stays untouched; --keep-going publishes all other notes and lists what it
left out. The same journal gives the same bytes, reckoned on the newest date in the record.
At the end stands what is kept from friends, and where your own words name it all the same."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument("--out", metavar="DIR", help="where the site goes (JOURNAL/published)")
    parser.add_argument(
        "--on", metavar="DATE", type=day, help="reckon on this day instead of the record's newest"
    )
    parser.add_argument(
        "--keep-going",
        action="store_true",
        help="leave out notes with mistakes and publish the rest",
    )


def run(arguments: Namespace) -> int:
    """Publishes; exit status 1 where the journal has mistakes, with --keep-going too."""
    opened = open_journal(arguments, arguments.on)
    if opened.mistakes and not arguments.keep_going:
        return _stop(opened, opened.mistakes)
    store = Store(opened.root / CACHE_FOLDER)
    draft = _draft(opened, store)
    if draft.mistakes and not arguments.keep_going:
        return _stop(opened, draft.mistakes)
    out = Path(arguments.out) if arguments.out else opened.root / "published"
    try:
        changes = _write(opened, draft, store, out)
    except ThemeFault as fault:
        return _stop(opened, (mistake(fault.place, "theme", fault.message),))
    for line in _report(opened, changes, out):
        say(line, sys.stdout)
    _tell_withheld(opened, draft.mistakes)
    if store.trouble:
        say(f"builderlog: nothing could be kept for next time: {store.trouble}", sys.stderr)
    return _left_out(opened, draft.mistakes)


def _stop(opened: Opened, mistakes: tuple[Problem, ...]) -> int:
    print_problems(mistakes, opened.folder, sys.stderr)
    say(f"builderlog: {count_problems(mistakes)}; nothing was published", sys.stderr)
    return MISTAKES


def _draft(opened: Opened, store: Store) -> Draft:
    written = Manuscript(opened.folder, opened.ledger, opened.mistakes)
    with working("Drawing pictures") as progress:
        return draft_of(written, store, progress)


def _write(opened: Opened, draft: Draft, store: Store, out: Path) -> Changes:
    theme = theme_of(opened.ledger, opened.root)
    with open_outbox(out, "site", opened.folder.originals(), opened.root) as outbox:
        write_site(draft.public, draft.copies.refs, theme, store, outbox)
        changes = outbox.commit()
    store.sweep()
    return changes


def _report(opened: Opened, changes: Changes, out: Path) -> Iterator[str]:
    files = (*changes.new, *changes.changed, *changes.unchanged)
    pages = sum(path.endswith(".html") for path in files)
    pictures = sum(path.startswith("pictures/") for path in files)
    yield f"{counted(pages, 'page')} and {counted(pictures, 'picture file')} are in {out}"
    yield f"{len(changes.new)} new, {len(changes.changed)} changed, {len(changes.deleted)} deleted"
    if opened.problems:
        yield f"{count_problems(opened.problems)}: builderlog check tells them"
    yield f"Open {out / 'index.html'}"


def _tell_withheld(opened: Opened, mistakes: tuple[Problem, ...]) -> None:
    """What friends do not see, and where the builder's own words tell it all the same."""
    written = Manuscript(opened.folder, opened.ledger, opened.mistakes)
    lines = tuple(lines_of(kept_from_friends(written, mistakes)))
    if lines:
        say(lines[0], sys.stdout)
    for line in lines[1:]:
        say_indented(line, 2, sys.stdout, hang=2)
    answers = opened.ledger.settings.answers
    texts = tuple(_look_texts(opened.folder))
    look = explain((*names_in_look(opened.ledger, texts), *folders_in_look(texts)), answers)
    named = told_anyhow((*opened.problems, *look))
    if named:
        say("Your own words name what is kept back:", sys.stderr)
        print_problems(named, opened.folder, sys.stderr)
    twins = [each for each in opened.problems if each.code == "kept-twin" and not each.because]
    if twins:
        say("Pictures that friends see are copies of others that are kept back:", sys.stderr)
        print_problems(twins, opened.folder, sys.stderr)
    for path, what in _unseen(opened.folder):
        told = f"{path} goes along as it is: {what} may hold names, places and times inside"
        say(f"builderlog: {told}", sys.stderr)


def _unseen(folder: Folder) -> Iterator[tuple[str, str]]:
    """Files of the look from which no camera's words are taken, and what each is."""
    for path in folder.paths:
        if path.startswith(f"{LOOK}/"):
            with folder.where(path).open("rb") as file:
                what = unseen(file.read(HEAD_BYTES))
            if what:
                yield path, what


def _look_texts(folder: Folder) -> Iterator[tuple[str, str]]:
    """The files of the journal's look that may hold words, by path."""
    for path in folder.paths:
        is_text = path.startswith(f"{LOOK}/") and path.lower().endswith(TEXT_ENDINGS)
        if is_text and folder.size(path) <= LONGEST_TEXT:
            yield path, folder.read(path).decode("utf-8", "replace")


def _left_out(opened: Opened, mistakes: tuple[Problem, ...]) -> int:
    """What `--keep-going` left out, note by note; the exit status."""
    if not mistakes:
        return DONE
    print_problems(mistakes, opened.folder, sys.stderr)
    for path in sorted(paths_with_mistakes(mistakes)):
        if path.startswith(NOTES_FOLDER):
            say(f"builderlog: left out: {path}", sys.stderr)
    return MISTAKES


COMMAND = Command("publish", "draw the site for friends", STORY, options, run)
