"""Letters as friends may see them: of what they show and link, only what friends see anyhow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.links import LinkJudged, judge_link
from builderlog.deciding.public import PublicLetter
from builderlog.deciding.visibility import Visibility
from builderlog.deciding.words import month_long
from builderlog.knowing.files import Finder
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.letters import Letter
from builderlog.reading.prose import ProseLink


@dataclass(frozen=True, slots=True)
class LetterLink:
    """A link of a letter: what it is, and what friends get of it."""

    link: ProseLink
    judged: LinkJudged
    kind: Literal["picture", "note", "drop", "world"]
    value: str = ""  # digest of the picture, key of the note


@dataclass(frozen=True, slots=True)
class LetterDesk:
    """What all letters need, found once."""

    sight: Visibility
    finder: Finder
    notes: frozenset[str]
    shown: frozenset[str]  # pictures that a public note shows or links

    @staticmethod
    def of(ledger: Ledger, sight: Visibility) -> LetterDesk:
        """The desk for the letters of a journal."""
        return LetterDesk(
            sight,
            finder_of(ledger),
            frozenset(note.path for note in ledger.notes),
            frozenset(
                picture.path
                for picture in ledger.pictures
                if any(use.note in sight.notes for use in picture.uses)
                or any(path in sight.notes for path in picture.linked_from)
            ),
        )


def public_letters(
    ledger: Ledger, sight: Visibility, left_out: frozenset[str]
) -> tuple[PublicLetter, ...]:
    """The letters that hold the builder's words; one with a mistake is left out."""
    written = [each for each in ledger.letters if each.edited and each.path not in left_out]
    desk = LetterDesk.of(ledger, sight) if written else None
    return tuple(public_letter(letter, desk) for letter in written if desk)


def public_letter(letter: Letter, desk: LetterDesk) -> PublicLetter:
    """One letter, untouched draft or not."""
    links = {each.link.target: each for each in links_of_letter(letter, desk)}
    return PublicLetter(
        month=letter.month,
        title=letter.title or month_long(letter.month),
        written=letter.written,
        prose=letter.prose.text,
        links=tuple(
            (target, each.kind, each.value)
            for target, each in links.items()
            if each.kind != "world"
        ),
    )


def links_of_letter(letter: Letter, desk: LetterDesk) -> Iterator[LetterLink]:
    """Every link of a letter in order: a picture and a note only where friends see it anyhow.

    A picture that no public note has is kept back: nobody has said who is seen in it.
    """
    for link in letter.prose.links:
        judged = judge_link(letter.path, link, desk.finder, desk.notes)
        digest = desk.sight.digests.get(judged.path) if judged.path in desk.shown else None
        if judged.kind == "picture" and digest:
            yield LetterLink(link, judged, "picture", digest)
        elif judged.kind == "note" and judged.path in desk.sight.notes:
            yield LetterLink(link, judged, "note", desk.sight.notes[judged.path])
        elif judged.kind in {"wide world", "here"}:
            yield LetterLink(link, judged, "world")
        else:
            yield LetterLink(link, judged, "drop")
