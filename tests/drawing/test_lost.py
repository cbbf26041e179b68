"""Holds that the page for addresses that lead nowhere stands by itself at any address."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.drawing.theme import open_theme, theme_names
from tests.drawing.made_public import PUBLIC, drawn
from tests.drawing.page_reader import read_page

ADDRESS = "https://ostrel.example/log/"
POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


@pytest.mark.parametrize("theme", theme_names())
def test_it_needs_no_other_file(theme: str) -> None:
    """In every theme it asks for nothing and leads nowhere but by a whole address."""
    for address in (None, ADDRESS):
        page = read_page(drawn_lost(theme, address))
        assert all(url.startswith(ADDRESS) for url in page.urls)
        assert bool(page.urls) == (address is not None)
        assert {tag for tag, _ in page.elements}.isdisjoint({"script", "img", "link"})


@pytest.mark.parametrize("theme", theme_names())
def test_it_carries_a_policy_and_is_never_found(theme: str) -> None:
    """Its policy lets only its own style in; even a findable site keeps it from search engines."""
    page = read_page(drawn(replace(PUBLIC, findable=True), open_theme(theme))["404.html"].decode())
    metas = [attributes for tag, attributes in page.elements if tag == "meta"]
    assert {"http-equiv": "Content-Security-Policy", "content": POLICY} in metas
    assert {"name": "robots", "content": "noindex, nofollow"} in metas
    assert page.headings[0] == (1, "Nothing stands here")


def test_the_site_map_leaves_it_out() -> None:
    """A site map lists the search and not the page of what is lost."""
    site = drawn(replace(PUBLIC, findable=True, address=ADDRESS))
    assert b"search.html" in site["sitemap.xml"]
    assert b"404.html" not in site["sitemap.xml"]
    assert b"canonical" not in site["404.html"]


def drawn_lost(theme: str, address: str | None) -> str:
    """The page as a theme draws it."""
    return drawn(replace(PUBLIC, address=address), open_theme(theme))["404.html"].decode()
