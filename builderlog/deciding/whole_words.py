"""Finds a name in a text as whole words, whatever its case, accents, hyphens and spaces.

Folding may change how long a text is; what is found is told in offsets of the text as written.
Writing that has no spaces between its words has no whole ones: there a name is found anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, pairwise
from unicodedata import category, combining, normalize

BETWEEN = r"[\W_]{0,4}"  # between two words of a name: space, hyphen, line end, a Markdown sign
# Thai, Lao, Myanmar, Khmer, kana, Han; and Hangul, whose words have endings that none can list.
UNSPACED = (
    "\u0e00-\u0eff\u1000-\u109f\u1100-\u11ff\u1780-\u17ff\u3040-\u30ff\u3130-\u318f\u3400-\u4dbf"
    "\u4e00-\u9fff\uac00-\ud7ff\uf900-\ufaff\U00020000-\U0003ffff"
)
LETTER = f"[^\\W_{UNSPACED}]"
BEFORE, AFTER = f"(?<!{LETTER})", f"(?!{LETTER})"
_WORD = re.compile(f"{LETTER}+|[{UNSPACED}]+")
_RUN = re.compile(f"[{UNSPACED}]")
# Letters that no accent sets apart, and those that are also written with two: "Søren", "Soeren".
_PLAIN = str.maketrans({"ø": "o", "đ": "d", "ð": "d", "ł": "l", "ħ": "h", "\u0131": "i"})
_LONG = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_LONG_AGAIN = str.maketrans({"æ": "ae", "œ": "oe", "þ": "th"})
_SHORT = re.compile("([aou])e")
LEAST_SHORTENED, LEAST_INFLECTED = 5, 5  # letters: shorter words would be others
IN_ADDRESS = "/.@-_"  # before a word in small letters: part of an address or a file's name

Pattern = re.Pattern[str]


class _Folds(dict[int, str]):
    """By sign what is left of it without case and accents."""

    def __missing__(self, sign: int) -> str:
        self[sign] = _bare(sign)
        return self[sign]


@lru_cache(maxsize=4096)
def _bare(sign: int) -> str:
    if category(chr(sign)) == "Cf":  # a hyphen that is not seen, a joiner
        return ""
    loose = "and" if sign == ord("&") else normalize("NFKD", chr(sign)).casefold()
    loose = loose.translate(_PLAIN).translate(_LONG_AGAIN)
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
    return tuple(_WORD.findall(folded.text))


def is_unspaced(name: str) -> bool:
    """Whether a name begins in writing without spaces, so that no word of a text leads to it."""
    return bool(_RUN.match(name))


def pattern_of_name(name: str) -> Pattern:
    """The words of a name in their order, in each form; run together they are the same name."""
    return re.compile("|".join(_pattern_of(words) for words in forms_of(name)))


def _pattern_of(words: tuple[str, ...]) -> str:
    """One form: an "and" may be left out, and the last word may have an s ("Valdanos")."""
    first, *others = words
    steps = [
        f"(?:{BETWEEN}and)?" if word == "and" else BETWEEN + re.escape(word) for word in others
    ]
    begin = "" if _RUN.match(first) else BEFORE
    end = "" if _RUN.match(words[-1][-1]) else "s?" * _has_endings(words[-1]) + AFTER
    return begin + re.escape(first) + "".join(steps) + end


def _has_endings(word: str) -> bool:
    return len(word) >= LEAST_INFLECTED and not word.endswith("s") and word.isalpha()


def forms_of(name: str) -> tuple[tuple[str, ...], ...]:
    """The words of a name folded; and with ö, ä, ü as two letters, or those two letters as one."""
    plain = words_of(name)
    long = words_of(normalize("NFC", name).casefold().translate(_LONG))
    short = tuple(
        _SHORT.sub(r"\1", word) if len(word) >= LEAST_SHORTENED else word for word in plain
    )
    return tuple(dict.fromkeys((plain, long, short)))


def keys_of_name(name: str) -> frozenset[str]:
    """Of a text's words those of which one must be there if the name is."""
    keys: set[str] = set()
    for words in forms_of(name):
        bare = (*words[:1], *(word for word in words[1:] if word != "and"))
        for said in (words, bare):
            keys.update((*accumulate(said), f"{''.join(said)}s"))
    return frozenset(keys)


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
