"""The recipes for a builder's own look work as they are told: a colour, a template, a page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builderlog.drawing.own_pages import with_own_pages
from builderlog.drawing.theme import ThemeFault, open_theme, theme_names, theme_shelf
from builderlog.sheets.site import all_pages
from tests.drawing.made_public import PUBLIC, drawn, filled_store
from tests.drawing.page_reader import read_page

THEMES = theme_names()
PAGE = """{% extends "base.html" %}
{% block page %}
<h1>The shop</h1>
<p>Four paces by nine. <img src="{{ 'shop.svg' | url }}" alt="Its plan" width="90" height="40">
{{ sheet.total.words }} so far; <a href="{{ 'notes.html' | url }}">all notes</a>.</p>
{% endblock %}
"""
FRONT = """{% extends "theme/front.html" %}
{% block page %}
<p class="hello">Come by on a Saturday.</p>
{{ super() }}
{% endblock %}
"""
WITHOUT_NEWS = """{% extends "theme/front.html" %}
{% block news %}
<p>Nothing to tell, {{ common.links(sheet.news.months) }}.</p>
{% endblock %}
"""


def lay(journal: Path, files: Mapping[str, str]) -> Path:
    """Writes files into a journal's look/."""
    for name, text in files.items():
        file = journal / "look" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return journal


@cache
def as_shipped(theme: str) -> dict[str, bytes]:
    """The site as the theme draws it, without any look."""
    return drawn(theme=open_theme(theme))


@pytest.mark.parametrize("theme", THEMES)
def test_one_colour(theme: str, tmp_path: Path) -> None:
    """A style of the builder's own comes after the theme's on every page; nothing else changes."""
    colour = ":root { --ink: #102030; }"
    plain = as_shipped(theme)
    own = drawn(theme=open_theme(theme, lay(tmp_path, {"own.css": colour})))
    assert own["own.css"] == colour.encode()
    assert own["style.css"] == plain["style.css"]
    for path in ("index.html", "notes/2026-03-14-skins.html"):
        sheets = [
            attributes["href"]
            for name, attributes in read_page(own[path].decode()).elements
            if name == "link" and attributes["rel"] == "stylesheet"
        ]
        assert [Path(each).name for each in sheets] == ["style.css", "own.css"]
    assert b"own.css" not in b"".join(plain.values())


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("name", ["--ink", "--paper"])
def test_the_colours_of_the_recipe_are_there(theme: str, name: str) -> None:
    """Every theme calls its ink and its paper so, once for the day and once for the night."""
    style = (theme_shelf() / theme / "style.css").read_text(encoding="utf-8")
    day, night = style.split("prefers-color-scheme: dark", 1)
    assert f"  {name}: #" in day
    assert f"    {name}: #" in night


@pytest.mark.parametrize("theme", THEMES)
def test_one_template(theme: str, tmp_path: Path) -> None:
    """A template may be the theme's own with something added, by the name that reaches behind."""
    plain = as_shipped(theme)
    own = drawn(theme=open_theme(theme, lay(tmp_path, {"front.html": FRONT})))
    front, before = (read_page(site["index.html"].decode()) for site in (own, plain))
    assert "Come by on a Saturday." in front.text
    assert front.text.replace("Come by on a Saturday.", "").split() == before.text.split()
    assert own["notes.html"] == plain["notes.html"]


@pytest.mark.parametrize("theme", THEMES)
def test_one_block(theme: str, tmp_path: Path) -> None:
    """A block of a page may be the builder's own, wherever a theme puts it; the others stay."""
    own = drawn(theme=open_theme(theme, lay(tmp_path, {"front.html": WITHOUT_NEWS})))
    front, before = (read_page(site["index.html"].decode()) for site in (own, as_shipped(theme)))
    assert "Nothing to tell, May 2026" in " ".join(front.text.split())
    told = [heading for heading in before.headings if heading not in front.headings]
    assert [words.partition(" since ")[0] for _, words in told] == ["New"]
    assert {*front.headings} < {*before.headings}


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("kind", ["front", "note", "month", "task", "parts", "archive"])
def test_every_template_can_be_built_upon(theme: str, kind: str, tmp_path: Path) -> None:
    """`theme/` reaches each page's template, whether the theme has one or all share it."""
    upon = f'{{% extends "theme/{kind}.html" %}}\n'
    text = upon + "{% block page %}{{ super() }}{% endblock %}\n"
    own = drawn(theme=open_theme(theme, lay(tmp_path, {f"{kind}.html": text})))
    pages = {path: data for path, data in as_shipped(theme).items() if path.endswith(".html")}
    assert {path: own[path] for path in pages} == pages


@pytest.mark.parametrize("theme", THEMES)
def test_one_page(theme: str, tmp_path: Path) -> None:
    """A page of the builder's own stands in the list of every page and sees the front's sheet."""
    look = lay(tmp_path, {"pages/the-shop.html": PAGE, "shop.svg": "<svg/>"})
    site = drawn(theme=open_theme(theme, look))
    page = read_page(site["pages/the-shop.html"].decode())
    assert set(site) == {*as_shipped(theme), "pages/the-shop.html", "shop.svg"}
    assert "3 h 15 min so far" in " ".join(page.text.split())
    assert {"../shop.svg", "../notes.html", "../style.css"} <= set(page.urls)
    assert page.headings[0] == (1, "The shop")
    here = [a["href"] for name, a in page.elements if a.get("aria-current") and name == "a"]
    assert here == ["the-shop.html"]
    assert "pages/the-shop.html" in read_page(site["index.html"].decode()).urls
    assert "../pages/the-shop.html" in read_page(site["months/2026-03.html"].decode()).urls


def test_an_own_page_is_found_where_the_site_is() -> None:
    """With an address it has one too, whatever its file is called; without, none."""
    found = replace(PUBLIC, findable=True, address="https://example.org/")
    names = ("pages/wer lärmt.html", "pages/a/deep.html", "front.html")
    *_, page = with_own_pages(all_pages(found), names)
    assert (page.path, page.kind) == ("pages/wer lärmt.html", "pages/wer lärmt")
    assert page.chrome.canonical == "https://example.org/pages/wer%20l%C3%A4rmt.html"
    assert page.chrome.title == "Wer lärmt"
    *_, hidden = with_own_pages(all_pages(PUBLIC), names)
    assert hidden.chrome.canonical is None


def test_own_pages_stand_in_the_order_of_their_names() -> None:
    """Whatever the order in which the disk gave them."""
    pages = [*with_own_pages(all_pages(PUBLIC), ("pages/b.html", "pages/a.html", "pages/c.html"))]
    assert [page.path for page in pages[-3:]] == ["pages/a.html", "pages/b.html", "pages/c.html"]
    assert [link.words for link in pages[0].chrome.nav[-3:]] == ["A", "B", "C"]


def test_a_page_kept_from_before_the_own_style_is_drawn_again(tmp_path: Path) -> None:
    """A style that comes or goes changes every page, though no template did."""
    store = filled_store()
    journal = lay(tmp_path, {"own.css": "b{}"})
    with_style = drawn(theme=open_theme("deckle", journal), store=store)
    (journal / "look/own.css").unlink()
    assert b"own.css" in with_style["parts.html"]
    assert b"own.css" not in drawn(theme=open_theme("deckle", journal), store=store)["parts.html"]


def test_a_fault_beneath_an_own_template_is_told_with_its_line(tmp_path: Path) -> None:
    """A template of the builder's own that asks the theme's for what is not there is named."""
    look = lay(tmp_path, {"parts.html": '{% extends "theme/none.html" %}\n'})
    with pytest.raises(ThemeFault) as caught:
        drawn(theme=open_theme("trammel", look))
    assert str(caught.value).startswith("look/parts.html:1: ")
    assert "no template 'theme/none.html'" in caught.value.message


@pytest.mark.parametrize(
    ("name", "there"),
    [
        ("robots.txt", "a file 'robots.txt' of its own"),
        ("Index.HTML", "'index.html'"),
        ("STYLE.css", "'style.css'"),
        ("404.html/a.css", "'404.html'"),
        ("notes", "'notes/2026-"),
        ("a\\b.css", "no address can have a \\ in it"),
    ],
)
def test_what_would_stand_in_a_pages_place(tmp_path: Path, name: str, there: str) -> None:
    """A file that cannot stand beside the site's own is told, on whatever disk it would be."""
    with pytest.raises(ThemeFault, match=re.escape(there)) as told:
        drawn(theme=open_theme(THEMES[0], lay(tmp_path, {name: "x"})))
    assert told.value.place.path == f"look/{name}"


def test_a_look_that_is_a_link(tmp_path: Path) -> None:
    """A link in the look's own place is not followed: what it leads to may be for nobody."""
    lay(tmp_path / "elsewhere", {"diary.txt": "x"})
    (tmp_path / "journal").mkdir()
    (tmp_path / "journal/look").symlink_to(tmp_path / "elsewhere/look")
    with pytest.raises(ThemeFault, match="this is a link; put the folder itself here"):
        drawn(theme=open_theme(THEMES[0], tmp_path / "journal"))
