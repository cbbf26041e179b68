"""A letter as plain text: every block in at most 72 columns, without a mark of Markdown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.drawing.letter_text import COLUMNS, letter_text
from builderlog.sheets.letter import LetterSheet
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Link, Photo, day_of
from tests.drawing.made_public import FIRST, RIBS

PHOTO = Photo(RIBS, "alt words", "A caption", day_of(FIRST.day), Link("Note", "notes/a.html"))
SHEET = LetterSheet(
    title="March 2026",
    month="March 2026",
    site_title="Two seats by the orchard",
    aircraft="Pellar Two",
    builder="Ines",
    written=day_of(FIRST.day),
    prose=ProseText(
        "", (ProseLink("a.jpg", photo=PHOTO), ProseLink("gone.jpg")), has_heading=False
    ),
    figures=(("In the shop", "3\N{NO-BREAK SPACE}h on 2 days"),),
    page=None,
    caution="No instruction.",
)


def written(words: str) -> str:
    """The words of a letter alone, without what stands before and after them."""
    text = letter_text(replace(SHEET, prose=replace(SHEET.prose, text=words)))
    assert text.startswith("March 2026\n==========\nTwo seats by the orchard, 14 March 2026\n\n")
    figures = "March 2026 in figures\n---------------------\n\n- In the shop: 3 h on 2 days"
    end = f"\n\n{figures}\n\nNo instruction.\n"
    assert text.endswith(end)
    return text.removesuffix(end).partition("14 March 2026\n\n")[2]


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ("a *b* **c** `d`\ne", "a b c d e"),
        ("a\\\nb", "a\nb"),
        ("## How\n\nit went", "How\n---\n\nit went"),
        ("- a\n- b\n  - c\n\nd", "- a\n- b\n  - c\n\nd"),
        ("- a\n\n  more\n- b", "- a\n  more\n- b"),
        ("3. a\n4. b", "3. a\n4. b"),
        ("> a\n> b", "> a b"),
        ("> - a", "> - a"),
        ("```\nx = 1\n  y\n```", "    x = 1\n      y"),
        ("***", "* * *"),
        ("| a | b |\n|---|---|\n| 1 | 2 |", "a  |  b\n\n1  |  2"),
        ("![Ribs *now*](a.jpg)", "[Picture: Ribs now]"),
        ("![](a.jpg)", "[Picture: A caption]"),
        ("![kept back](gone.jpg)", "kept back"),
        ("[here](https://example.org/x)", "here <https://example.org/x>"),
        ("<https://example.org/x>", "https://example.org/x"),
        ("[a note](gone.jpg) [odd](http://[)", "a note odd"),
        ("<b>raw</b> &amp; \\*", "<b>raw</b> & *"),
        ("", ""),
    ],
)
def test_each_block_is_plain(words: str, text: str) -> None:
    """What a mail shows of what the builder wrote."""
    assert written(words) == text


def test_lines_are_wrapped() -> None:
    """In paragraphs, lists and quotes alike; an address is never broken."""
    words = "word " * 40
    address = f"https://example.org/{'a' * 90}"
    text = written(f"{words}\n\n- {words}\n\n> {words}\n\n<{address}>")
    assert max(len(line) for line in text.splitlines() if address not in line) <= COLUMNS
    assert address in text.splitlines()
    assert sum(line.startswith("  word") for line in text.splitlines()) > 1
    assert sum(line.startswith("> word") for line in text.splitlines()) > 1


def test_the_month_is_linked_where_the_site_has_an_address() -> None:
    """On a line of its own, so that a mail program makes a link of it."""
    page = "https://example.org/months/2026-03.html"
    assert f"\n{page}\n" in letter_text(replace(SHEET, page=page))


def test_a_letter_without_a_day_and_figures_has_none() -> None:
    """Nothing empty is left in their place."""
    text = letter_text(replace(SHEET, written=None, figures=()))
    assert text == "March 2026\n==========\nTwo seats by the orchard\n\nNo instruction.\n"
