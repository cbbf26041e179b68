"""The months' letters to friends: `letters/2026-03.md`, read like a note, in the builder's words.

A letter is no part of the record: nothing is counted from it, and no inspector gets it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from builderlog.knowing.entries import DatedWord
from builderlog.knowing.forms import Day, Desk, Key, Many, Text, read_row
from builderlog.reading.folder import Folder
from builderlog.reading.front_matter import read_note
from builderlog.reading.problem import Place, Problem, doubt
from builderlog.reading.prose import Prose
from builderlog.reading.words import Table

K = Key[Any]

LETTERS_FOLDER = "letters/"
ENDING = ".md"
DIGEST_LENGTH = 6  # hex digits: enough to tell the facts of one month apart
MONTH = re.compile(r"(?!0000)\d{4}-(?:0[1-9]|1[0-2])", re.ASCII)

TITLE = K("title", Text(), "what stands over the letter", "March 2026")
WRITTEN = K("written", Day(), "the day of the letter", "2026-04-02")
DRAFT = K("draft", Text(), "the digest of the words as they were drafted", "5f2c91")
FACTS = K("facts", Many(Text()), "the digests of what was known then", "0b7d2e 91cc04")
LETTER_KEYS: tuple[K, ...] = (TITLE, WRITTEN, DRAFT, FACTS)


@dataclass(frozen=True, slots=True)
class Letter:
    """A month's letter; `facts` are digests of what the draft, or the builder, knew already."""

    path: str
    month: str  # "2026-03"
    title: str | None
    written: date | None
    facts: frozenset[str]
    prose: Prose
    edited: bool  # there are words, and no longer those of the draft, or never were


def letter_path(month: str, ending: str = ENDING) -> str:
    """Where the letter of a month stands in the journal."""
    return f"{LETTERS_FOLDER}{month}{ending}"


def read_letters(folder: Folder) -> tuple[tuple[Letter, ...], tuple[Problem, ...]]:
    """All letters, oldest month first; a file that is called otherwise is told."""
    letters: list[Letter] = []
    problems = [*_outside(folder)]
    for path in folder.paths:
        if not path.startswith(LETTERS_FOLDER) or not path.endswith(ENDING):
            continue
        if month_of_path(path) is None:
            problems.append(_no_letter(path))
            continue
        letter, told = letter_of(path, folder.read(path))
        letters.append(letter)
        problems.extend(told)
    return tuple(letters), tuple(problems)


def letter_of(path: str, data: bytes) -> tuple[Letter, tuple[Problem, ...]]:
    """The letter as far as it can be understood; its path names its month."""
    raw, told = read_note(path, data)
    desk = Desk()
    row = read_row(raw.table or Table((), raw.head), LETTER_KEYS, desk, "a letter")
    title, written, draft, facts = (row.get(key) for key in LETTER_KEYS)
    day: DatedWord | None = written
    letter = Letter(
        path=path,
        month=month_of_path(path) or "",
        title=title.text if title else None,
        written=day.day if day else None,
        facts=frozenset(digest for word in facts or () for digest in word.text.split()),
        prose=raw.prose,
        edited=_edited(raw.prose.text, draft.text if draft else None),
    )
    return letter, (*told, *desk.problems)


def _edited(words: str, draft: str | None) -> bool:
    """Whether the words are the builder's own; where there are none, they are nobody's."""
    return bool(words.strip()) and draft != words_digest(words)


def words_digest(text: str) -> str:
    """A short digest of words, whatever the line ends and the blanks at them."""
    lines = [line.rstrip() for line in text.strip().splitlines()]
    data = "\n".join(lines).encode("utf-8", "surrogatepass")
    return hashlib.sha256(data).hexdigest()[:DIGEST_LENGTH]


def month_of_path(path: str) -> str | None:
    """The month that a letter's path names; None where it names none."""
    stem = path.removeprefix(LETTERS_FOLDER).removesuffix(ENDING)
    return stem if MONTH.fullmatch(stem) else None


def _outside(folder: Folder) -> Iterator[Problem]:
    for path in sorted(folder.outside):
        if f"{path}/".startswith(LETTERS_FOLDER):
            told = "this is a link to a place outside the journal, or to a folder, and is not read"
            yield doubt(Place(path), "letter-outside", f"{told}; put the file itself here")


def _no_letter(path: str) -> Problem:
    told = "this file lies among the letters, but its name is no month, so it is read as none"
    return doubt(Place(path), "not-a-letter", f"{told}; name it as in letters/2026-03.md")
