"""Checks of letters: pictures and links in them that lead nowhere, or that friends do not get.

And what a letter has from a note that was made private since.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.publishing_letters import LetterDesk, LetterLink, links_of_letter
from builderlog.deciding.visibility import what_friends_see
from builderlog.deciding.words import MONTHS, month_long, month_of
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.letters import Letter
from builderlog.reading.problem import Place, Problem, doubt, gap, mistake
from builderlog.reading.prose import all_words

LEAST_WORDS = 4  # of a sentence that is known again: fewer are anybody's
MOST_WORDS = 8  # of it that are looked for: a draft may have cut it, or the builder its end
_BETWEEN = r"[\s\\*_`>]+"  # line breaks and marks of Markdown between two words
_SENTENCE = re.compile(r"(?<=[.!?…])\s+|[\"\\\n]")  # what YAML reads otherwise ends one too


def letter_links(ledger: Ledger) -> Iterator[Problem]:
    """What a letter shows or links and friends will not find in it, at its line."""
    if not ledger.letters:
        return
    desk = LetterDesk.of(ledger, what_friends_see(ledger, frozenset()))
    for letter in ledger.letters:
        for each in links_of_letter(letter, desk):
            yield from _told(letter, each, desk)


def _told(letter: Letter, each: LetterLink, desk: LetterDesk) -> Iterator[Problem]:
    link, judged = each.link, each.judged
    place = Place(letter.path, letter.prose.place.line + link.line - 1)
    if judged.code:
        weigh = mistake if judged.kind == "refused" else doubt
        yield weigh(place, judged.code, judged.message)
    elif each.kind == "drop":
        yield doubt(place, "letter-kept-back", _kept_back(each, desk))
    elif each.kind == "picture" and link.kind == "image" and not link.words.strip():
        told = f"'{link.target}' has no words for who cannot see it; write ![what it shows](…)"
        yield gap(place, "no-caption", told)


def _kept_back(each: LetterLink, desk: LetterDesk) -> str:
    """What is left out of the letter and of the month's page, and why."""
    target = each.link.target
    if each.judged.kind == "note":
        told = f"'{target}' is a private note: friends see the link's words, and no link"
        return f"{told}; write it without the link if the words tell too much"
    if each.judged.path not in desk.shown:
        told = f"friends do not get '{target}', only its words: no note that they may read has it"
        return f"{told}; name it among the photos of one, with who is seen in it"
    told = f"friends do not get '{target}', only its words: it is private, or somebody is seen in"
    return f"{told} it who did not say yes; choose another, or mend its note"


def letters_without_month(ledger: Ledger) -> Iterator[Problem]:
    """A letter of a month in which no note was written: no page of the site shows it."""
    days = [note.day for note in ledger.notes if note.day]
    span = (month_of(min(days)), month_of(max(days))) if days else ("", "")
    for letter in ledger.letters:
        if not span[0] <= letter.month <= span[1]:
            told = f"the record has no {month_long(letter.month)}, so the site has no page for this"
            yield doubt(Place(letter.path), "letter-no-month", f"{told}; name it by its month")


def letters_of_private_notes(ledger: Ledger) -> Iterator[Problem]:
    """Words of a private note in the letter of its month: a draft had them while it was open."""
    if not ledger.letters:
        return
    open_notes = what_friends_see(ledger, frozenset()).notes
    hidden = [note for note in ledger.notes if note.path not in open_notes]
    for letter in ledger.letters:
        for note in hidden:
            if note.day and month_of(note.day) == letter.month:
                yield from _retold(letter, note)


def _retold(letter: Letter, note: Note) -> Iterator[Problem]:
    """At the first such words; no more are told of one note."""
    text = letter.prose.text
    found = ((_found_at(said, text), said) for said in _said_by(note))
    at, words = min(((at, said) for at, said in found if at >= 0), default=(-1, ""))
    if words:
        place = Place(letter.path, letter.prose.place.line + text.count("\n", 0, at))
        told = f"'{words}' is from {note.path}, which is private, but stands in words"
        named = words.partition('"')[0]
        explain = f'answers: [{{gap: "letter-private-words: \'{named}", because: …}}]'
        told = f"{told} that friends read; take it out, or explain it: {explain}"
        yield doubt(place, "letter-private-words", told)


def _said_by(note: Note) -> Iterator[str]:
    """What a draft tells of a note: its day with its title, the sentences, the next steps."""
    if note.title and note.day:
        yield f"{note.day.day} {MONTHS[note.day.month - 1]}: {note.title.text}"
    texts = (all_words(note.prose.text), *(step.text for step in note.next_steps))
    for said in (said for text in texts for said in _SENTENCE.split(text)):
        words = said.rstrip(".!?… ").split()
        if len(words) >= LEAST_WORDS:
            yield " ".join(words[:MOST_WORDS])


def _found_at(said: str, text: str) -> int:
    """Where the words stand in a letter, as whole words; -1 where they do not."""
    words = _BETWEEN.join(map(re.escape, said.split()))
    found = re.search(rf"(?<!\w){words}(?!\w)", text, re.IGNORECASE)
    return found.start() if found else -1


LETTER_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    letter_links,
    letters_without_month,
    letters_of_private_notes,
)
