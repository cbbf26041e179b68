"""The papers that the authority asks for, held against those that the builder lists.

A paper of the builder's is taken for one that is asked for only where its name says so in words
that the rulebook knows; any other stays beside the list, and nobody's guess is needed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import AskedPaper
from builderlog.knowing.settings import Paper, Settings


@dataclass(frozen=True, slots=True)
class HeldPaper:
    """A paper that is asked for, and the builder's papers that are it; none: not at hand."""

    asked: AskedPaper
    listed: tuple[Paper, ...]

    @property
    def at_hand(self) -> bool:
        """Whether one of them has a day since when, or a file."""
        return any(map(is_at_hand, self.listed))


@dataclass(frozen=True, slots=True)
class Papers:
    """The rulebook's list in its order, and the builder's papers that it does not know."""

    asked: tuple[HeldPaper, ...]
    others: tuple[Paper, ...]


def is_at_hand(paper: Paper) -> bool:
    """A paper that the builder lists with neither day nor file is only thought of."""
    return bool(paper.have or paper.file)


def papers(ledger: Ledger) -> Papers:
    """Every paper of the list and every paper of the builder's, each once."""
    asked = ledger.rulebook.papers if ledger.rulebook else ()
    listed = tuple(_listed(ledger.settings))
    known = {each: tuple(_phrases(each)) for each in asked}
    taken = [_meant(_plain(paper.name), known) for paper in listed]
    return Papers(
        asked=tuple(
            HeldPaper(
                each, tuple(p for p, meant in zip(listed, taken, strict=True) if meant is each)
            )
            for each in asked
        ),
        others=tuple(p for p, meant in zip(listed, taken, strict=True) if meant is None),
    )


def _listed(settings: Settings) -> Iterator[Paper]:
    """What stands under `papers`, and the kit's evaluation, which has a key of its own."""
    yield from settings.papers
    kit = settings.kit_evaluated
    files = {paper.file.text for paper in settings.papers if paper.file}
    if kit and kit.file and kit.file.text not in files:
        of = f" of {kit.on.day}" if kit.on else ""
        yield Paper(f"kit evaluation{of}", kit.file.place, None, kit.file)


def _plain(text: str) -> str:
    """Words in small letters with one blank between: "Weight & balance" is "weight balance"."""
    return " ".join(re.findall(r"\w+", unicodedata.normalize("NFKC", text).casefold()))


def _phrases(asked: AskedPaper) -> Iterator[str]:
    words = (asked.name, *([asked.form] if asked.form else []), *asked.match)
    yield from (plain for plain in map(_plain, words) if plain)


def _meant(name: str, known: Mapping[AskedPaper, Sequence[str]]) -> AskedPaper | None:
    """The paper that the longest phrase in the name tells; None where two tell it alike."""
    found = [
        (len(phrase), asked)
        for asked, phrases in known.items()
        for phrase in phrases
        if _says(name, phrase)
    ]
    longest = max((length for length, _ in found), default=0)
    meant = {id(asked): asked for length, asked in found if length == longest}
    return next(iter(meant.values())) if len(meant) == 1 else None


def _says(name: str, phrase: str) -> bool:
    """Whole words; a single word without a digit is too little unless it is the whole name."""
    if " " in phrase or any(sign.isdigit() for sign in phrase):
        return f" {phrase} " in f" {name} "
    return phrase == name
