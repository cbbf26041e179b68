"""Reads a drawn page as a browser would begin to: its elements, links, ids and headings."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

VOID = frozenset(("meta", "link", "img", "br", "hr", "input", "wbr", "col", "source"))


@dataclass
class ReadPage:
    """What stands on a page, in order."""

    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    headings: list[tuple[int, str]] = field(default_factory=list)
    unclosed: list[str] = field(default_factory=list)
    text: str = ""

    @property
    def urls(self) -> list[str]:
        """Every address the page names, those in srcset too."""
        found = [
            attributes[name]
            for _, attributes in self.elements
            for name in ("href", "src")
            if name in attributes
        ]
        for _, attributes in self.elements:
            found += [part.split()[0] for part in attributes.get("srcset", "").split(",") if part]
        return found

    @property
    def ids(self) -> list[str]:
        """Every id, in order."""
        return [attributes["id"] for _, attributes in self.elements if "id" in attributes]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.page = ReadPage()
        self._open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.page.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self._open.append(tag)
        if len(tag) == 2 and tag[0] == "h" and tag[1].isdigit():
            self.page.headings.append((int(tag[1]), ""))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.page.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if self._open[-1:] != [tag]:
            self.page.unclosed.append(tag)
        else:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        self.page.text += data
        if any(tag[0] == "h" and tag[1:].isdigit() for tag in self._open):
            level, words = self.page.headings[-1]
            self.page.headings[-1] = (level, words + data)


def read_page(html: str) -> ReadPage:
    """The page's elements, headings and text; `unclosed` names tags that close nothing."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    reader.page.unclosed += reader._open
    return reader.page


def targets(path: str, page: ReadPage) -> list[tuple[str, str]]:
    """Where the page's own links lead: (site path, anchor)."""
    found = []
    for url in page.urls:
        parts = urlsplit(url)
        if not parts.scheme and not parts.netloc:
            step = posixpath.join(posixpath.dirname(path), unquote(parts.path))
            found.append((posixpath.normpath(step) if parts.path else path, parts.fragment))
    return found
