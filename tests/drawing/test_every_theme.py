"""Holds that every theme draws every page, keeps what all pages need, and loses no fact."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from itertools import chain, pairwise
from pathlib import Path

import pytest
from PIL import Image

from builderlog.drawing.theme import EVERY, open_theme, theme_names, theme_shelf
from builderlog.sheets.note import ProseText
from builderlog.sheets.rows import Day, Link, Photo, Time
from builderlog.sheets.site import Page, all_pages
from tests.drawing.made_public import EMPTY, PUBLIC, drawn
from tests.drawing.page_reader import ReadPage, read_page

THEMES = theme_names()
MODEL = "trammel"  # what it shows of a sheet, the others show too
PAGES = {page.path: page for page in all_pages(PUBLIC)}
WAYS: dict[type, tuple[str, ...]] = {
    Time: ("words", "clock", "hours"),
    Day: ("long", "plain", "short"),
    Link: ("words",),
    Photo: ("caption", "alt"),
}
LOST = "404.html"  # stands for itself: its style is inside, and it leads nowhere by itself


@cache
def pages_of(theme: str) -> dict[str, ReadPage]:
    """Every page that a theme draws, read."""
    site = drawn(theme=open_theme(theme))
    return {path: read_page(site[path].decode("utf-8")) for path in site if path.endswith(".html")}


def texts(value: object) -> Iterator[tuple[str, ...]]:
    """Every fact of a sheet: the ways in which it may be written, one of which is enough."""
    ways = WAYS.get(type(value))
    if ways:
        yield tuple(str(getattr(value, name)) for name in ways if getattr(value, name))
    elif isinstance(value, str):
        yield (value,)
    elif isinstance(value, ProseText):
        yield from ((word,) for word in value.text.split() if word.isalpha())
    elif isinstance(value, tuple):
        yield from chain.from_iterable(texts(item) for item in value)
    elif is_dataclass(value):
        yield from texts(tuple(getattr(value, field.name) for field in fields(value)))


def shown(fact: tuple[str, ...], page: ReadPage) -> bool:
    """Whether a page says a fact in one of its ways, in its words or in words for a picture."""
    told = [" ".join(way.split()) for way in fact]
    spoken = " ".join(page.text.split())
    unseen = [
        attributes[name]
        for _, attributes in page.elements
        for name in ("alt", "aria-label", "title")
        if name in attributes
    ]
    return any(way in spoken or any(way in words for words in unseen) for way in told if way)


def lost_facts(page: Page, other: ReadPage) -> list[tuple[str, ...]]:
    """What the model shows of a page's sheet and its surroundings, and another drawing does not."""
    chrome = replace(page.chrome, description="", canonical=None, address=None, sheet_name="")
    facts = {*texts(page.sheet), *texts(chrome)}
    model = pages_of(MODEL)[page.path]
    return [fact for fact in sorted(facts) if shown(fact, model) and not shown(fact, other)]


@pytest.mark.parametrize("theme", THEMES)
def test_every_theme_has_the_same_templates(theme: str) -> None:
    """A kind of page that one theme draws, each draws; style, icon and preview are there."""
    names = {file.name for file in (theme_shelf() / theme).iterdir()}
    model = {file.name for file in (theme_shelf() / MODEL).iterdir()}
    assert names == model
    assert {"style.css", "icon.svg", "preview.webp", "dossier.typ", "letter.html"} <= names
    shared = {file.name for file in (theme_shelf() / EVERY).iterdir()}
    assert {f"{page.kind}.html" for page in PAGES.values()} <= names | shared


@pytest.mark.parametrize("theme", THEMES)
def test_every_theme_draws_every_page(theme: str) -> None:
    """Each draws the same paths, of a full journal and of an empty one, twice the same bytes."""
    for public in (PUBLIC, EMPTY):
        first = drawn(public, open_theme(theme))
        assert set(first) == set(drawn(public))
        assert first == drawn(public, open_theme(theme))


@pytest.mark.parametrize("path", sorted(PAGES))
@pytest.mark.parametrize("theme", THEMES)
def test_every_page_is_sound(theme: str, path: str) -> None:
    """A policy, one main, one h1 first and no level left out, nothing unclosed, each id once."""
    page = pages_of(theme)[path]
    names = [name for name, _ in page.elements]
    policies = [a["content"] for name, a in page.elements if a.get("http-equiv") and name == "meta"]
    assert len(policies) == 1
    assert "default-src 'none'" in policies[0]
    assert page.unclosed == []
    assert len(page.ids) == len(set(page.ids))
    assert names.count("main") == 1
    levels = [level for level, _ in page.headings]
    assert (levels[0], levels.count(1)) == (1, 1)
    assert all(after <= before + 1 for before, after in pairwise(levels))
    if path != LOST:
        assert "style" not in names
        assert not any("style" in attributes for _, attributes in page.elements)
        first = next(a for name, a in page.elements if name == "a")
        assert first["href"] == "#main"


@pytest.mark.parametrize("path", sorted(PAGES))
@pytest.mark.parametrize("theme", [theme for theme in THEMES if theme != MODEL])
def test_a_theme_loses_no_fact(theme: str, path: str) -> None:
    """What the first theme shows of a sheet, every other shows on the same page."""
    assert lost_facts(PAGES[path], pages_of(theme)[path]) == []


def test_the_facts_are_many_and_a_lost_one_is_found(tmp_path: Path) -> None:
    """The check says something: a page drawn without the parts' names is told to have lost them."""
    counted = {
        path: sum(shown(fact, pages_of(MODEL)[path]) for fact in set(texts(page.sheet)))
        for path, page in PAGES.items()
    }
    assert all(count > 0 for count in counted.values()), counted
    assert sum(counted.values()) > 300
    parts = (theme_shelf() / "deckle/parts.html").read_text(encoding="utf-8")
    (tmp_path / "look").mkdir()
    (tmp_path / "look/parts.html").write_text(parts.replace("{{ part.name }}", ""), "utf-8")
    drawing = drawn(theme=open_theme("deckle", tmp_path))["parts.html"].decode("utf-8")
    assert lost_facts(PAGES["parts.html"], read_page(drawing)) == [("AN3-5A bolt",), ("Hinge",)]


@pytest.mark.parametrize("theme", THEMES)
def test_a_theme_asks_for_nothing_from_elsewhere(theme: str) -> None:
    """No style of a theme names an address; none of them brings in another."""
    for name in ("style.css", "lost.html", "letter.html"):
        text = (theme_shelf() / theme / name).read_text(encoding="utf-8")
        assert re.findall(r"url\(|@import|https?://", text) == []


@pytest.mark.parametrize("theme", THEMES)
def test_a_preview_is_small(theme: str) -> None:
    """The picture by which a theme is chosen is one of at most sixty thousand bytes."""
    file = theme_shelf() / theme / "preview.webp"
    assert file.stat().st_size <= 60_000
    with Image.open(file) as preview:
        assert (preview.format, preview.size) == ("WEBP", (1400, 945))
