"""Finds a name in a text as whole words, whatever its case, accents, hyphens and spaces.

Folding may change how long a text is; what is found is told in offsets of the text as written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from unicodedata import combining, normalize

BETWEEN = r"[\W_]{0,4}"  # between two words of a name: space, hyphen, line end, a Markdown sign
BEFORE, AFTER = r"(?<![^\W_])", r"(?![^\W_])"
IN_ADDRESS = "/.@-_"  # before a word in small letters: part of an address or a file's name

Pattern = re.Pattern[str]


class _Folds(dict[int, str]):
    """By sign what is left of it without case and accents."""

    def __missing__(self, sign: int) -> str:
        self[sign] = _bare(sign)
        return self[sign]


@lru_cache(maxsize=4096)
def _bare(sign: int) -> str:
    loose = "and" if sign == ord("&") else normalize("NFKD", chr(sign)).casefold()
    return "".join(each for each in normalize("NFKD", loose) if not combining(each))


@dataclass(frozen=True, slots=True)
class Folded:
    """A text without case and accents, beside the text as written."""

    text: str
    written: str

    def found(self, pattern: Pattern) -> Iterator[tuple[int, int]]:
        """Where the pattern stands in the text as written: begin, end."""
        matches = [*pattern.finditer(self.text)]
        origins = self._origins() if matches else ()
        for match in matches:
            yield origins[match.start()], origins[match.end() - 1] + 1

    def _origins(self) -> Sequence[int]:
        """Where each folded sign stood: one sign may have become two, or none."""
        folds = _Folds()
        if self.written.isascii() and "&" not in self.written:
            return range(len(self.written))
        return [place for place, sign in enumerate(self.written) for _ in folds[ord(sign)]]


def fold(text: str) -> Folded:
    """The text, ready to be searched."""
    if text.isascii() and "&" not in text:
        return Folded(text.lower(), text)
    return Folded(text.translate(_Folds()), text)


def words_of(text: str) -> tuple[str, ...]:
    """The words of a name or a text, folded, without what stands between them."""
    return words_in(fold(text))


def words_in(folded: Folded) -> tuple[str, ...]:
    """The same of a text that is folded already."""
    return tuple(re.findall(r"[^\W_]+", folded.text))


def pattern_of_name(name: str) -> Pattern:
    """The words of a name in their order; run together they are the same name."""
    return re.compile(BEFORE + BETWEEN.join(map(re.escape, words_of(name))) + AFTER)


def keys_of_name(name: str) -> frozenset[str]:
    """Of a text's words those of which one must be there if the name is."""
    words = words_of(name)
    return frozenset((*words[:1], "".join(words)))


def keys_of_sign(sign: str, *, country: bool = False) -> frozenset[str]:
    """The same of a registration or serial number: what may stand before its first break."""
    signs, breaks = _signs(sign, country=country)
    return frozenset((signs, *(signs[:place] for place in breaks)))


def pattern_of_sign(sign: str, *, country: bool = False) -> Pattern:
    """A registration or serial number: its signs, with or without what it is written with.

    A hyphen or space may stand where one is written, between letters and digits, and, where it
    begins with a country's one or two letters, after those.
    """
    signs, breaks = _signs(sign, country=country)
    parts = [
        re.escape(each) + (r"[\W_]?" if place in breaks and place < len(signs) else "")
        for place, each in enumerate(signs, 1)
    ]
    return re.compile(BEFORE + "".join(parts) + AFTER)


def _signs(sign: str, *, country: bool) -> tuple[str, set[int]]:
    """The letters and digits, and the places before which something may stand."""
    groups = words_of(sign)
    signs = "".join(groups)
    breaks = {
        *((1, 2) if country else ()),
        *(sum(map(len, groups[:count])) for count in range(1, len(groups))),
    }
    breaks |= {
        place
        for place, (one, next_one) in enumerate(pairwise(signs), 1)
        if one.isdigit() != next_one.isdigit()
    }
    return signs, breaks


def is_name_there(folded: Folded, name: str, begin: int, end: int) -> bool:
    """Whether what was found is the name: one word with a capital is no word without one.

    "Mark the ribs" may name somebody called Mark, "mark the ribs" does not; in an address or a
    file's name small letters stand for capitals.
    """
    if len(words_of(name)) > 1 or not name[:1].isupper() or folded.written[begin].isupper():
        return True
    around = folded.written[begin - 1 : begin], folded.written[end : end + 2]
    return (around[0] != "" and around[0] in IN_ADDRESS) or (
        around[1][:1] in tuple("@/") or (around[1][:1] == "." and around[1][1:].isalnum())
    )
