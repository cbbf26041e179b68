"""Holds that every theme draws every page, keeps what all pages need, and loses no fact."""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from itertools import chain, pairwise
from pathlib import Path

import pytest
from PIL import Image

from builderlog.drawing.theme import EVERY, Theme, open_theme, theme_names, theme_shelf
from builderlog.sheets.note import ProseText
from builderlog.sheets.rows import Day, Link, Photo, Time
from builderlog.sheets.site import Page, all_pages
from tests.drawing.made_public import EMPTY, PUBLIC, drawn
from tests.drawing.page_reader import ReadPage, read_page, targets

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
BARE = "bare"  # a theme of the tests that has nothing but a style
PLAIN = "plain"  # another, as little as one can be that is like no other
PLAIN_FILES = {
    "style.css": "body { max-width: 40rem }",
    "base.html": """{% extends "every/base.html" %}
{% block body %}
<main id="main">
{% block page %}{% endblock %}
</main>
<footer>
{{ common.trail() }}
{{ common.pages() }}
<p><a href="{{ 'index.html' | url }}">{{ chrome.site_title }}</a>, {{ chrome.sheet_name }}:
{{ chrome.title }}.{% for fact in chrome.block %} {{ fact | join(" ") }}.{% endfor %}</p>
{% call(words) common.remarks() %}<p>{{ words }}</p>{% endcall %}
</footer>
{% endblock %}
""",
    "pieces.html": """{% import "every/pieces.html" as every with context %}
{% set sign, strip, key, state = every.sign, every.strip, every.key, every.state %}
{% set counts, plate, line = every.counts, every.plate, every.line %}
{% macro mark(state) %}[{{ state }}]{% endmacro %}
{% macro entry(row, shown=none, work=none) %}
<li><h3><a href="{{ row.link | url }}">{{ row.link.words }}</a></h3>
{{ row.opening or "" }} {{ common.short_day(row.day) }}
{{ common.facts(work.time if work else row.time, row.pictures, row.tasks) }}
{% set cover = work.cover if work else row.cover %}
{% if cover %}{{ common.entry_picture(row, cover, work, "90vw") }}{% endif %}
</li>
{% endmacro %}
""",
    "parts.html": """{% extends "every/parts.html" %}
{% block page %}
<h1>{{ sheet.count }}</h1>
<table>
{% for group in sheet.groups %}{% for part in group.parts %}
<tr id="{{ part.anchor }}"><th>{{ part.name }}</th><td>{{ group.name }}</td>
<td>{{ part.count or "" }} {{ part.ref or "" }} {{ part.supplier or "" }} {{ part.cost or "" }}
{% if part.task %}{{ common.links([part.task]) }}{% endif %}
{% for event in part.events %}
{{ common.short_day(event.day) }} {{ event.status or "named" }} {{ event.count or "" }}
{% if event.due %}{{ common.day(event.due) }}{% endif %}
{% if event.note %}{{ common.links([event.note]) }}{% endif %}
{% endfor %}</td></tr>
{% endfor %}{% endfor %}
</table>
{% endblock %}
""",
}


@cache
def _shelf() -> tempfile.TemporaryDirectory[str]:
    """A shelf with the themes of the tests and what all themes share."""
    shelf = tempfile.TemporaryDirectory()
    shutil.copytree(theme_shelf() / EVERY, Path(shelf.name, EVERY))
    for theme in (BARE, PLAIN):
        Path(shelf.name, theme).mkdir()
    Path(shelf.name, BARE, "style.css").write_text(PLAIN_FILES["style.css"], encoding="utf-8")
    for name, text in PLAIN_FILES.items():
        Path(shelf.name, PLAIN, name).write_text(text, encoding="utf-8")
    return shelf


def opened(theme: str) -> Theme:
    """A theme of the package, or one of the tests' own."""
    made = theme in (BARE, PLAIN)
    return open_theme(theme, shelf=Path(_shelf().name) if made else None)


@cache
def pages_of(theme: str) -> dict[str, ReadPage]:
    """Every page that a theme draws, read."""
    site = drawn(theme=opened(theme))
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
def test_every_theme_looks_and_prints_its_own_way(theme: str) -> None:
    """Style, icon, preview and document are a theme's own; no file repeats what all share."""
    own = {file.name: file.read_bytes() for file in (theme_shelf() / theme).iterdir()}
    assert {"style.css", "icon.svg", "preview.webp", "dossier.typ", "dossier-ink.typ"} <= set(own)
    for file in (theme_shelf() / EVERY).iterdir():
        assert own.get(file.name) != file.read_bytes()


@pytest.mark.parametrize("kind", sorted({page.kind for page in PAGES.values()} | {"letter"}))
def test_a_page_stands_whole_in_what_all_share(kind: str) -> None:
    """A theme need not have a template of any kind of page."""
    assert (theme_shelf() / EVERY / f"{kind}.html").is_file()


@pytest.mark.parametrize("theme", [*THEMES, BARE, PLAIN])
def test_every_theme_draws_every_page(theme: str) -> None:
    """Each draws the same pages, of a full journal and of an empty one, twice the same bytes."""
    for public in (PUBLIC, EMPTY):
        first = drawn(public, opened(theme))
        assert set(first) == set(drawn(public))
        assert first == drawn(public, opened(theme))


@pytest.mark.parametrize("theme", [*THEMES, BARE, PLAIN])
def test_every_link_of_every_theme_leads_somewhere(theme: str) -> None:
    """A link leads to a file of the site, and to a place that is there on its page."""
    pages, site = pages_of(theme), set(drawn(theme=opened(theme)))
    for path in set(pages) - {LOST}:
        for target, anchor in targets(path, pages[path]):
            assert target in site, (path, target)
            assert not anchor or anchor in pages[target].ids, (path, target, anchor)


@pytest.mark.parametrize("path", sorted(PAGES))
@pytest.mark.parametrize("theme", [*THEMES, BARE, PLAIN])
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
@pytest.mark.parametrize("theme", [*(theme for theme in THEMES if theme != MODEL), BARE, PLAIN])
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
    parts = (theme_shelf() / EVERY / "parts.html").read_text(encoding="utf-8")
    (tmp_path / "look").mkdir()
    (tmp_path / "look/parts.html").write_text(parts.replace("{{ part.name }}", ""), "utf-8")
    drawing = drawn(theme=open_theme("deckle", tmp_path))["parts.html"].decode("utf-8")
    assert lost_facts(PAGES["parts.html"], read_page(drawing)) == [("AN3-5A bolt",), ("Hinge",)]


def test_a_note_of_many_tasks_names_four(tmp_path: Path) -> None:
    """The line of facts names up to five tasks; of more it names four and tells how many more."""
    (tmp_path / "look").mkdir()
    front = """{% extends "theme/front.html" %}
    {% block page %}{{ common.facts(none, 0, "ABCDE") }}{{ common.facts(none, 1, "abcdef") }}
    {{ common.facts(none, 1, "") }}{% endblock %}"""
    (tmp_path / "look/front.html").write_text(front)
    page = drawn(theme=open_theme(MODEL, tmp_path))["index.html"].decode("utf-8")
    lines = re.findall(r'<p class="label facts">(.*?)</p>', page, re.DOTALL)
    told = [" ".join(re.sub("<.*?>", " ", line).split()) for line in lines]
    assert told == ["A B C D E", "a b c d and 2 more"]


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
