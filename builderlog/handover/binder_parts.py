"""The dossier's chapters cut into pages: most are one, a photo index of thousands is many.

A table or a row of pictures that is too long is continued on the next page; its columns, captions
and headings are said again there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from builderlog.deciding.words import clipped
from builderlog.sheets.chapter import (
    Bars,
    Blanks,
    Block,
    Bullets,
    Chapter,
    Dossier,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
)

Item = TypeVar("Item")

# How much a page holds, in table rows: so much of a page opens at once on an old telephone.
PAGE_WEIGHT = 1500
SLICE_WEIGHT = 1000
SMALL_PICTURE, PICTURE = 2, 6  # in table rows
FRONT = "index.html"
CONTINUED = " (continued)"
LONGEST_LABEL = 40


@dataclass(frozen=True, slots=True)
class Part:
    """One page: which of how many of its chapter, and its name in the binder's folder.

    `begins` are the words with which it begins, for the links between the parts.
    """

    chapter: Chapter
    number: int
    of: int
    name: str
    blocks: tuple[Block, ...]
    begins: str


def parts_of(dossier: Dossier) -> tuple[Part, ...]:
    """Every page in order; the cover is the first, and whole."""
    cover = Part(dossier.cover, 1, 1, FRONT, dossier.cover.blocks, "")
    return (cover, *(part for chapter in dossier.chapters for part in _parts(chapter)))


def _parts(chapter: Chapter) -> Iterator[Part]:
    pages = cut(chapter.blocks, PAGE_WEIGHT, SLICE_WEIGHT)
    for number, blocks in enumerate(pages, start=1):
        name = page_name(chapter.id, number)
        yield Part(chapter, number, len(pages), name, tuple(blocks), _begins(blocks))


def page_name(chapter: str, number: int) -> str:
    """visits.html, then visits.2.html: no id holds a dot, so no two chapters share a name."""
    plain = f"{chapter}.html"
    return plain if number == 1 and plain != FRONT else f"{chapter}.{number}.html"


def cut(blocks: Iterable[Block], most: int, piece: int) -> list[list[Block]]:
    """The blocks in pages of at most `most` rows' weight; what is heavier is cut into pieces."""
    pages: list[list[Block]] = [[]]
    room = most
    for block in (small for whole in blocks for small in _pieces(whole, piece)):
        weight = weight_of(block)
        if weight > room and pages[-1]:
            pages.append([])
            room = most
        pages[-1].append(block)
        room -= weight
    return pages


def weight_of(block: Block) -> int:
    """How much of a page a block takes, in table rows; a heading or a sentence is one."""
    match block:
        case Rows():
            return len(block.rows) + 1
        case Pictures():
            return len(block.items) * _picture_weight(block)
        case Facts():
            return len(block.rows)
        case Bullets():
            return len(block.items)
        case Section():
            return 1 + sum(map(weight_of, block.blocks))
        case Paragraph() | Bars() | Blanks():
            return 1


def _picture_weight(block: Pictures) -> int:
    return SMALL_PICTURE if block.small else PICTURE


def _pieces(block: Block, most: int) -> Iterator[Block]:
    """The block, or as many of its kind as are needed that none weighs more than `most`."""
    if weight_of(block) <= most:
        yield block
        return
    match block:
        case Rows():
            yield from _cut_rows(block, most - 1)
        case Pictures():
            cuts = _slices(block.items, max(1, most // _picture_weight(block)))
            yield from (replace(block, items=items) for items in cuts)
        case Facts():
            yield from (Facts(rows) for rows in _slices(block.rows, most))
        case Bullets():
            yield from (Bullets(items) for items in _slices(block.items, most))
        case Section():
            yield from _cut_section(block, most)
        case _:
            yield block


def _cut_rows(block: Rows, most: int) -> Iterator[Rows]:
    """Sums stay with the last of the rows that they sum."""
    body = block.rows[: len(block.rows) - block.sums]
    slices = [*_slices(body, max(1, most))]
    for rows in slices[:-1]:
        yield replace(block, rows=rows, sums=0)
    last = slices[-1] if slices else ()
    yield replace(block, rows=(*last, *block.rows[len(body) :]))


def _cut_section(block: Section, most: int) -> Iterator[Section]:
    """Only the first has the id: a link leads to where the section begins."""
    first, *others = cut(block.blocks, most - 1, max(2, most - 1))
    yield replace(block, blocks=tuple(first))
    for blocks in others:
        yield replace(block, id="", title=block.title + CONTINUED, blocks=tuple(blocks), aside="")


def _slices(items: tuple[Item, ...], most: int) -> Iterator[tuple[Item, ...]]:
    return (items[start : start + most] for start in range(0, len(items), most))


def sections_of(blocks: Iterable[Block]) -> Iterator[Section]:
    """Every section with an id, those inside others too, in order."""
    for block in blocks:
        if isinstance(block, Section):
            if block.id:
                yield block
            yield from sections_of(block.blocks)


def _begins(blocks: Iterable[Block]) -> str:
    """The first name that stands in the blocks: of a section, a table's row or a picture."""
    return next((clipped(words, LONGEST_LABEL) for words in _names(blocks) if words), "")


def _names(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Section():
                yield block.title
                return
            case Rows(rows=[[first, *_], *_]):
                yield first.words
            case Pictures(items=[first_picture, *_]):
                yield f"picture {first_picture.number}"
            case _:
                continue
