"""The dossier as the plain data that the document's template draws: words, numbers, lists."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from builderlog.knowing.print_signs import printable_text
from builderlog.sheets.chapter import (
    Bars,
    Blanks,
    Block,
    Bullets,
    Cell,
    Chapter,
    Dossier,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
    ShownPicture,
)
from builderlog.sheets.shelf import FileLink

Data = dict[str, Any]  # what JSON can hold

# A table takes the compiler some 10 KB a cell (measured): where a chapter's have more rows than
# this together, all but the short ones are set as the index of a book is, an entry a line.
MOST_ROWS = 2_000
SHORT_TABLE = 20  # rows
LONG_CELL = 900  # characters; a row with such a cell may go on on the next page
LONG_FACTS, MOST_FACTS = 2_000, 20  # characters and rows; longer ones may go on on the next page
UNDATED = date(1980, 1, 1)  # a PDF/A document must state one; the earliest that a ZIP can too
# In thousandths of the text's width: a sign in a table, and the room at both sides of a cell.
SIGN_WIDTH, BESIDE = 10, 18
MOST_WHOLE = 11  # signs of a word that is not divided
UNNAMED = "No words"
BREAK = "\u200b"

# Paths and the like, in which a line may break behind a sign that joins words; digests and the
# like, in which it may break anywhere. Not between two digits: dates stay whole.
_WORD = re.compile(r"[\s/-]+")
_LONG_WORD = re.compile(r"\S{10,}")
_JOINT = re.compile(r"(?<=[/_.,:;=&?@+|\\-])(?=[^\W_])(?<!\d[/_.,:-](?=\d))")
_RUN = re.compile(r"\w{16}(?=\w{5})")

Sized = Callable[[int, bool], tuple[int, int] | None]
Drawn = Callable[[int, bool, tuple[int, int]], str]


@dataclass(frozen=True, slots=True)
class PrintedPictures:
    """How large each drawn picture is (None: not drawn), and the drawing that stands for it."""

    size: Sized
    drawing: Drawn


def document_data(dossier: Dossier, pictures: PrintedPictures) -> Data:
    """Everything that the template is told of the dossier itself."""
    return _Writer(_link_targets(dossier), pictures).dossier(dossier)


def _link_targets(dossier: Dossier) -> frozenset[str]:
    """The ids that a link may lead to: those there are, once each."""
    ids = Counter(
        each
        for chapter in (dossier.cover, *dossier.chapters)
        for each in (chapter.id, *_section_ids(chapter.blocks))
    )
    return frozenset(each for each, count in ids.items() if count == 1) - {dossier.cover.id}


def _section_ids(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Section):
            yield block.id
            yield from _section_ids(block.blocks)


def _tables(blocks: Iterable[Block]) -> Iterator[Rows]:
    for block in blocks:
        if isinstance(block, Rows):
            yield block
        elif isinstance(block, Section):
            yield from _tables(block.blocks)


def words_of(text: str) -> str:
    """Words that the fonts can print, with breaks allowed where a long word has joints."""
    return _LONG_WORD.sub(_with_breaks, printable_text(text))


def _with_breaks(found: re.Match[str]) -> str:
    return _RUN.sub(rf"\g<0>{BREAK}", _JOINT.sub(BREAK, found[0]))


@dataclass(frozen=True, slots=True)
class _Writer:
    targets: frozenset[str]
    pictures: PrintedPictures
    dense: bool = False  # whether tables are set as an index
    writers: Mapping[type, Callable[[Any], Data]] = field(init=False)

    def __post_init__(self) -> None:
        writers = {
            Paragraph: self.paragraph,
            Facts: self.facts,
            Bullets: self.bullets,
            Rows: self.table,
            Pictures: self.shown,
            Bars: _bars,
            Blanks: _blanks,
            Section: self.section,
        }
        object.__setattr__(self, "writers", writers)

    def dossier(self, made: Dossier) -> Data:
        day = date.fromisoformat(made.record_date) if made.record_date else UNDATED
        return {
            "title": _said(words_of(made.title)),
            "builders": [printable_text(name) for name in made.builders],
            "date": {"year": day.year, "month": day.month, "day": day.day},
            "running": words_of(made.running),
            "foot": words_of(made.foot),
            "cover": self.blocks(made.cover.blocks),
            "chapters": [self.chapter(chapter) for chapter in made.chapters],
        }

    def chapter(self, chapter: Chapter) -> Data:
        dense = sum(len(table.rows) for table in _tables(chapter.blocks)) > MOST_ROWS
        return replace(self, dense=dense).whole(chapter)

    def whole(self, chapter: Chapter) -> Data:
        """One chapter as plain data, as densely as was settled."""
        return {
            "id": chapter.id,
            "title": _said(words_of(chapter.title)),
            "blocks": self.blocks(chapter.blocks),
        }

    def blocks(self, blocks: Iterable[Block]) -> list[Data]:
        return [self.writers[type(block)](block) for block in blocks]

    def section(self, block: Section) -> Data:
        return {
            "kind": "section",
            "id": block.id,
            "title": _said(words_of(block.title)),
            "aside": words_of(block.aside),
            "blocks": self.blocks(block.blocks),
        }

    def paragraph(self, block: Paragraph) -> Data:
        words = self.cell(Cell(block.words, block.links))
        return {"kind": "paragraph", "style": block.kind, "words": words}

    def facts(self, block: Facts) -> Data:
        rows = [[words_of(term), self.cell(said)] for term, said in block.rows]
        long = sum(_length(said) for _, said in block.rows) > LONG_FACTS or len(rows) > MOST_FACTS
        return {"kind": "facts", "rows": rows, "long": long}

    def bullets(self, block: Bullets) -> Data:
        return {"kind": "bullets", "items": [self.cell(item) for item in block.items]}

    def cell(self, cell: Cell) -> str | Data:
        """The words alone where that is all, since most cells are that."""
        words, to = words_of(cell.words), cell.to if cell.to in self.targets else None
        if not (to or cell.links or cell.weak):
            return words
        files = words_of(_named(cell.links))
        return {"words": words, "to": to, "files": files, "weak": cell.weak}

    def table(self, block: Rows) -> Data:
        if self.dense and len(block.rows) > SHORT_TABLE:
            return _entries(block)
        return {
            "kind": "table",
            "caption": words_of(block.caption),
            "columns": [
                {"heading": words_of(each.heading), "number": each.number, "width": width}
                for each, width in zip(block.columns, column_widths(block), strict=True)
            ],
            "rows": [[self.cell(cell) for cell in row] for row in block.rows],
            "sums": block.sums,
            "empty": words_of(block.empty),
            "long": any(_length(cell) > LONG_CELL for row in block.rows for cell in row),
        }

    def shown(self, block: Pictures) -> Data:
        items = [self.picture(item, small=block.small) for item in block.items]
        return {"kind": "pictures", "small": block.small, "items": items}

    def picture(self, item: ShownPicture, *, small: bool) -> Data:
        size = self.pictures.size(item.number, small)
        width, height = size or (0, 0)
        return {
            "number": item.number,
            "drawing": self.pictures.drawing(item.number, small, size) if size else None,
            "width": width,
            "height": height,
            "alt": _said(printable_text(item.alt), f"Picture {item.number}"),
            "told": words_of(item.told),
        }


def _said(words: str, instead: str = UNNAMED) -> str:
    """Headings and pictures must have words (PDF/UA-1); some signs come to none."""
    return words if words.strip() else instead


def _named(links: Sequence[FileLink]) -> str:
    return "; ".join(link.words for link in links)


def column_widths(table: Rows) -> list[int]:
    """Each column's part of the whole in thousandths: its share, but no less than its words need.

    What a narrow column needs beyond its share is taken from those that have more than they need.
    """
    parts = sum(each.share for each in table.columns) or 1
    shares = [each.share * 1000 // parts for each in table.columns]
    needs = [_needed(table, index) for index in range(len(shares))]
    spare = [max(0, share - need) for share, need in zip(shares, needs, strict=True)]
    lack = [max(0, need - share) for share, need in zip(shares, needs, strict=True)]
    taken = min(sum(lack), sum(spare))
    return [
        share + gets * taken // (sum(lack) or 1) - has * taken // (sum(spare) or 1)
        for share, gets, has in zip(shares, lack, spare, strict=True)
    ]


def _needed(table: Rows, index: int) -> int:
    """What the longest word of a column takes; a very long one may be divided."""
    words = [table.columns[index].heading, *(row[index].words for row in table.rows)]
    longest = max(len(word) for text in words for word in _WORD.split(text))
    return BESIDE + SIGN_WIDTH * min(longest, MOST_WHOLE)


def _length(cell: Cell) -> int:
    return len(cell.words) + sum(len(link.words) + 2 for link in cell.links)


def _entries(block: Rows) -> Data:
    return {
        "kind": "entries",
        "caption": words_of(block.caption),
        "columns": [{"heading": words_of(each.heading)} for each in block.columns],
        "rows": ["  ·  ".join(filter(None, map(_flat, row))) for row in block.rows],
    }


def _flat(cell: Cell) -> str:
    return printable_text(" ".join(filter(None, (cell.words, _named(cell.links)))))


def _bars(block: Bars) -> Data:
    longest = max((bar.length for bar in block.bars), default=0) or 1
    return {
        "kind": "bars",
        "alt": _said(printable_text(block.alt), "A chart"),
        "parts": [words_of(part) for part in block.parts],
        "bars": [
            {
                "label": words_of(bar.label),
                "words": words_of(bar.words),
                "parts": [part * 1000 // longest for part in bar.parts or (bar.length,)],
            }
            for bar in block.bars
        ],
    }


def _blanks(block: Blanks) -> Data:
    lines = [words_of(line) for line in block.lines]
    return {"kind": "blanks", "lines": lines, "remarks": block.remarks}
