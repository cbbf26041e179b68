"""A letter as one file: all inside, nothing asked for, never more than a mail can carry."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from builderlog.drawing import letter_file, letter_pictures
from builderlog.drawing.letter_file import LetterFiles, draw_letter, shown_in
from builderlog.drawing.letter_pictures import LetterPicture
from builderlog.drawing.theme import open_theme, theme_names
from builderlog.sheets.letter import LetterSheet
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Link, Photo, day_of
from builderlog.storing.cache import Store
from tests.drawing.made_public import FIRST
from tests.drawing.test_letter_pictures import picture
from tests.drawing.test_letter_text import SHEET


def photo(digest: str, caption: str | None = "A caption") -> Photo:
    """A picture of the first note."""
    return Photo(
        digest, caption or "alt words", caption, day_of(FIRST.day), Link("n", "notes/a.html")
    )


def letter(pictures: list[LetterPicture], words: str = "") -> LetterSheet:
    """A letter that shows these pictures, one after the other, and holds some words."""
    links = tuple(
        ProseLink(f"{number}.jpg", photo=photo(each.photo.digest))
        for number, each in enumerate(pictures)
    )
    shown = "\n\n".join(f"![Picture {n}]({n}.jpg)" for n in range(len(pictures)))
    return replace(SHEET, prose=ProseText(f"{words}\n\n{shown}\n", links, has_heading=False))


def files(sheet: LetterSheet, pictures: list[LetterPicture], theme: str = "trammel") -> LetterFiles:
    """The files of a letter."""
    return draw_letter(sheet, pictures, open_theme(theme), Store(None))


@pytest.mark.parametrize("theme", theme_names())
def test_a_letter_asks_for_nothing(tmp_path: Path, theme: str) -> None:
    """No theme's letter names a file, a script or a place to load from; its policy forbids all."""
    pictures = [picture(tmp_path, "a", (200, 100))]
    html = files(letter(pictures, "Hello *you*."), pictures, theme).html.decode()
    sources = re.findall(r'(?:src|href|srcset|action)="([^"]*)"', html)
    assert [source.partition(",")[0] for source in sources] == ["data:image/jpeg;base64"]
    assert "default-src 'none'; img-src data:; style-src 'unsafe-inline'" in html
    assert not re.search(r"<script|<link|<iframe|url\(|@import|style=", html)
    assert "Hello <em>you</em>." in html


@pytest.mark.parametrize("theme", theme_names())
def test_a_letter_tells_all_it_has(theme: str) -> None:
    """Whatever the theme: title, day, the journal's name, the figures, the caution, the page."""
    page = "https://example.org/months/2026-03.html"
    html = files(replace(SHEET, page=page), [], theme).html.decode()
    assert SHEET.written is not None
    figures = [word for pair in SHEET.figures for word in pair]
    for words in (SHEET.title, SHEET.site_title, SHEET.written.plain, SHEET.caution, *figures):
        assert words in html
    assert f'href="{page}"' in html


def test_pictures_stand_inside_with_their_words(tmp_path: Path) -> None:
    """Each as JPEG data with its size, its words and a caption, and without a link round it."""
    pictures = [picture(tmp_path, "a", (200, 100))]
    made = files(letter(pictures), pictures)
    html = made.html.decode()
    found = re.search(
        r'<figure><img src="data:image/jpeg;base64,([^"]+)" width="200" height="100"', html
    )
    assert found
    assert base64.b64decode(found[1]).startswith(b"\xff\xd8")
    assert 'alt="Picture 0"' in html
    assert "<figcaption>Picture 0</figcaption>" in html
    assert (made.pictures, made.left_out) == (1, ())


def test_a_picture_that_stands_twice_is_carried_once(tmp_path: Path) -> None:
    """Its words stand at the second place."""
    pictures = [picture(tmp_path, "a", (200, 100))]
    sheet = letter(pictures)
    again = replace(sheet.prose, text=f"{sheet.prose.text}\n![Again](0.jpg)\n")
    html = files(replace(sheet, prose=again), pictures).html.decode()
    assert html.count("data:image/jpeg") == 1
    assert "<em>Again</em>" in html


def test_a_letter_is_never_larger_than_its_limit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many pictures it shows; those that do not fit are named and leave their words."""
    monkeypatch.setattr(letter_file, "LARGEST_BYTES", 40_000)
    monkeypatch.setattr(letter_pictures, "RUNGS", ((240, 80),))
    pictures = [picture(tmp_path, f"{number}", (240, 160)) for number in range(8)]
    made = files(letter(pictures, "word " * 200), pictures)
    assert len(made.html) <= 40_000
    assert made.left_out
    assert made.pictures + len(made.left_out) == 8
    assert made.html.decode().count("<em>Picture") == len(made.left_out)


def test_words_are_escaped() -> None:
    """Nothing that a builder writes becomes markup."""
    sheet = replace(SHEET, title="<b>", site_title='"&', figures=(("<i>", "&amp;"),))
    html = files(replace(sheet, prose=ProseText("<script>x</script>", (), has_heading=False)), [])
    text = html.html.decode()
    assert "<h1>&lt;b&gt;</h1>" in text
    assert "<dt>&lt;i&gt;</dt><dd>&amp;amp;</dd>" in text
    assert "&lt;script&gt;" in text


def test_links_lead_to_whole_addresses() -> None:
    """A note by the site's address; what is not on the site keeps its words alone."""
    links = (ProseLink("a.md", page=Link("A", "notes/a b.html")), ProseLink("gone.md"))
    prose = ProseText(
        "[one](a.md) [two](gone.md) [three](https://example.org/)", links, has_heading=False
    )
    html = files(
        replace(SHEET, prose=prose, address="https://example.org/build/"), []
    ).html.decode()
    assert '<a href="https://example.org/build/notes/a%20b.html"' in html
    assert ">two<" not in html
    assert '<a href="https://example.org/" rel="noopener noreferrer">three</a>' in html


def test_the_pictures_of_a_letter_are_those_of_its_words(tmp_path: Path) -> None:
    """In their order, each once; one that the words only lead to is none of them."""
    pictures = [picture(tmp_path, name, (20, 10)) for name in "ab"]
    sheet = letter(pictures)
    assert shown_in(sheet) == tuple(each.photo.digest for each in pictures)
    led_to = replace(sheet.prose, text=sheet.prose.text.replace("![Picture 1]", "[Picture 1]"))
    assert shown_in(replace(sheet, prose=led_to)) == (pictures[0].photo.digest,)


def test_a_large_picture_is_shown_at_the_width_of_a_letter(tmp_path: Path) -> None:
    """Even where a mail program drops the style; its pixels stay for sharp screens."""
    pictures = [picture(tmp_path, "a", (1000, 500))]
    html = files(letter(pictures), pictures).html.decode()
    assert 'width="640" height="320"' in html


@pytest.mark.browser
@pytest.mark.parametrize("theme", theme_names())
def test_a_tall_picture_fits_a_screen(browser: Browser, tmp_path: Path, theme: str) -> None:
    """On a desk it is seen whole, and keeps its shape."""
    pictures = [picture(tmp_path, "a", (700, 1600))]
    page = browser.new_page(viewport={"width": 1000, "height": 800})
    page.set_content(files(letter(pictures), pictures, theme).html.decode())
    box = page.locator("img").bounding_box()
    assert box
    assert box["height"] <= 800
    assert box["width"] / box["height"] == pytest.approx(700 / 1600, rel=0.05)
    page.close()
