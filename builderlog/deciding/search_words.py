"""What counts as a word when friends search: without case and accents, numbers whole.

The search runs in the reader's browser; `themes/_every/search.js` cuts words by the same rules.
"""

from __future__ import annotations

import re
import unicodedata

LONGEST_WORD = 32  # letters; more of one is neither kept nor asked for
# Letters that are not a plain letter with a sign, as those write them who lack the key.
_PLAIN = str.maketrans(
    {
        "ß": "ss",
        "æ": "ae",
        "œ": "oe",
        "ø": "o",
        "đ": "d",
        "ð": "d",
        "þ": "th",
        "ł": "l",
        "ħ": "h",
        "\N{LATIN SMALL LETTER DOTLESS I}": "i",
        "\N{GREEK SMALL LETTER FINAL SIGMA}": "\N{GREEK SMALL LETTER SIGMA}",
    }
)
# Writing without blanks: each of its signs is a word of its own.
_UNSPACED = "\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff"
_SIGN = f"(?:(?![{_UNSPACED}])[^\\W_])"
_WORD = re.compile(f"[{_UNSPACED}]|{_SIGN}+(?:[.,][0-9]{_SIGN}*)*")
_BEYOND_ASCII = re.compile(r"[^\x00-\x7f]")
_APOSTROPHE = re.compile("([^\\W_])['\N{RIGHT SINGLE QUOTATION MARK}](?=[^\\W_])")


def folded(text: str) -> str:
    """The text in small letters, without accents and without apostrophes inside words."""
    parts = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).lower())
    bare = _BEYOND_ASCII.sub(_unless_mark, parts)
    return _APOSTROPHE.sub(r"\1", bare.translate(_PLAIN))


def _unless_mark(sign: re.Match[str]) -> str:
    return "" if unicodedata.category(sign[0])[0] == "M" else sign[0]


def search_words(text: str) -> tuple[str, ...]:
    """Every word of a text, folded, in order; "3,5" and "3.5" are one word, "AN3-5A" is two."""
    return tuple(word.replace(",", ".")[:LONGEST_WORD] for word in _WORD.findall(folded(text)))
