"""The index of the search as text: a line of all words, and a line of the entries that have each.

Words are in the order of their UTF-16 units, as browsers compare them. The entries of a word are
the steps from one to the next, less one, in digits of five bits: the last digit of a step is one of
the first half of `DIGITS`, those before it are of the second. `themes/_every/search.js` reads it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import chain
from operator import sub

DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_"
BASE = 32


def index_text(found: Iterable[Iterable[str]]) -> str:
    """The index over entries, each given as its words, which are letters, digits and dots."""
    entries: defaultdict[str, list[int]] = defaultdict(list)
    for number, words in enumerate(found):
        for word in words:
            entries[word].append(number)
    words = sorted(entries, key=lambda word: word.encode("utf-16-be"))
    return f"{' '.join(words)}\n{' '.join(_steps(entries[word]) for word in words)}"


def entries_in(index: str) -> Mapping[str, tuple[int, ...]]:
    """An index read again: for each word the numbers of its entries."""
    words, steps = (line.split(" ") for line in index.split("\n"))
    return {word: tuple(_numbers(digits)) for word, digits in zip(words, steps, strict=True)}


def _steps(numbers: Sequence[int]) -> str:
    return "".join(map(_digits, map(sub, numbers, chain((-1,), numbers))))


@cache  # few steps, asked for very often
def _digits(step: int) -> str:
    """A step from 1, its highest digit first."""
    left, last = divmod(step - 1, BASE)
    told = DIGITS[last]
    while left:
        left, digit = divmod(left, BASE)
        told = DIGITS[BASE + digit] + told
    return told


def _numbers(digits: str) -> Iterator[int]:
    last, step = -1, 0
    for value in map(DIGITS.index, digits):
        step = step * BASE + value % BASE
        if value < BASE:
            last += step + 1
            yield last
            step = 0
