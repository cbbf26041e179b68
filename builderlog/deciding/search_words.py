"""What counts as a word when friends search: without case and accents, numbers whole.

The search runs in the reader's browser; `themes/_every/search.js` cuts words by the same rules, and
spells the five letters that stay (`ä ö ü å ø`) in both ways that people type them, `a` and `ae`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

LONGEST_WORD = 32  # letters; more of one is neither kept nor asked for
_LEAST_ELIDED = 3  # letters behind an apostrophe that are a word: those of "l'aile", not "don't"
# Letters that are not a plain letter with a sign, as those write them who lack the key.
_PLAIN = str.maketrans(
    {
        "ß": "ss",
        "æ": "ae",
        "œ": "oe",
        "đ": "d",
        "ð": "d",
        "þ": "th",
        "ł": "l",
        "ħ": "h",
        "\N{LATIN SMALL LETTER DOTLESS I}": "i",
        "\N{GREEK SMALL LETTER FINAL SIGMA}": "\N{GREEK SMALL LETTER SIGMA}",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{HYPHEN}": "-",
    }
)
# Writing without blanks, of the far east, Thailand, Laos, Burma and Cambodia: two neighbours are a
# word, but a Chinese sign is one by itself, for there are thousands of them.
_UNSPACED = (
    "\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff"
)
_HAN = re.compile("[\u3400-\u9fff\uf900-\ufaff]")
_SIGN = f"(?:(?![{_UNSPACED}])[^\\W_])"
_WORD = f"{_SIGN}+(?:'{_SIGN}+)*(?:[.,][0-9]{_SIGN}*)*"
_RUN = re.compile(f"((?:(?=[^\\W_])[{_UNSPACED}])+)|{_WORD}(?:-{_WORD})*")
_BETWEEN = re.compile("[-.,']")  # what falls away where a word's parts are run together
_BEYOND_ASCII = re.compile("[aou]\u0308|a\u030a|[^\\x00-\\x7f]")


def folded(text: str) -> str:
    """The text in small letters and without accents, but for the five letters of two spellings."""
    parts = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).lower())
    return _BEYOND_ASCII.sub(_unless_mark, parts).translate(_PLAIN)


def _unless_mark(found: re.Match[str]) -> str:
    sign = unicodedata.normalize("NFC", found[0])
    return "" if unicodedata.category(sign)[0] == "M" else sign


def search_words(text: str) -> tuple[str, ...]:
    """Every word of a text, folded, in order; "3,5" and "3.5" are one word.

    "AN3-5A" is two words and both run together, "l'aile" is also "aile"; where nothing stands
    between words, each sign is one with the next, a Chinese one by itself.
    """
    runs = _RUN.finditer(folded(text))
    return tuple(word for run in runs for word in _words_of(run[0], unspaced=bool(run[1])))


@lru_cache(maxsize=1 << 16)  # a journal says the same words over and over
def _words_of(run: str, *, unspaced: bool) -> tuple[str, ...]:
    words = _pairs(run) if unspaced else _parts(run)
    return tuple(word.replace(",", ".")[:LONGEST_WORD] for word in words)


def _pairs(signs: str) -> Iterator[str]:
    for sign, after in pairwise((*signs, "")):
        yield sign if _HAN.search(sign + after) else sign + after


def _parts(run: str) -> Iterator[str]:
    parts = run.split("-")
    yield from (part.replace("'", "") for part in parts)
    whole = _BETWEEN.sub("", run)
    if len(parts) > 1 and not whole.isdecimal():
        yield whole
    for part in parts:
        before, _, elided = part.rpartition("'")
        if before and len(elided) >= _LEAST_ELIDED:
            yield elided
