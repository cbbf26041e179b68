"""A letter as plain text for a mail: wrapped at 72 columns, without a mark of Markdown."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from builderlog.drawing.prose_html import leads_out
from builderlog.reading.markdown import parse, spoken
from builderlog.sheets.letter import LetterSheet
from builderlog.sheets.note import ProseLink

if TYPE_CHECKING:
    from markdown_it.token import Token

COLUMNS = 72
NARROWEST = 24  # columns that the words keep however deep they are nested


def letter_text(sheet: LetterSheet) -> str:
    """The whole text, lines ended by a line feed."""
    blocks = [_head(sheet), *_Writer(sheet).blocks(), *_figures(sheet), *_foot(sheet)]
    text = "\n\n".join(block for block in blocks if block.strip())
    return text.replace("\N{NO-BREAK SPACE}", " ") + "\n"


def _head(sheet: LetterSheet) -> str:
    about = ", ".join(part for part in (sheet.site_title, _day(sheet)) if part)
    return f"{_underlined(sheet.title, '=')}\n{_filled(about)}"


def _day(sheet: LetterSheet) -> str:
    return sheet.written.plain if sheet.written else ""


def _figures(sheet: LetterSheet) -> Iterator[str]:
    if sheet.figures:
        rows = [_hung(f"{label}: {words}", "- ", "  ") for label, words in sheet.figures]
        yield _underlined(f"{sheet.month} in figures", "-")
        yield "\n".join(rows)


def _foot(sheet: LetterSheet) -> Iterator[str]:
    if sheet.page:
        yield f"With all pictures:\n{sheet.page}"
    yield _filled(sheet.caution)


def _underlined(words: str, sign: str) -> str:
    lines = _filled(words)
    return f"{lines}\n{sign * max(len(line) for line in lines.splitlines() or [''])}"


def _filled(words: str) -> str:
    return _hung(words, "", "")


def _hung(words: str, first: str, later: str) -> str:
    """Words wrapped behind a margin; an address is never broken."""
    lines = words.split("\n")
    width = max(COLUMNS, len(first) + NARROWEST)
    return "\n".join(
        textwrap.fill(
            line,
            width,
            initial_indent=first if number == 0 else later,
            subsequent_indent=later,
            break_long_words=False,
            break_on_hyphens=False,
        )
        or (first if number == 0 else later).rstrip()
        for number, line in enumerate(lines)
    )


class _Writer:
    """The builder's words, block by block; keeps how deep lists and quotes are nested."""

    def __init__(self, sheet: LetterSheet) -> None:
        self.tokens = parse(sheet.prose.text)
        self.heading = ""  # the tag of the heading that is open
        self.targets = {link.target: link for link in sheet.prose.links}
        self.margins: list[tuple[str, str]] = []  # first line, later lines
        self.numbers: list[int | None] = []  # of each open list; None: no numbers
        self.tight: list[str] = []  # items of the outermost list that is open
        self.row: list[str] | None = None  # cells of the table's row

    def blocks(self) -> Iterator[str]:
        """Each block as ready lines."""
        for token in self.tokens:
            written = self._written(token)
            if written is None:
                continue
            if self.numbers:
                self.tight.append(written)
            else:
                yield written
            if not self.numbers and self.tight:
                yield "\n".join(self.tight)
                self.tight = []

    def _written(self, token: Token) -> str | None:
        """What a token adds; opening and closing ones move the margin."""
        kind = token.type
        if kind.startswith("heading_"):
            self.heading = token.tag if kind == "heading_open" else ""
        if kind == "inline":
            return self._inline(token)
        if kind in {"fence", "code_block"}:
            first, later = self._margin()
            return textwrap.indent(token.content.rstrip("\n"), later or first or "    ")
        if kind == "hr":
            return "* * *"
        return self._moved(token)

    def _moved(self, token: Token) -> str | None:
        kind = token.type
        if kind in {"bullet_list_open", "ordered_list_open"}:
            ordered = kind == "ordered_list_open"
            self.numbers.append(int(token.attrs.get("start", 1)) if ordered else None)
        elif kind in {"bullet_list_close", "ordered_list_close"}:
            self.numbers.pop()
            return "" if not self.numbers else None
        elif kind == "list_item_open":
            self.margins.append(self._item())
        elif kind == "blockquote_open":
            self.margins.append(("> ", "> "))
        elif kind in {"list_item_close", "blockquote_close"}:
            self.margins.pop()
        elif kind == "tr_open":
            self.row = []
        elif kind == "tr_close":
            cells, self.row = self.row or [], None
            return self._put("  |  ".join(cells))
        return None

    def _item(self) -> tuple[str, str]:
        number = self.numbers[-1]
        if number is None:
            return "- ", "  "
        self.numbers[-1] = number + 1
        return f"{number}. ", " " * len(f"{number}. ")

    def _margin(self) -> tuple[str, str]:
        """The margin of the next line, and that of all later ones."""
        first = "".join(first for first, _ in self.margins)
        later = "".join(later for _, later in self.margins)
        self.margins = [(later, later) for _, later in self.margins]
        return first, later

    def _inline(self, token: Token) -> str | None:
        words = self._words(token.children or [])
        if self.row is not None:
            self.row.append(words)
            return None
        if not words.strip():
            return None
        if self.heading and not self.margins:
            return _underlined(words, "=" if self.heading == "h1" else "-")
        return self._put(words)

    def _put(self, words: str) -> str:
        return _hung(words, *self._margin())

    def _words(self, children: Sequence[Token]) -> str:
        """The plain words; a picture by its caption, a link with its address behind it."""
        said: list[str] = []
        open_links: list[tuple[str, int]] = []
        for child in children:
            if child.type == "link_open":
                open_links.append((self._address(str(child.attrs["href"])), len(said)))
            elif child.type == "link_close":
                address, start = open_links.pop()
                words = "".join(said[start:])
                said.append(f" <{address}>" if address and address != words else "")
            elif child.type == "image":
                said.append(self._picture(child))
            else:
                said.append({"softbreak": " ", "hardbreak": "\n"}.get(child.type, child.content))
        return "".join(said)

    def _picture(self, token: Token) -> str:
        link = self.targets.get(str(token.attrs["src"]))
        photo = link.photo if link else None
        words = spoken(token)
        return f"[Picture: {words or photo.caption or photo.alt}]" if photo else words

    def _address(self, target: str) -> str:
        """Where a link leads in the wide world; "" where it leads to nothing that a mail knows."""
        known: ProseLink | None = self.targets.get(target)
        return target if known is None and leads_out(target) else ""
