"""Under what a page is kept: all that it is drawn from."""

from __future__ import annotations

from dataclasses import replace

from builderlog.drawing.frames import Frame
from builderlog.drawing.pages import Easel, set_up
from builderlog.drawing.theme import open_theme
from builderlog.sheets.note import NoteSheet, ProseLink, ProseText
from builderlog.sheets.site import Page, all_pages
from tests.drawing.made_public import PUBLIC


def words_alone() -> Page:
    """A note's page whose only picture stands amid its words."""
    for page in all_pages(PUBLIC):
        if isinstance(page.sheet, NoteSheet) and page.sheet.cover:
            links = (ProseLink("a.jpg", page.sheet.cover),)
            prose = ProseText("![](a.jpg)", links, has_heading=False)
            sheet = replace(page.sheet, cover=None, gallery=(), prose=prose)
            return replace(page, sheet=sheet, chrome=replace(page.chrome, card=None))
    raise AssertionError


def easel(page: Page, path: str) -> Easel:
    """With one copy of the page's picture, under this path."""
    assert isinstance(page.sheet, NoteSheet)
    photos = (link.photo for link in page.sheet.prose.links if link.photo)
    return set_up(open_theme("trammel"), {each.digest: (Frame(path, 9, 9),) for each in photos})


def test_a_page_is_kept_under_the_copies_amid_its_words() -> None:
    """Copies that another version of a library drew have other names: the page is drawn anew."""
    page = words_alone()
    one, other = (easel(page, path) for path in ("pictures/a.webp", "pictures/b.webp"))
    assert one.draw(page) != other.draw(page)
    assert one.key(page) != other.key(page)
    assert one.key(page) == easel(page, "pictures/a.webp").key(page)
