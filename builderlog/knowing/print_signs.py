"""Which signs the document's fonts can print, and what is printed in place of those they cannot.

The document is set with the fonts that come inside its compiler and with no other, so that it is
the same on each machine; one sign that they lack would stop it. `print_signs.txt` lists what each
of them has, as the compiler itself says (tests/outside/print_signs.py asks it).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

SIGNS_FILE = Path(__file__).resolve().parent / "print_signs.txt"
MOST_MARKS = 3  # on one letter; more would be printed over the lines above and below

# Code points without a shape of their own (Unicode: Default_Ignorable_Code_Point): hints where to
# break, to join, which way to read, how to draw. Those that turn the order of reading round are
# not among them (202A-202E, 2066-2069): these must be seen.
_SHAPELESS_RUNS = (
    *((0x00AD, 0x00AD), (0x034F, 0x034F), (0x061C, 0x061C), (0x115F, 0x1160), (0x17B4, 0x17B5)),
    *((0x180B, 0x180F), (0x200B, 0x200F), (0x2060, 0x2065), (0x206A, 0x206F), (0x3164, 0x3164)),
    *((0xFE00, 0xFE0F), (0xFEFF, 0xFEFF), (0xFFA0, 0xFFA0), (0xFFF0, 0xFFF8), (0x1BCA0, 0x1BCA3)),
    *((0x1D173, 0x1D17A), (0xE0000, 0xE0FFF)),
)
SHAPELESS = frozenset(
    chr(point) for first, last in _SHAPELESS_RUNS for point in range(first, last + 1)
)


@dataclass(frozen=True, slots=True)
class Fonts:
    """The signs of each font in the order in which they are tried; `marks` stand on letters."""

    names: tuple[str, ...]
    signs: tuple[frozenset[str], ...]
    marks: frozenset[str]
    plain: re.Pattern[str]  # text of the first font alone, with nothing to look into
    cluster: re.Pattern[str]  # a sign with the marks on it

    def has(self, cluster: str) -> bool:
        """Whether one of the fonts has all signs of it."""
        return any(signs.issuperset(cluster) for signs in self.signs)


def printable_text(text: str) -> str:
    """The text as the document prints it, in Unicode's composed form (NFC).

    What no font has is written as `[U+1F600]`; what has no shape is left out; tabs and line ends
    become spaces.
    """
    fonts = print_fonts()
    if fonts.plain.fullmatch(text):
        return text
    return "".join(shown for _, shown in _shown(text, fonts))


def lacking(text: str) -> tuple[str, ...]:
    """The signs of a text that are printed as `[U+1F600]`, each once, in its order."""
    fonts = print_fonts()
    if fonts.plain.fullmatch(text):
        return ()
    # Nearly all lines are plain, and what ends a line is a blank in print.
    odd = (line for line in text.splitlines() if not fonts.plain.fullmatch(line))
    pairs = (pair for line in odd for pair in _shown(line, fonts))
    return tuple(dict.fromkeys(sign for sign, shown in pairs if shown.startswith("[U+")))


def sign_name(sign: str) -> str:
    """What stands in place of a sign."""
    return f"[U+{ord(sign):04X}]"


def _shown(text: str, fonts: Fonts) -> Iterator[tuple[str, str]]:
    """Each cluster, or each sign of one that no font has whole, with what is printed of it.

    No cluster begins as the stand-in of a sign does, so that the two can be told apart.
    """
    kept = "".join(sign for sign in text if sign not in SHAPELESS)
    for cluster in fonts.cluster.findall(unicodedata.normalize("NFC", kept)):
        base, marks = cluster[0], cluster[1 : 1 + MOST_MARKS]
        if base.isspace() and not fonts.has(base):
            yield cluster, " "
        elif base not in fonts.marks and fonts.has(base + marks):
            yield cluster[: 1 + MOST_MARKS], base + marks
            yield from _written(cluster[1 + MOST_MARKS :])
        elif base not in fonts.marks and fonts.has(base):
            yield base, base
            yield from _written(cluster[1:])
        else:
            yield from _written(cluster)


def _written(signs: str) -> Iterator[tuple[str, str]]:
    for sign in signs:
        yield sign, sign_name(sign)


@cache
def print_fonts() -> Fonts:
    """The fonts of the document; files of the package do not change while a program runs."""
    return read_fonts(SIGNS_FILE.read_text(encoding="ascii"))


def read_fonts(text: str) -> Fonts:
    """Fonts from a table: a line a font, its name, a colon and ranges in hex; `#` begins a note."""
    lines = [line.partition(":") for line in text.splitlines() if not line.startswith("#")]
    names = tuple(name for name, _, _ in lines)
    signs = tuple(frozenset(_signs(ranges.split())) - SHAPELESS for _, _, ranges in lines)
    every = frozenset[str]().union(*signs)
    marks = frozenset(sign for sign in every if unicodedata.category(sign).startswith("M"))
    return Fonts(
        names,
        signs,
        marks,
        plain=re.compile(f"[{_ranges(signs[0] - marks)}]*"),
        cluster=re.compile(rf"\s|[^\s][{_ranges(marks)}]*"),
    )


def _signs(ranges: Iterable[str]) -> Iterator[str]:
    for each in ranges:
        first, _, last = each.partition("-")
        yield from map(chr, range(int(first, 16), int(last or first, 16) + 1))


def _ranges(signs: frozenset[str]) -> str:
    """The signs as the inside of a character class."""
    return "".join(
        re.escape(chr(first)) + (f"-{re.escape(chr(last))}" if last > first else "")
        for first, last in runs(map(ord, signs))
    )


def runs(points: Iterable[int]) -> list[tuple[int, int]]:
    """Numbers as runs of neighbours, first and last of each, sorted."""
    found: list[tuple[int, int]] = []
    for point in sorted(points):
        if found and found[-1][1] == point - 1:
            found[-1] = (found[-1][0], point)
        else:
            found.append((point, point))
    return found
