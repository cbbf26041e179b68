"""The blocks that the dossier's chapters are made of: what binder and document print alike.

A block says what stands there, never how it looks: that is for the two templates.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from builderlog.sheets.shelf import FileLink


@dataclass(frozen=True, slots=True)
class Cell:
    """Words, what they lead to inside the dossier (`to`: a section's or chapter's id), and files.

    `links` are notes and papers, which follow the words; `weak` words say that something is not
    on record.
    """

    words: str = ""
    links: tuple[FileLink, ...] = ()
    to: str = ""
    weak: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A sentence or several. `caution` must be seen; `gap` tells what the record lacks."""

    words: str
    kind: Literal["plain", "lead", "caution", "gap", "quiet"] = "plain"
    links: tuple[FileLink, ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """Terms with what is said of each."""

    rows: tuple[tuple[str, Cell], ...]


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list of short things, in an order that means nothing or stands in the words."""

    items: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table; `share` is its width in parts of the whole, beside the others."""

    heading: str
    number: bool = False
    share: int = 2


@dataclass(frozen=True, slots=True)
class Rows:
    """A table. `caption` names it to who cannot see it; `empty` is said where it has no row.

    Each row is as long as `columns`; the last `sums` rows are sums of those above.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = ""
    sums: int = 0


@dataclass(frozen=True, slots=True)
class ShownPicture:
    """A picture by its number in the photo index; `alt` stands where it cannot be seen.

    `path` and `digest` are those of the original; `told` is its caption, day and people.
    """

    number: int
    path: str
    digest: str
    alt: str
    told: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Pictures side by side; `small` ones are those of a contact sheet."""

    items: tuple[ShownPicture, ...]
    small: bool = False


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of a chart: its label, its length as a whole number, and that number in words."""

    label: str
    length: int
    words: str
    parts: tuple[int, ...] = ()  # the same length in parts, one for each of the chart's `parts`


@dataclass(frozen=True, slots=True)
class Bars:
    """A chart of bars, all on one scale; `alt` tells what it shows to who cannot see it."""

    alt: str
    bars: tuple[Bar, ...]
    parts: tuple[str, ...] = ()  # what the bars are divided into


@dataclass(frozen=True, slots=True)
class Blanks:
    """Room to write by hand: `lines` are labels with a ruled line each, `remarks` empty lines."""

    lines: tuple[str, ...] = ()
    remarks: int = 0


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a chapter under its own heading; sections may hold sections, two deep.

    `id` is unique in the dossier: letters, digits, `-`, `_` and `.`; links lead to it. `aside` are
    words for the heading's line, such as the standing of a task.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    aside: str = ""


Block: TypeAlias = Paragraph | Facts | Bullets | Rows | Pictures | Bars | Blanks | Section


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter: a page of the binder, and a first-level heading of the document.

    `id` names its page (`visits` is visits.html): small letters, digits and hyphens, unique.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Dossier:
    """The whole: `cover` stands first and alone, `chapters` follow in order.

    `record_date` is ISO 8601, "" where nothing in the record has a date; everything is reckoned
    on it.
    """

    title: str
    builders: tuple[str, ...]
    record_date: str
    running: str  # the head of each page
    foot: str  # the caution that stands at the foot of each page
    cover: Chapter
    chapters: tuple[Chapter, ...]


def shown_pictures(chapters: Iterable[Chapter]) -> Iterator[tuple[ShownPicture, bool]]:
    """Every picture that the chapters show, in their order, and whether it is a small one."""
    for chapter in chapters:
        yield from _shown_in(chapter.blocks)


def _shown_in(blocks: Iterable[Block]) -> Iterator[tuple[ShownPicture, bool]]:
    for block in blocks:
        if isinstance(block, Pictures):
            yield from ((item, block.small) for item in block.items)
        elif isinstance(block, Section):
            yield from _shown_in(block.blocks)


def anchor(task: str) -> str:
    """The id of a task's section: ASCII, never the same for two tasks."""
    return f"task-{''.join(map(_plain, task))}"


def _plain(sign: str) -> str:
    """Letters, digits, hyphens as they are; of all else a dot and two digits for each byte."""
    if sign.isascii() and (sign.isalnum() or sign in "-_"):
        return sign
    return "".join(f".{byte:02x}" for byte in sign.encode("utf-8"))
