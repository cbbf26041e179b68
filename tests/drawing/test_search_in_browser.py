"""Holds that the search works in a real browser: from disk, from a sub-folder, without script."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser, Page, expect

from builderlog.deciding.public import PublicLetter, PublicNote
from builderlog.deciding.search_words import search_words
from tests.drawing.made_public import FIRST, PUBLIC, SECOND, drawn

pytestmark = pytest.mark.browser

FIELD, FOUND, TOLD = "#words", "[data-found] > li", "[data-told]"
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
    "ปีกซ้าย ล้อหลัง",
    "ວຽກ ပျံ ស្លាប",
    "Würmtal, A\u030arhus, Tail-cone",
)


def title_note(number: int, title: str) -> PublicNote:
    """A note that has no words but its title."""
    return replace(SECOND, key=f"note-{number}", title=title, prose="", links=(), visits=())


def site_at(folder: Path) -> Path:
    """The hand-made site on disk, with a note for each of the titles."""
    titled = tuple(title_note(number, title) for number, title in enumerate(TITLES))
    other = replace(title_note(99, "Slow"), prose="14 of them are left since March.")
    letter = PublicLetter("2026-03", "March 2026", None, "14 March: we drank tea.", ())
    notes = (FIRST, SECOND, *titled, other)
    for path, data in drawn(replace(PUBLIC, notes=notes, letters=(letter,))).items():
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
    expect(page.get_by_role("status")).to_have_text("Found: 1 note.")
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


def test_what_is_found_is_marked_in_any_writing(page: Page, site: Path) -> None:
    """Marked is the word as it stands there, however it was typed."""
    page.goto((site / "search.html").as_uri())
    for typed, marks in (
        ("wuermtal", ["Würmtal"]),
        ("wurmt aarhus", ["Würmtal", "A\u030arhus"]),
        ("tailcone", ["Tail-cone"]),
        ("rmta", ["Würmtal"]),
        ("尾翼", ["翼", "尾", "翼"]),
        ("翼と", ["翼", "と", "翼"]),
        ("の組", ["の", "組"]),
        ("ล้อ", ["ล้", "อ"]),
        ("ตั้ง", []),
    ):
        page.evaluate(ASK, typed)
        assert page.locator(f"{FOUND} a > mark").all_text_contents() == marks, typed


def test_days_are_found_in_any_form(page: Page, site: Path) -> None:
    """In words or numbers, the day or the month first; a month too."""
    page.goto((site / "search.html").as_uri())
    for typed in (
        *("14 March", "14th march", "mar 14", "march 14 2026", "Saturday 14 March"),
        *("2026-03-14", "14.3.2026", "14.03.2026", "14/3/2026", "3/14/2026", "03/14/2026"),
    ):
        assert page.evaluate(ASK, typed)[0] == FIRST.title, typed
    for typed in ("march", "2026-03", "march 2026"):
        assert page.evaluate(ASK, typed)[0] == "March 2026", typed


def test_longer_words_come_last_and_are_told(page: Page, site: Path) -> None:
    """Four letters find a word in the middle of a longer one too, after all that begins so."""
    page.goto((site / "search.html").as_uri())
    assert page.evaluate(ASK, "secondi") == ["Second"]  # a slip: said below
    assert page.evaluate(ASK, "econd") == ["Second"]
    expect(page.locator(TOLD)).to_have_text("Inside longer words: 1 note.")
    assert page.evaluate(ASK, "eco") == []


def test_a_slip_of_a_finger_finds_what_was_meant(page: Page, site: Path) -> None:
    """A letter more, less, other or changed with the next; two words in one, and one in two."""
    page.goto((site / "search.html").as_uri())
    for typed in ("straigght", "straght", "strafght", "staright", "straightedge", "str aight"):
        assert page.evaluate(ASK, typed) == [FIRST.title], typed
    page.evaluate(ASK, "staright")
    told = "Nothing has a word that begins with “staright”. Here is “straight”. Found: 1 note."
    expect(page.locator(TOLD)).to_have_text(told)
    assert page.evaluate(ASK, "w1")[0] == "Task W14"


def test_nothing_found_is_told_with_a_way_on(page: Page, site: Path) -> None:
    """An unknown word is named, what comes nearest is shown, and links lead on."""
    page.goto((site / "search.html").as_uri())
    assert page.evaluate(ASK, "straightening clecos") == [FIRST.title]
    told = "Nothing has a word that begins with “straightening”. Here is “straight clecos”."
    expect(page.locator(TOLD)).to_have_text(f"{told} Found: 1 note. Try: clecos.")
    page.click(f"{TOLD} a")
    expect(page.locator(FIELD)).to_have_value("clecos")
    expect(page.locator(FOUND)).to_have_count(1)
    assert page.evaluate(ASK, "zzz") == []
    expect(page.locator(TOLD)).to_contain_text("Fewer letters find more.")
    assert page.evaluate(ASK, "straight counsellor") == []
    expect(page.locator(TOLD)).to_have_text(
        "Nothing has all these words. Try: straight, counsellor."
    )


def test_a_link_that_is_followed_at_once_leads_on(page: Page, site: Path) -> None:
    """Words that were being typed do not come into the address while a link's are on their way."""
    page.goto((site / "search.html").as_uri())
    page.evaluate(ASK, "straight counsellor")
    page.wait_for_selector(f"{TOLD} a")
    page.evaluate(f"""() => {{
        onclick = event => event.preventDefault(); // its words are never there
        ({ASK})('counsellor straight');
        document.querySelector('{TOLD} a').click();
    }}""")
    page.wait_for_timeout(500)  # longer than typed words wait for the address
    assert "counsellor%20straight" not in page.url


def test_a_search_can_be_linked_and_back_finds_it(page: Page, served: str) -> None:
    """The words stand in the address: a link opens them, and Back brings them back, over http."""
    page.goto(f"{served}search.html#clecos")
    expect(page.locator(FOUND)).to_have_count(1)
    page.fill(FIELD, "straight arm & edge")
    page.click(f"{FOUND} a")
    expect(page.locator("h1")).to_have_text(FIRST.title)
    page.go_back()
    expect(page.locator(FOUND)).to_have_count(1)
    expect(page.locator(FIELD)).to_have_value("straight arm & edge")
    assert page.url.endswith("search.html#?straight%20arm%20%26%20edge")
    page.goto(f"{served}search.html#?100%25+straight%&so")
    page.reload()
    expect(page.locator(FIELD)).to_have_value("100% straight%&so")


def test_a_field_that_a_browser_emptied_is_filled(page: Page, site: Path) -> None:
    """Safari brings a page back with what was found and with an empty field."""
    page.goto(f"{(site / 'search.html').as_uri()}#?straight")
    expect(page.locator(FOUND)).to_have_count(1)
    page.evaluate("document.querySelector('#words').value = ''")
    page.evaluate("dispatchEvent(new Event('pageshow'))")
    expect(page.locator(FIELD)).to_have_value("straight")


def test_a_place_on_the_page_is_no_search(page: Page, site: Path) -> None:
    """The skip link leads to its place, and yet the word "main" can be asked for."""
    address = (site / "search.html").as_uri()
    page.goto(address)
    page.focus(".skip")
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_in_viewport()
    assert page.input_value(FIELD) == ""
    page.goto(f"{address}#?main")
    page.reload()
    expect(page.locator(FIELD)).to_have_value("main")


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
    expect(page.locator(FOUND)).to_have_count(20)
    page.click("text=Show all 30")
    expect(page.locator(FOUND)).to_have_count(30)
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
