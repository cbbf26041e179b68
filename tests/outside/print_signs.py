"""Asks the document's compiler which signs its own fonts have, and writes the table of them.

`python -m tests.outside.print_signs` writes builderlog/knowing/print_signs.txt anew; it takes
some minutes and is needed when the compiler's release changes.
"""

from __future__ import annotations

import re
import sys
import tempfile
import unicodedata
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

from builderlog.knowing.print_signs import SHAPELESS, SIGNS_FILE, runs

# In the order in which the document tries them; upright alone, since their slanted shapes have
# hundreds of signs less (a heavy check mark and Arabic among them).
FONTS = (
    "Libertinus Serif",
    "New Computer Modern",
    "DejaVu Sans Mono",
    "New Computer Modern Math",
)
WEIGHTS = (400, 600, 700)
AT_ONCE = 20_000  # paragraphs of one document
# No letters or signs: unassigned, halves of a pair, private, controls, formats, line ends.
NO_SIGNS = ("Cn", "Cs", "Co", "Cc", "Cf", "Zl", "Zp")


def candidates() -> list[int]:
    """Every code point that could be printed."""
    return [
        point
        for point in range(0x20, sys.maxunicode + 1)
        if unicodedata.category(chr(point)) not in NO_SIGNS and chr(point) not in SHAPELESS
    ]


def printed(texts: Sequence[str], fonts: Sequence[str] = FONTS, weight: int = 400) -> list[bool]:
    """Of each text, whether the compiler prints it with these fonts and no other."""
    import typst

    named = "".join(f'"{font}",' for font in fonts)
    lines = [
        '#set document(title: "signs", date: datetime(year: 2020, month: 1, day: 1))',
        "#set page(height: auto)",
        f'#set text(lang: "en", font: ({named}), fallback: false, weight: {weight})',
        "",
    ]
    for text in texts:
        points = "".join(f"\\u{{{ord(sign):x}}}" for sign in text)
        lines += [f'#"{points}"', ""]
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder, "signs.typ")
        source.write_text("\n".join(lines), encoding="utf-8")
        try:
            typst.compile(str(source), pdf_standards=["a-3a", "ua-1"], ignore_system_fonts=True)
        except typst.TypstError as error:
            told = error.diagnostic
        else:
            told = ""
    bad = {int(line) for line in re.findall(r"signs\.typ:(\d+):", told)}
    return [5 + 2 * index not in bad for index in range(len(texts))]


def signs_of(font: str) -> list[int]:
    """The code points that a font has in all weights."""
    held = candidates()
    for weight in WEIGHTS:
        found: list[int] = []
        for start in range(0, len(held), AT_ONCE):
            some = held[start : start + AT_ONCE]
            fits = printed([chr(point) for point in some], (font,), weight)
            found += [point for point, has in zip(some, fits, strict=True) if has]
        held = found
    return held


def table() -> str:
    """The table as text."""
    lines = [f"# The signs of the fonts inside typst {version('typst')}, in hex."]
    for font in FONTS:
        ranges = (
            f"{first:X}" if first == last else f"{first:X}-{last:X}"
            for first, last in runs(signs_of(font))
        )
        lines.append(f"{font}: {' '.join(ranges)}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    SIGNS_FILE.write_text(table(), encoding="ascii")
