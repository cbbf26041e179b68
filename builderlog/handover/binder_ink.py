"""Cells, links, pictures and bars of one page of the binder as HTML; the builder's words escaped.

Links lead to a page of the binder, to a place on one, or to a file below `data/`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import quote

from markupsafe import Markup, escape

from builderlog.drawing.hatches import HATCHES
from builderlog.handover.print_pictures import picture_name, print_size
from builderlog.knowing.ledger import Ledger
from builderlog.reading.photo_file import PhotoFile
from builderlog.sheets.chapter import Bar, Bars, Cell, ShownPicture
from builderlog.sheets.shelf import FileLink

PICTURES = "pictures/"
DATA = "../data/"
FIRST_LINKS = 10  # in one cell; a task of two years has hundreds of notes
MOST_LINKS = 100
BAR_PX = 16
_DAY = re.compile(r"(?<!\d)\d{4}-\d{2}-\d{2}(?:\.\d+)?(?!\d)")  # 2026-03-14, and snag 2026-03-14.2


@dataclass(frozen=True, slots=True)
class Desk:
    """What all pages share: where each id stands, names in the bag, the facts of pictures.

    `places` maps the id of a chapter or section to its page and the fragment there ("" at the top).
    """

    places: Mapping[str, tuple[str, str]]
    renamed: Mapping[str, str]
    files: Mapping[str, PhotoFile]

    def href(self, path: str) -> str:
        """A file of the journal, from a page of the binder."""
        return f"{DATA}{quote(self.renamed.get(path, path))}"

    def is_drawn(self, path: str) -> bool:
        """Whether a picture can be drawn; one that cannot is named in words."""
        file = self.files.get(path)
        return file is not None and not file.fault and file.width_px > 0 < file.height_px


def desk_of(
    ledger: Ledger, renamed: Mapping[str, str], places: Mapping[str, tuple[str, str]]
) -> Desk:
    """The desk of a journal; `renamed` maps its paths to those below data/ where they differ."""
    return Desk(places, renamed, {each.path: each.file for each in ledger.pictures})


@dataclass(frozen=True, slots=True)
class Ink:
    """Draws what stands on one page; `page` is its name in the binder's folder."""

    desk: Desk
    page: str

    def cell(self, cell: Cell) -> Markup:
        """Words, perhaps leading somewhere, with the notes and papers behind them.

        Words that say no more than their only link does are that link.
        """
        is_said = not cell.to and [cell.words] == [link.words for link in cell.links]
        words = "" if is_said else _kept(cell.words)
        href = self.place(cell.to)
        if href:
            words = f'<a href="{escape(href)}">{words}</a>'
        if cell.weak:
            words = f'<span class="weak">{words}</span>'
        if not cell.links:
            return Markup(words)  # noqa: S704 - every part is escaped
        told = self._links(cell.links[:FIRST_LINKS])
        if words:
            told = f'{words} <span class="links">[{told}]</span>'
        return Markup(f"{told}{self.fold(cell.links)}")  # noqa: S704 - every part is escaped

    def place(self, to: str) -> str:
        """A chapter or section of the dossier; "" where there is none of that id."""
        page, fragment = self.desk.places.get(to, ("", ""))
        if not page:
            return ""
        there = f"#{fragment}" if fragment else ""
        return there if there and page == self.page else f"{page}{there}"

    def links(self, files: Iterable[FileLink]) -> Markup:
        """All of them; what is not in the bag is named without a link."""
        return Markup(self._links(files))  # noqa: S704 - every part is escaped

    def fold(self, files: Sequence[FileLink]) -> Markup:
        """What comes after the first ten, folded away; of more than a hundred the tables tell."""
        if len(files) <= FIRST_LINKS:
            return Markup()
        told = self._links(files[FIRST_LINKS:MOST_LINKS])
        if len(files) > MOST_LINKS:
            told += f" and {len(files) - MOST_LINKS} more, which the tables name"
        summary = f"<summary>and {len(files) - FIRST_LINKS} more</summary>"
        return Markup(  # noqa: S704 - every part is escaped
            f' <details class="more">{summary}{told}</details>'
        )

    def _links(self, files: Iterable[FileLink]) -> str:
        return ", ".join(map(self._link, files))

    def _link(self, file: FileLink) -> str:
        words = _kept(file.words)
        href = escape(self.desk.href(file.path)) if file.path else ""
        return f'<a href="{href}">{words}</a>' if href else words

    def picture(self, shown: ShownPicture, *, small: bool) -> Markup:
        """The picture, which leads to its original; its words where it cannot be drawn."""
        href = self.desk.href(shown.path)
        if not self.desk.is_drawn(shown.path):
            told = Markup('<a class="undrawn" href="{}">{}</a> (it cannot be shown as a picture)')
            return told.format(href, shown.path)
        file = self.desk.files[shown.path]
        width, height = print_size(file.width_px, file.height_px, small)
        return Markup(
            '<a href="{}"><img src="{}{}" alt="{}" width="{}" height="{}" loading="lazy"></a>'
        ).format(href, PICTURES, picture_name(shown.number, small), shown.alt, width, height)


def kept(words: str) -> Markup:
    """The words, whose dates and percentages no line's end parts."""
    return Markup(_kept(words))  # noqa: S704 - escaped


def _kept(words: str) -> str:
    plain = str(escape(words)).replace(" %", "\N{NO-BREAK SPACE}%")
    return _DAY.sub(r'<span class="day">\g<0></span>', plain)


def hatches() -> Markup:
    """The hatches for all bars of a page; drawn once, unseen. No section's id holds a colon."""
    patterns = "".join(
        f'<pattern id="hatch:{number}" width="{side}" height="{side}" '
        f'patternUnits="userSpaceOnUse"><path class="hatching" d="{strokes}"/></pattern>'
        for number, (side, strokes) in enumerate(HATCHES)
    )
    opening = '<svg class="hatches" width="0" height="0" aria-hidden="true" focusable="false">'
    return Markup(f"{opening}<defs>{patterns}</defs></svg>")  # noqa: S704 - numbers of our own


def bar_svg(chart: Bars, bar: Bar) -> Markup:
    """One bar, as long beside the chart's longest as it should be."""
    longest = max((each.length for each in chart.bars), default=0)
    rects = "".join(_rects(bar.parts or (bar.length,), longest))
    opening = f'<svg class="bar" width="100%" height="{BAR_PX}" aria-hidden="true">'
    return Markup(f"{opening}{rects}</svg>")  # noqa: S704 - numbers of our own


def _rects(parts: Iterable[int], longest: int) -> Iterator[str]:
    start = 0
    for number, length in enumerate(parts):
        if length > 0 < longest:
            begin, end = _permille(start, longest), _permille(start + length, longest)
            yield (
                f'<rect x="{_percent(begin)}" y="1" width="{_percent(end - begin)}" '
                f'height="{BAR_PX - 2}" fill="url(#hatch:{number % len(HATCHES)})"/>'
            )
        start += length


def swatch(number: int) -> Markup:
    """The sample of a part's hatch for the chart's legend."""
    return Markup(  # noqa: S704 - a number of our own
        '<svg class="swatch" width="26" height="14" aria-hidden="true"><rect x="0.5" y="0.5" '
        f'width="25" height="13" fill="url(#hatch:{number % len(HATCHES)})"/></svg>'
    )


def _permille(part: int, whole: int) -> int:
    return (part * 1000 + whole // 2) // whole


def _percent(permille: int) -> str:
    return f"{permille // 10}.{permille % 10}%"


def breaks(words: str) -> Markup:
    """The words of a narrow heading, which may break after a stroke."""
    return Markup("/<wbr>").join(words.split("/"))
