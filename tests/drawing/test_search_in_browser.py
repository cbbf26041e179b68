"""Holds that the search works in a real browser: from disk, from a sub-folder, without script."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser, Page

from builderlog.deciding.public import PublicNote
from builderlog.deciding.search_words import search_words
from tests.drawing.made_public import FIRST, PUBLIC, SECOND, drawn

pytestmark = pytest.mark.browser

FIELD = "#words"
FOUND = "[data-found] > li"
# Types all at once, and tells what is found: the text of each entry.
ASK = """words => {
    const field = document.querySelector('#words');
    field.value = words;
    field.dispatchEvent(new Event('input', {bubbles: true}));
    return [...document.querySelectorAll('[data-found] > li')].map(
        entry => entry.querySelector('a').textContent);
}"""
# Writing of many kinds, each the title of a note: what is typed must be cut as the index was.
TITLES = (
    "Škrok\N{RIGHT SINGLE QUOTATION MARK}s façade, S\u030ckrok",
    "STRASSE und Straße",
    "ŁÓDŹ, Ærø & Œuvre",
    "İzmir, DIYARBAKIR, \u0131s\u0131",
    "ΟΔΟΣ και οδός",
    "Привет, ЁЛКА",
    "主翼と尾翼の組立",
    "क्षेत्र हिन्दी",
    "שָׁלוֹם עולם",
    "ﬁne ﬂaps, № 7, ½ in, Ⅳ, ㎜",
    "17,5 mm 3.25 AN3-5A 1/4-28",
    "don't, rock 'n' roll, spars'",
    "\U0001d518\U0001d52b\U0001d526 🛩️ 𐐀𐐁",
    "Zażółć gęślą jaźń",
    "Đorđe þing Ħal",
)


def title_note(number: int, title: str) -> PublicNote:
    """A note that has no words but its title."""
    return replace(SECOND, key=f"note-{number}", title=title, prose="", links=(), visits=())


def site_at(folder: Path) -> Path:
    """The hand-made site on disk, with a note for each of the titles."""
    titled = tuple(title_note(number, title) for number, title in enumerate(TITLES))
    for path, data in drawn(replace(PUBLIC, notes=(FIRST, SECOND, *titled))).items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    return folder


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site in a folder with a space in its name."""
    return site_at(tmp_path_factory.mktemp("site") / "on a stick")


@pytest.fixture(scope="module")
def served(site: Path) -> Iterator[str]:
    """The address of the same site in a sub-folder of a host."""
    handler = partial(Quiet, directory=str(site.parent))
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/on%20a%20stick/"
    server.shutdown()
    server.server_close()


class Quiet(SimpleHTTPRequestHandler):
    """Serves files and says nothing."""

    def log_message(self, *_words: object) -> None:
        """Says nothing."""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """An empty page; whatever a script does wrong fails the test."""
    told: list[str] = []
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.on("pageerror", lambda error: told.append(str(error)))
    page.on("console", lambda message: told.append(message.text))
    yield page
    page.close()
    assert told == []


def test_words_are_found_as_they_are_typed(page: Page, site: Path) -> None:
    """Titles, text, ids, parts and beginnings find their entries; the count is told politely."""
    page.goto((site / "search.html").as_uri())
    assert page.evaluate(ASK, "straig") == [FIRST.title]
    assert page.evaluate(ASK, "w14")[0] == "Task W14"
    assert page.evaluate(ASK, "an3-5a BOLT") == ["AN3-5A bolt", FIRST.title]
    assert page.evaluate(ASK, "edge straight") == [FIRST.title]
    page.wait_for_selector("[role=status]:text-is('Found: 1 note.')")
    assert not page.is_visible("[data-everything]")
    assert page.evaluate(ASK, "  ") == []
    assert page.is_visible("[data-everything]")


def test_what_was_found_is_marked(page: Page, site: Path) -> None:
    """Found words are marked where they stand; those that it does not show are named."""
    page.goto((site / "search.html").as_uri())
    page.evaluate(ASK, "strai clec")
    assert page.locator(f"{FOUND} mark").all_inner_texts() == ["straight", "clecos"]
    assert page.inner_text(".found-inside") == "Found by: clecos"
    assert (page.get_attribute(f"{FOUND} a", "href") or "").endswith(".html#:~:text=clecos")


def test_any_writing_is_cut_as_the_index_was(page: Page, site: Path) -> None:
    """Each title finds its own note, and each folded word of it does too."""
    page.goto((site / "search.html").as_uri())
    for title in TITLES:
        for asked in (title, title.upper(), *search_words(title)):  # with fewer than eight others
            assert title in page.evaluate(ASK, asked), asked


def test_nothing_found_is_told_with_a_way_on(page: Page, site: Path) -> None:
    """An unknown word is named with the nearest there is, as a link; known ones stand alone."""
    page.goto((site / "search.html").as_uri())
    assert page.evaluate(ASK, "straightening clecos") == []
    page.wait_for_selector("[data-told] a")
    told = "Nothing has a word that begins with “straightening”. There is straight."
    assert page.inner_text("[data-told]") == f"{told} Without it: clecos."
    page.click("[data-told] a")
    assert page.input_value(FIELD) == "straight clecos"
    assert page.locator(FOUND).count() == 1
    assert page.evaluate(ASK, "zzz") == []
    page.wait_for_selector("[data-told]:has-text('Fewer letters')")
    assert page.evaluate(ASK, "straight counsellor") == []
    page.wait_for_selector("[data-told]:has-text('Alone')")
    assert page.locator("[data-told] a").all_inner_texts() == ["straight", "counsellor"]


def test_a_search_can_be_linked_and_back_finds_it(page: Page, served: str) -> None:
    """The words stand in the address: a link opens them, and Back brings them back, over http."""
    page.goto(f"{served}search.html#clecos")
    assert page.locator(FOUND).count() == 1
    page.fill(FIELD, "straight arm")
    page.click(f"{FOUND} a")
    assert page.inner_text("h1") == FIRST.title
    page.go_back()
    page.wait_for_selector(FOUND)
    assert page.input_value(FIELD) == "straight arm"
    assert page.url.endswith("search.html#?straight%20arm")


def test_a_place_on_the_page_is_no_search(page: Page, site: Path) -> None:
    """The skip link leads to its place, and yet the word "main" can be asked for."""
    address = (site / "search.html").as_uri()
    page.goto(address)
    page.focus(".skip")
    page.keyboard.press("Enter")
    assert page.input_value(FIELD) == ""
    page.goto(f"{address}#?main")
    page.reload()
    assert page.input_value(FIELD) == "main"


def test_keys_suffice(page: Page, site: Path) -> None:
    """Tab leads from the field to what was found; Escape empties the field and shows all again."""
    page.goto((site / "search.html").as_uri())
    page.focus(FIELD)
    page.keyboard.type("trailing")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == FIRST.title
    page.focus(FIELD)
    page.keyboard.press("Escape")
    assert page.input_value(FIELD) == ""
    assert page.is_visible("[data-everything]")


def test_many_are_shown_when_asked_for(page: Page, tmp_path: Path) -> None:
    """Eight at once, then twenty; a button shows all, and the way goes on behind them."""
    notes = tuple(title_note(number, f"Evening {number}") for number in range(30))
    files = drawn(replace(PUBLIC, notes=(FIRST, SECOND, *notes)))
    for path in ("search.html", "search.js", "style.css", "icon.svg"):
        (tmp_path / path).write_bytes(files[path])
    page.goto((tmp_path / "search.html").as_uri())
    assert len(page.evaluate(ASK, "evening")) == 8
    page.wait_for_selector("#found-more")
    assert page.locator(FOUND).count() == 20
    page.click("text=Show all 30")
    assert page.locator(FOUND).count() == 30
    assert page.evaluate("document.activeElement.textContent") == "Evening 9"
    assert not page.is_visible("#found-more")


def test_without_script_everything_stands_there(browser: Browser, site: Path) -> None:
    """No field that would do nothing, but every note, area, task, month and part with its link."""
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto((site / "search.html").as_uri())
    assert not page.is_visible(FIELD)
    links = set(page.locator("[data-everything] li[data-entry] a").all_text_contents())
    page.context.close()
    assert {FIRST.title, "Wings", "Task W14", "March 2026", "Hinge", *TITLES} <= links
