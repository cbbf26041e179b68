"""`letter`: a month's letter to friends, drafted from the public record, in the builder's words."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from builderlog.command.letter_print import (
    ENDINGS,
    Made,
    News,
    changed_by_hand,
    letter_is_drafted,
    letter_is_made,
    print_news,
)
from builderlog.command.month_word import journal_and_month, take_journal_and_month
from builderlog.command.opening import CACHE_FOLDER, Opened, list_journal, open_journal
from builderlog.command.shape import DONE, MISTAKES, Command, day
from builderlog.command.terminal import count_problems, print_problems, say, working
from builderlog.deciding.letter_facts import MonthTold, facts_of, month_told, new_facts
from builderlog.deciding.letter_rules import may_still_grow, why_no_letter
from builderlog.deciding.public import PublicLedger, PublicLetter
from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.publishing_letters import LetterDesk, public_letter
from builderlog.deciding.visibility import Visibility, what_friends_see
from builderlog.deciding.words import month_long
from builderlog.drawing.letter_file import LetterFiles, draw_letter, shown_in
from builderlog.drawing.letter_pictures import LetterPicture
from builderlog.drawing.publication import theme_of
from builderlog.drawing.theme import ThemeFault
from builderlog.knowing.letters import Letter, letter_of, letter_path
from builderlog.noting.letter_draft import Shelf, draft_text, fact_line
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.sheets.book import Book, open_book
from builderlog.sheets.letter import letter_sheet
from builderlog.sheets.shots import best_photo
from builderlog.storing.cache import Store
from builderlog.storing.lock import hold
from builderlog.storing.made_files import MadeFiles
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused

STORY = """\
The first time it writes a draft, letters/MONTH.md: numbers, notes by area, the best pictures,
parts, decisions and what is next, from nothing but what friends may read. The draft is yours to
rewrite, and is never written over.

Each time it makes two files of your words, to be sent: letters/MONTH.html, one file with its
pictures inside and under 2 MB, and letters/MONTH.txt for a mail. It lists what the record knows now
and the draft did not. Once you have changed the draft, the month's page for friends shows your
words."""


@dataclass(frozen=True, slots=True)
class _Desk:
    """What a letter is made from."""

    opened: Opened
    month: str
    sight: Visibility
    public: PublicLedger
    book: Book
    told: MonthTold

    @property
    def shelf(self) -> Shelf:
        """The pictures that friends may see: where each stands, and which opens a note."""
        paths: dict[str, str] = {}
        for path, digest in sorted(self.sight.digests.items()):
            paths.setdefault(digest, path)
        best = {key: best_photo(shots) for key, shots in self.book.shots.items()}
        return Shelf(paths, {key: photo.digest for key, photo in best.items() if photo})


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal_and_month(parser)
    parser.add_argument(
        "--on", metavar="DATE", type=day, help="the day of the letter (today unless named)"
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help="make the .html and .txt anew, even if you changed them by hand",
    )


def run(arguments: Namespace) -> int:
    """Drafts, or draws; exit status 1 and nothing to be sent where there are mistakes.

    Raises Refused where the month has nothing to tell, or a file was changed by hand.
    """
    root, month = journal_and_month((arguments.journal, arguments.month), "letter")
    list_journal(root)
    with hold(root / CACHE_FOLDER, f"the journal {root}"):
        opened = open_journal(Namespace(journal=root))
        if opened.mistakes:
            return _stop(opened, opened.mistakes)
        desk = _desk(opened, month)
        found = next((each for each in opened.ledger.letters if each.month == month), None)
        written = arguments.on or date.today()  # noqa: DTZ011 - the builder's own day
        letter = found or _drafted(desk, written)
        try:
            files = _draw(desk, letter)
        except ThemeFault as fault:
            theme = mistake(fault.place, "theme", fault.message)
            return _stop(opened, (theme,), "" if found else letter.path)
        if files.faults:
            told = tuple(_undrawable(desk, letter, files))
            return _stop(opened, told, "" if found else letter.path)
        kept = _write(opened.root, month, files, anyway=arguments.replace)
    if found is None:
        _report_draft(desk, Made(files, kept))
    else:
        _report(desk, letter, Made(files, kept))
    if kept:
        raise Refused(changed_by_hand(kept))
    return DONE


def _desk(opened: Opened, month: str) -> _Desk:
    """Raises Refused where the month has nothing that a letter could tell."""
    ledger = opened.ledger
    public = public_ledger(ledger)
    told = month_told(public, month)
    there = any(each.month == month for each in ledger.letters)
    reason = why_no_letter(ledger, told, month)
    if told is None or (reason and not there):
        raise Refused(reason or f"the record has no {month_long(month)}")
    if "letters" in opened.folder.outside:
        raise Refused(
            f"{opened.root / 'letters'} is a link to another place; make a folder of it, so that"
            " the letters stay with the journal"
        )
    sight = what_friends_see(ledger, frozenset())
    return _Desk(opened, month, sight, public, open_book(public), told)


def _drafted(desk: _Desk, written: date) -> Letter:
    """Writes the draft, and reads it as it will be read from now on."""
    path = letter_path(desk.month)
    data = draft_text(desk.told, desk.shelf, written).encode("utf-8")
    write_new(desk.opened.root / path, data)
    return letter_of(path, data)[0]


def _draw(desk: _Desk, letter: Letter) -> LetterFiles:
    """The letter's files. Raises `ThemeFault`."""
    opened = desk.opened
    sheet = letter_sheet(desk.book, _public_letter(desk, letter))
    there = {each.file.digest: each for each in reversed(opened.ledger.pictures)}
    pictures = [
        LetterPicture(there[digest].file, opened.folder.where(there[digest].path))
        for digest in shown_in(sheet)
    ]
    theme = theme_of(opened.ledger, opened.root)
    with working("Drawing the letter"):
        return draw_letter(sheet, pictures, theme, Store(opened.root / CACHE_FOLDER))


def _public_letter(desk: _Desk, letter: Letter) -> PublicLetter:
    return public_letter(letter, LetterDesk.of(desk.opened.ledger, desk.sight))


def _write(root: Path, month: str, files: LetterFiles, *, anyway: bool) -> tuple[str, ...]:
    """Writes what is to be sent; returns the paths that were changed by hand and left alone."""
    made = MadeFiles(root / CACHE_FOLDER)
    paths = [letter_path(month, ending) for ending in ENDINGS]
    both = zip(paths, (files.html, files.text), strict=True)
    return tuple(path for path, data in both if not made.write(root, path, data, anyway=anyway))


def _undrawable(desk: _Desk, letter: Letter, files: LetterFiles) -> Iterator[Problem]:
    """Pictures that looked whole and cannot be decoded, at their place in the letter."""
    lines = {link.target: link.line for link in letter.prose.links}
    for target, kind, value in _public_letter(desk, letter).links:
        if kind == "picture" and value in files.faults:
            place = Place(letter.path, letter.prose.place.line + lines[target] - 1)
            yield mistake(place, "picture-unreadable", files.faults[value])


def _stop(opened: Opened, mistakes: tuple[Problem, ...], drafted: str = "") -> int:
    """`drafted` is the path of the draft that was written before."""
    print_problems(mistakes, opened.folder, sys.stderr)
    draft = f"{opened.root / drafted} is the draft, but " if drafted else ""
    say(f"builderlog: {count_problems(mistakes)}; {draft}no letter was made", sys.stderr)
    return MISTAKES


def _report_draft(desk: _Desk, made: Made) -> None:
    grows = may_still_grow(desk.opened.ledger, desk.month)
    for line in letter_is_drafted(desk.opened.root, desk.month, made, may_grow=grows):
        say(line, sys.stdout)


def _report(desk: _Desk, letter: Letter, made: Made) -> None:
    """What was made, what friends do not get of it, and what is new."""
    opened = desk.opened
    for line in letter_is_made(opened.root, letter, made):
        say(line, sys.stdout)
    problems = [
        each for each in opened.problems if each.place.path == letter.path and not each.because
    ]
    print_problems(problems, opened.folder, sys.stderr)
    shown = shown_in(letter_sheet(desk.book, _public_letter(desk, letter)))
    fresh = new_facts(facts_of(desk.told), letter, shown)
    if fresh:
        lines = tuple((fact.digest, fact_line(fact, desk.shelf)) for fact in fresh)
        file, drafted = opened.root / letter.path, bool(letter.facts)
        print_news(News(lines, file, letter.edited, drafted), sys.stdout)


COMMAND = Command("letter", "write a month's letter to friends", STORY, options, run)
