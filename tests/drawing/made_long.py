"""A public ledger of many long notes, made by a fixed rule: what a search may have to hold."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta
from itertools import accumulate

from builderlog.deciding.public import PublicLedger, PublicNote, PublicTaskTime
from tests.drawing.made_public import PUBLIC, SECOND, month, task

NOTES, WORDS, KNOWN_WORDS = 600, 250, 12_000
_STARTS = "b br ch d dr f fl g gr h k l m n p pl r s sh sk sp st t tr w".split()
_VOWELS = "a e i o u ea ee oo ai".split()
_ENDS = "b ck d g ll m n nd ng nt p r rd rs s st t x".split()


def long_ledger() -> PublicLedger:
    """600 notes of 250 words each, as often repeated as words are in English."""
    chance = random.Random(600)
    known = _known_words(chance)
    # Zipf's law: the n-th most frequent word comes about 1/n as often as the first.
    weights = list(accumulate(1 / (rank + 2.7) for rank in range(len(known))))
    texts = [chance.choices(known, cum_weights=weights, k=WORDS + 5) for _ in range(NOTES)]
    tasks = tuple(task(f"W{number}") for number in range(200))
    notes = tuple(_note(number, text) for number, text in enumerate(texts))
    months = sorted({f"{note.day:%Y-%m}" for note in notes})
    return replace(
        PUBLIC,
        notes=notes,
        tasks=tasks,
        months=tuple(
            month(name, 3600, tuple(note.key for note in notes if f"{note.day:%Y-%m}" == name))
            for name in months
        ),
    )


def _known_words(chance: random.Random) -> list[str]:
    """Made words, the frequent ones short."""
    found: dict[str, None] = {}
    while len(found) < KNOWN_WORDS:
        parts = 1 if len(found) < 150 else 1 + (chance.random() < 0.8) + (chance.random() < 0.35)
        word = "".join(
            chance.choice(_STARTS) + chance.choice(_VOWELS) + chance.choice(_ENDS)
            for _ in range(parts)
        )
        found[word] = None
    return list(found)


def _note(number: int, text: list[str]) -> PublicNote:
    day = date(2019, 1, 6) + timedelta(days=4 * number)
    prose = " ".join(text[5:])
    return replace(
        SECOND,
        key=f"{day}-{text[0]}",
        day=day,
        title=" ".join(text[:5]),
        seconds=9000,
        tasks=(PublicTaskTime(f"W{number % 200}", 9000),),
        prose=f"{prose[:600]}.\n\n{prose[600:]}.",
        links=(),
        visits=(),
    )
