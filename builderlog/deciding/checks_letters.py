"""Checks of letters: pictures and links in them that lead nowhere, or that friends do not get."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.publishing_letters import LetterDesk, LetterLink, links_of_letter
from builderlog.deciding.visibility import what_friends_see
from builderlog.deciding.words import month_long, month_of
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.letters import Letter
from builderlog.reading.problem import Place, Problem, doubt, gap, mistake


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


LETTER_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    letter_links,
    letters_without_month,
)
