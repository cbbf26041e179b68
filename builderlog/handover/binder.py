"""The dossier as a folder of pages that open from disk: no script, no address, nothing fetched.

What stands on a page comes from the chapters alone, so that pages made again later, where no
picture was drawn, have the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builderlog.handover import binder_ink
from builderlog.handover.binder_ink import PICTURES, Ink, desk_of
from builderlog.handover.binder_parts import FRONT, Part, parts_of, sections_of
from builderlog.handover.binder_table import form_of, table_rows, widths_of
from builderlog.handover.print_pictures import picture_name
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Bars, Block, Dossier, Section, shown_pictures

BINDER = "binder/"
BINDER_FRONT = f"{BINDER}{FRONT}"
PICTURES_FOLDER = f"{BINDER}{PICTURES}"
TEMPLATES = Path(__file__).resolve().parent / "binder"
STYLE = "binder.css"
FINDER = "a-to-z"  # the chapter where tasks and people are looked up
TASK = "task-"  # with this the ids of tasks' sections begin


@dataclass(frozen=True, slots=True)
class PageLink:
    """A line of the contents: what it is called, where it stands, and what stands below it."""

    words: str
    href: str
    is_here: bool = False
    below: tuple[PageLink, ...] = ()


def binder_pages(dossier: Dossier, ledger: Ledger, renamed: Mapping[str, str]) -> dict[str, bytes]:
    """Every page and the style sheet by its path in the bag.

    `ledger` is the one that goes along; `renamed` maps journal paths to their paths below data/
    where the two differ.
    """
    return {f"{BINDER}{name}": data for name, data in _files(dossier, ledger, renamed)}


def picture_paths(dossier: Dossier, ledger: Ledger) -> frozenset[str]:
    """The pictures that the pages show, by their paths in the bag."""
    desk = desk_of(ledger, {}, {})
    return frozenset(
        f"{PICTURES_FOLDER}{picture_name(shown.number, small)}"
        for shown, small in shown_pictures((dossier.cover, *dossier.chapters))
        if desk.is_drawn(shown.path)
    )


def _files(
    dossier: Dossier, ledger: Ledger, renamed: Mapping[str, str]
) -> Iterator[tuple[str, bytes]]:
    yield STYLE, (TEMPLATES / STYLE).read_bytes()
    parts = parts_of(dossier)
    desk = desk_of(ledger, renamed, _places(parts))
    shelf = _environment()
    chapters = [part for part in parts if part.number == 1]
    for at, part in enumerate(parts):
        siblings = [each for each in parts if each.chapter is part.chapter]
        words = {
            "dossier": dossier,
            "part": part,
            "ink": Ink(desk, part.name),
            "contents": _contents(chapters, parts, part),
            "siblings": siblings if len(siblings) > 1 else [],
            "before": parts[at - 1] if at else None,
            "after": parts[at + 1] if at + 1 < len(parts) else None,
        }
        template = shelf.get_template("index.html" if part.name == FRONT else "page.html")
        yield part.name, f"{template.render(words).rstrip()}\n".encode()


def _places(parts: Sequence[Part]) -> dict[str, tuple[str, str]]:
    """Where each chapter and section stands: its page, and the fragment there."""
    places = {part.chapter.id: (part.name, "") for part in parts if part.number == 1}
    for part in parts:
        places |= {each.id: (part.name, each.id) for each in sections_of(part.blocks)}
    return places


def _contents(chapters: Sequence[Part], parts: Sequence[Part], here: Part) -> tuple[PageLink, ...]:
    """All chapters; below the one that is open its sections, on the front page all tasks."""
    found = []
    for part in chapters:
        is_here = part.chapter is here.chapter
        inside = [each for each in parts if each.chapter is part.chapter]
        below = _below(inside, here, only_tasks=not is_here) if _opens(part, here) else ()
        found.append(PageLink(_part_title(part), part.name, is_here, below))
    return tuple(found)


def _opens(part: Part, here: Part) -> bool:
    """Whether the contents show what is inside a chapter; the cover is all on one page."""
    return part.name != FRONT and (part.chapter is here.chapter or here.name == FRONT)


def _below(inside: Sequence[Part], here: Part, *, only_tasks: bool) -> tuple[PageLink, ...]:
    links = tuple(
        PageLink(section.title, f"{'' if part.name == here.name else part.name}#{section.id}")
        for part in inside
        for section in _top_sections(part.blocks)
        if section.id.startswith(TASK) or not only_tasks
    )
    return links if len(links) > 1 or only_tasks else ()


def _top_sections(blocks: Sequence[Block]) -> Iterator[Section]:
    return (block for block in blocks if isinstance(block, Section) and block.id)


@cache
def _environment() -> Environment:
    shelf = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    shelf.filters |= {
        "kind": _kind,
        "form": form_of,
        "widths": widths_of,
        "has_bars": _has_bars,
        "part_title": _part_title,
        "kept": binder_ink.kept,
        "breaks": binder_ink.breaks,
    }
    shelf.globals |= {
        "hatches": binder_ink.hatches,
        "bar_svg": binder_ink.bar_svg,
        "swatch": binder_ink.swatch,
        "table_rows": table_rows,
        "most_links": binder_ink.FIRST_LINKS,
        "finder": FINDER,
    }
    return shelf


def _kind(block: Block) -> str:
    return type(block).__name__


def _has_bars(blocks: Iterable[Block]) -> bool:
    return any(
        isinstance(block, Bars) or (isinstance(block, Section) and _has_bars(block.blocks))
        for block in blocks
    )


def _part_title(part: Part) -> str:
    title = "Cover and contents" if part.name == FRONT else part.chapter.title
    return title if part.number == 1 else f"{title}, page {part.number}"
