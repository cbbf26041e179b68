"""The draft of a month's letter: what the public record knows of it, for the builder to rewrite.

Front matter and Markdown, like a note. It tells nothing that friends could not read on the site.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from builderlog.deciding.letter_facts import (
    Fact,
    MonthTold,
    facts_of,
    opening_of,
    summary_of,
)
from builderlog.deciding.sums import NO_AREA, NO_AREA_NAME
from builderlog.deciding.words import clipped, month_long
from builderlog.knowing.letters import words_digest

MOST_PICTURES = 6
OPENING_LENGTH = 200
MOST_PARAGRAPHS = 8  # notes of one area; of more, the shorter list
COLUMNS = 80
_MARKS = re.compile(r"[\\`*\[\]<>]|(?<![^\W_])_|_(?![^\W_])|&(?=#?\w+;)")
_BEGINNING = re.compile(r"(\d{1,9})([.)])(?=\s)|([-+#=~|])")
_SENTENCE = re.compile(r"[.!?\N{HORIZONTAL ELLIPSIS}][\"'\N{RIGHT DOUBLE QUOTATION MARK})]*(?=\s)")
_ENDS = (".", "!", "?", "\N{HORIZONTAL ELLIPSIS}")
_MARK_ALONE = re.compile(r"(?<=\S) (?=(?:[-+=~#|]+|\d{1,9}[.)])(?: |$))")
_LISTS = (  # heading, the kind of fact below it, what the heading says already
    ("Done", "done", "Done: "),  # of areas without a note of their own
    ("Parts", "part", ""),
    ("What went less well", "snag", ""),
    ("Decided", "decided", "Decided: "),
    ("What is next", "next", "Next: "),
)
HELP = """\
# These lines are builderlog's: by them it can tell that the words below are yours, and which
# facts are new since. Everything below the second --- is for you to rewrite.
"""


@dataclass(frozen=True, slots=True)
class Shelf:
    """The pictures that may be drawn upon: path in the journal and the best of each note."""

    paths: Mapping[str, str]  # by digest
    best: Mapping[str, str]  # by key of a note: the digest of the picture that opens it


def draft_text(told: MonthTold, shelf: Shelf, written: date) -> str:
    """The whole file."""
    facts = facts_of(told)
    words = "\n\n".join(_paragraphs(told, facts, shelf)) + "\n"
    known = " ".join(dict.fromkeys(fact.digest for fact in facts))
    head = [
        "---",
        f"title: {month_long(told.month.month)}",
        f"written: {written}",
        HELP.rstrip(),
        f"draft: {words_digest(words)}",
        f"facts: {known}",
        "---",
    ]
    return "\n".join(head) + "\n" + words


def _paragraphs(told: MonthTold, facts: Sequence[Fact], shelf: Shelf) -> Iterator[str]:
    areas = _areas(facts)
    yield "Dear friends,"
    yield _wrapped(marked(summary_of(told)))
    chosen = chosen_pictures(told, shelf)
    for area in areas:
        if areas != (NO_AREA,):
            yield f"## {marked(told.areas.get(area) or NO_AREA_NAME)}"
        yield from _area_paragraphs(area, told, facts, _pictures(facts, chosen, shelf))
    yield from _list_paragraphs(areas, facts)
    if told.public.builder and told.public.builder != "the builder":
        yield marked(told.public.builder)


def _pictures(
    facts: Sequence[Fact], chosen: Mapping[str, str], shelf: Shelf
) -> Mapping[str, tuple[str, ...]]:
    """The chosen pictures of each note, by its key, in the order of the note."""
    found: dict[str, tuple[str, ...]] = {}
    for fact in facts:
        if fact.kind == "picture" and fact.key in chosen:
            line = picture_line(fact, shelf.paths[fact.key])
            found[chosen[fact.key]] = (*found.get(chosen[fact.key], ()), line)
    return found


def _list_paragraphs(areas: Sequence[str], facts: Sequence[Fact]) -> Iterator[str]:
    """What belongs to no area: parts, snags, decisions, what is next."""
    for heading, kind, prefix in _LISTS:
        mine = [fact for fact in facts if fact.kind == kind]
        if kind == "done":
            mine = [fact for fact in mine if fact.area not in areas]
        if mine:
            yield f"## {heading}"
            yield _listed(fact.line.removeprefix(prefix) for fact in mine)


def _area_paragraphs(
    area: str, told: MonthTold, facts: Sequence[Fact], pictures: Mapping[str, tuple[str, ...]]
) -> Iterator[str]:
    """The notes of an area, each with its first words and its pictures; then what is done."""
    notes = {note.key: note for note in told.notes}
    mine = [fact for fact in facts if fact.kind == "note" and fact.area == area]
    done = [fact for fact in facts if fact.kind == "done" and fact.area == area]
    waiting: list[str] = []
    for fact in mine:
        waiting.append(_note_line(fact, opening_of(notes[fact.key])))
        if len(mine) <= MOST_PARAGRAPHS:
            yield _wrapped(marked(waiting.pop()))
        elif fact.key in pictures:
            yield _listed(waiting)
            waiting = []
        yield from pictures.get(fact.key, ())
    if waiting or done:
        yield _listed([*waiting, *(fact.line for fact in done)])


def _areas(facts: Sequence[Fact]) -> tuple[str, ...]:
    """The areas in which notes were written, in the order of the month; other work last."""
    found = dict.fromkeys(fact.area for fact in facts if fact.kind == "note")
    return tuple(sorted(found, key=lambda area: area == NO_AREA))


def _listed(lines: Iterable[str]) -> str:
    return "\n".join(_wrapped(f"- {marked(line)}", "  ") for line in dict.fromkeys(lines))


def _note_line(fact: Fact, opening: str) -> str:
    title = fact.line if fact.line.endswith(_ENDS) else f"{fact.line}."
    return f"{title} {_opening(opening)}" if opening else title


def _opening(text: str) -> str:
    """As many whole sentences as may stand there; of one that is longer its first words."""
    ends = (found.end() for found in _SENTENCE.finditer(f"{text} "))
    whole = max((end for end in ends if end <= OPENING_LENGTH), default=0)
    return text[:whole] or clipped(text, OPENING_LENGTH)


def _wrapped(text: str, indent: str = "") -> str:
    """The text in lines for an editor; none begins with what Markdown would take for a mark."""
    glued = _MARK_ALONE.sub("\0", text)
    lines = textwrap.fill(
        glued, COLUMNS, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )
    return lines.replace("\0", " ")


def fact_line(fact: Fact, shelf: Shelf) -> str:
    """A fact as one line that can be pasted into the letter."""
    if fact.kind == "picture" and fact.key in shelf.paths:
        return picture_line(fact, shelf.paths[fact.key])
    return marked(fact.line)


def picture_line(fact: Fact, path: str) -> str:
    """A picture in Markdown, as seen from the folder of letters."""
    return f"![{marked(fact.line)}](../{quote(path, safe='/')})"


def chosen_pictures(told: MonthTold, shelf: Shelf) -> dict[str, str]:
    """At most six pictures, by digest with the key of their note, spread over the month.

    First the one that opens each note; where notes are few, their other pictures fill up.
    """
    notes = [note for note in told.notes if any(use.digest in shelf.paths for use in note.photos)]
    spread = [notes[i * len(notes) // MOST_PICTURES] for i in range(MOST_PICTURES)] if notes else []
    some = notes if len(notes) <= MOST_PICTURES else spread
    chosen: dict[str, str] = {}
    for note in some:
        best = shelf.best.get(note.key)
        if best in shelf.paths and best is not None:
            chosen.setdefault(best, note.key)
    others = sorted(
        ((use.caption is None, note.key, use.digest) for note in some for use in note.photos),
        key=lambda each: each[0],
    )
    for _, key, digest in others:
        if digest in shelf.paths and len(chosen) < MOST_PICTURES:
            chosen.setdefault(digest, key)
    return chosen


def marked(text: str) -> str:
    """Plain words as Markdown that shows them as they are, on one line."""
    plain = _MARKS.sub(lambda found: "\\" + found[0], " ".join(text.split()))
    return _BEGINNING.sub(_unbegun, plain, count=1) if _BEGINNING.match(plain) else plain


def _unbegun(found: re.Match[str]) -> str:
    return f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}"
