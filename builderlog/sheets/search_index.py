"""The index of the search as text: a line of all words, and a line of the entries that have each.

Words are in the order of their UTF-16 units, as browsers compare them. The entries of a word are
the steps from one to the next, less one, in digits of five bits: the last digit of a step is one of
the first half of `DIGITS`, those before it are of the second. `themes/_every/search.js` reads it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_"
BASE = 32


def index_text(found: Iterable[Iterable[str]]) -> str:
    """The index over entries, each given as its words, which are letters, digits and dots."""
    entries: dict[str, list[int]] = {}
    for number, words in enumerate(found):
        for word in words:
            entries.setdefault(word, []).append(number)
    words = sorted(entries, key=lambda word: word.encode("utf-16-be"))
    return f"{' '.join(words)}\n{' '.join(_steps(entries[word]) for word in words)}"


def entries_in(index: str) -> Mapping[str, tuple[int, ...]]:
    """An index read again: for each word the numbers of its entries."""
    words, steps = (line.split(" ") for line in index.split("\n"))
    return {word: tuple(_numbers(digits)) for word, digits in zip(words, steps, strict=True)}


def _steps(numbers: Iterable[int]) -> str:
    digits = []
    last = -1
    for number in numbers:
        digits.append(_digits(number - last - 1))
        last = number
    return "".join(digits)


def _digits(step: int) -> str:
    """A step from 0, its highest digit first."""
    told = DIGITS[step % BASE]
    step //= BASE
    while step:
        told = DIGITS[BASE + step % BASE] + told
        step //= BASE
    return told


def _numbers(digits: str) -> Iterator[int]:
    last, step = -1, 0
    for value in map(DIGITS.index, digits):
        step = step * BASE + value % BASE
        if value < BASE:
            last += step + 1
            yield last
            step = 0
