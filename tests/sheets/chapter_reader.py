"""Reads chapters as a reader does: tables by heading, sections by id, all their words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.sheets.chapter import (
    Bars,
    Blanks,
    Block,
    Bullets,
    Cell,
    Chapter,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
)
from builderlog.sheets.material import Material, material
from tests.knowing.journals import ledger_of

EXAMPLE = Path(__file__).resolve().parent.parent.parent / "example_journal"
Maker = Callable[[Material], Iterable[Chapter]]


@cache
def example() -> Ledger:
    """The ledger of the example journal, read once."""
    return read_journal(Folder.at(EXAMPLE))


def made(maker: Maker, ledger: Ledger) -> Chapter:
    """The one chapter that a maker makes of a ledger."""
    [chapter] = maker(material(find(ledger)))
    return chapter


def none_made(maker: Maker, ledger: Ledger) -> bool:
    """Whether a maker leaves its chapter out."""
    return not list(maker(material(find(ledger))))


def of_notes(root: Path, *notes: str, files: Mapping[str, str] | None = None) -> Ledger:
    """The ledger of these front matters, each with its date in its first line, and other files."""
    written = {}
    for number, words in enumerate(notes):
        day = words.partition("\n")[0].partition(": ")[2]
        written[f"notes/{day}-{number}.md"] = f"---\n{words.strip()}\n---\n"
    return ledger_of(root, {**(files or {}), **written})


def blocks_in(blocks: Iterable[Block]) -> Iterator[Block]:
    """Every block, those in sections too."""
    for block in blocks:
        yield block
        if isinstance(block, Section):
            yield from blocks_in(block.blocks)


def sections(chapter: Chapter) -> dict[str, Section]:
    """Its sections by id."""
    return {each.id: each for each in blocks_in(chapter.blocks) if isinstance(each, Section)}


def tables(blocks: Iterable[Block]) -> list[Rows]:
    """Its tables in order."""
    return [each for each in blocks_in(blocks) if isinstance(each, Rows)]


def rows(table: Rows) -> list[dict[str, Cell]]:
    """The rows of a table by their headings; each is as long as the table says."""
    headings = [column.heading for column in table.columns]
    return [dict(zip(headings, row, strict=True)) for row in table.rows]


def plain(table: Rows) -> list[dict[str, str]]:
    """The same in words: those of the cell, then those of its links in brackets."""
    return [{name: text(cell) for name, cell in row.items()} for row in rows(table)]


def text(cell: Cell) -> str:
    """What a cell says."""
    links = "".join(f" [{link.words}]" for link in cell.links)
    return f"{cell.words}{links}".strip()


def cells(blocks: Iterable[Block]) -> Iterator[Cell]:
    """Every cell of tables, facts and lists."""
    for block in blocks_in(blocks):
        if isinstance(block, Rows):
            yield from (cell for row in block.rows for cell in row)
        elif isinstance(block, Facts):
            yield from (cell for _, cell in block.rows)
        elif isinstance(block, Bullets):
            yield from block.items


def said(blocks: Iterable[Block]) -> str:
    """All words of a chapter, as one text."""
    held = list(blocks)
    told = [word for block in blocks_in(held) for word in _words(block)]
    return "\n".join((*told, *map(text, cells(held))))


def _words(block: Block) -> tuple[str, ...]:
    """What a block says beside its cells."""
    told: tuple[str, ...] = ()
    match block:
        case Paragraph():
            told = (block.words,)
        case Section():
            told = (block.title, block.aside)
        case Rows():
            told = (block.caption, block.empty, *(each.heading for each in block.columns))
        case Bars():
            told = (block.alt, *block.parts, *(f"{bar.label} {bar.words}" for bar in block.bars))
        case Pictures():
            told = tuple(f"{each.alt} {each.told}" for each in block.items)
        case Blanks():
            told = block.lines
        case Facts():
            told = tuple(term for term, _ in block.rows)
    return told
