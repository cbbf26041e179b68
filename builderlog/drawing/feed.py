"""A feed as Atom (RFC 4287): ids that stay, whole words, pictures where the address is known.

Plain, for a reader that has a look of its own: nothing of the theme goes in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from xml.etree.ElementTree import Element, SubElement, indent, register_namespace, tostring

from markupsafe import Markup, escape

from builderlog.deciding.addresses import relative_url
from builderlog.drawing.pages import Frames
from builderlog.drawing.prose_html import Surroundings, prose_html
from builderlog.sheets.feed import Feed, FeedEntry
from builderlog.sheets.month import MonthSheet
from builderlog.sheets.note import NoteSheet, ProseText
from builderlog.sheets.rows import Photo

NAMESPACE = "http://www.w3.org/2005/Atom"
KIND = "application/atom+xml"
_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, 2.2
MOST_PICTURES = 12  # of an entry: a reader loads them all


def feed_bytes(feed: Feed, frames: Frames) -> bytes:
    """The feed's file, UTF-8. `frames` are the copies of each picture by digest."""
    register_namespace("", NAMESPACE)
    root = _element("feed")
    for name, text in (("id", feed.id), ("title", feed.title), ("subtitle", feed.subtitle)):
        _add(root, name, text)
    _add(root, "updated", _moment(feed.updated))
    _add(_add(root, "author"), "name", feed.author)
    where = _where(feed)
    if feed.address:
        _add(root, "link", rel="self", type=KIND, href=where(feed.path))
    _add(root, "link", rel="alternate", type="text/html", href=where(feed.page))
    for entry in feed.entries:
        root.append(_entry(entry, where, frames if feed.address else {}))
    indent(root, space="")
    made: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return made + b"\n"


def _entry(entry: FeedEntry, where: Callable[[str], str], frames: Frames) -> Element:
    made = _element("entry")
    _add(made, "id", entry.id)
    _add(made, "title", entry.title)
    _add(made, "published", _moment(entry.published))
    _add(made, "updated", _moment(entry.updated))
    _add(made, "link", rel="alternate", type="text/html", href=where(entry.page))
    around = _Page(where, frames)
    sheet = entry.sheet
    lines = around.note(sheet) if isinstance(sheet, NoteSheet) else around.month(sheet)
    _add(made, "content", "".join(lines), type="html")
    return made


def _where(feed: Feed) -> Callable[[str], str]:
    """Site path to URL: whole with the address, else from the feed's own place."""
    if feed.address is None:
        return lambda path: relative_url(feed.path, path)
    address = feed.address
    return lambda path: address + relative_url("", path).removeprefix("./")


class _Page:
    """What an entry's content is written with."""

    def __init__(self, where: Callable[[str], str], frames: Frames) -> None:
        """`frames` is empty where no picture can be shown."""
        self.where = where
        self.frames = frames

    def note(self, sheet: NoteSheet) -> Iterator[str]:
        """A note: when and how long, its words, its pictures, what else it tells."""
        tasks = ", ".join(row.name for row in sheet.tasks)
        yield _line(". ".join(part for part in (sheet.day.long, _time(sheet), tasks) if part) + ".")
        if sheet.cover:
            yield self.figure(sheet.cover)
        yield str(prose_html(self.shown(sheet.prose), self.around()))
        for photo in sheet.gallery[:MOST_PICTURES]:
            yield self.figure(photo)
        for each in sheet.decided:
            why = f", because {each.why}" if each.why else ""
            yield _line(f"Decided: {each.what}{why}.")
        if sheet.next_steps:
            yield _line(f"Next: {'; '.join(sheet.next_steps)}.")

    def month(self, sheet: MonthSheet) -> Iterator[str]:
        """A month: its sums, the builder's own words, where the time went, notes, pictures."""
        yield _line(f"{sheet.time.words} {sheet.span}.")
        if sheet.not_shown:
            yield _line(sheet.not_shown)
        if sheet.cover:
            yield self.figure(sheet.cover)
        if sheet.letter:
            yield str(prose_html(self.shown(sheet.letter.prose), self.around()))
        yield _list(f"{escape(row.name)}: {row.time.words}" for row in sheet.areas)
        if sheet.done:
            yield _line(f"Done: {'; '.join(link.words for link in sheet.done)}.")
        for row in sheet.decisions:
            yield _line(f"Decided: {row.decision.what}.")
        if sheet.closed:
            yield _line(f"Closed up: {'; '.join(row.name for row in sheet.closed)}.")
        yield _list(
            f'<a href="{escape(self.where(row.link.path))}">{escape(row.link.words)}</a>'
            for row in sheet.notes
        )
        for photo in sheet.photos[:MOST_PICTURES]:
            yield self.figure(photo)

    def figure(self, photo: Photo) -> str:
        """A picture with its caption, nothing where it cannot be shown."""
        if photo.digest not in self.frames:
            return ""
        words = f"<figcaption>{escape(photo.caption)}</figcaption>" if photo.caption else ""
        return f"<figure>{self.image(photo)}{words}</figure>\n"

    def image(self, photo: Photo) -> Markup:
        """The img element: one copy, as readers seldom know more."""
        frame = self.frames[photo.digest][-1]
        size = f'width="{frame.width_px}" height="{frame.height_px}"'
        html = f'<img src="{escape(self.large(photo))}" {size} alt="{escape(photo.alt)}">'
        return Markup(html)  # noqa: S704 - every value above is a number or escaped

    def large(self, photo: Photo) -> str:
        """The URL of the picture's largest copy."""
        return self.where(self.frames[photo.digest][-1].path)

    def around(self) -> Surroundings:
        """What the prose is given."""
        return Surroundings(url=self.where, image=self.image, large=self.large)

    def shown(self, prose: ProseText) -> ProseText:
        """The prose; a picture that cannot be shown becomes its own words."""
        links = tuple(
            link for link in prose.links if link.photo is None or link.photo.digest in self.frames
        )
        return replace(prose, links=links)


def _time(sheet: NoteSheet) -> str:
    return sheet.time.words if sheet.time else ""


def _line(words: str) -> str:
    return f"<p>{escape(words)}</p>\n"


def _list(items: Iterator[str] | Sequence[str]) -> str:
    lines = "".join(f"<li>{item}</li>\n" for item in items)
    return f"<ul>\n{lines}</ul>\n" if lines else ""


def _moment(day: date) -> str:
    """RFC 3339; a record knows days, not hours."""
    return f"{day.isoformat()}T00:00:00Z"


def _element(name: str) -> Element:
    return Element(f"{{{NAMESPACE}}}{name}")


def _add(parent: Element, name: str, text: str | None = None, **attributes: str) -> Element:
    made = SubElement(parent, f"{{{NAMESPACE}}}{name}", attributes)
    if text is not None:
        made.text = _NO_XML.sub("\ufffd", text)
    return made
