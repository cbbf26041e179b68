"""Open pages follow the journal in a real browser, and leave alone what is being typed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.bench_server.browsing import DESKTOP, opened, violations_on
from tests.bench_server.made_desk import LAST
from tests.bench_server.serving import Served

pytestmark = pytest.mark.browser


def test_the_panels_follow_and_the_form_is_left_alone(browser: Browser, bench: Served) -> None:
    """A note saved by hand is told within moments; what was typed and folded out stays."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        expect(page.locator("#live")).to_have_text("Live")
        page.fill("#text", "Half a sen")
        page.click("[data-fold=snags] > summary")
        page.focus("#text")
        (bench.root / "notes/2026/2026-03-15.md").write_text("---\nhours: all day\n---\n")
        expect(page.locator("#problems.bad")).to_contain_text("'all day' is not a length of time")
        expect(page.locator("[data-fold=snags]")).to_have_attribute("open", "")
        assert page.input_value("#text") == "Half a sen"
        assert page.evaluate("document.activeElement.id") == "text"


def test_a_picture_that_comes_another_way_gets_its_row(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """A picture laid into the inbox shows in the open form, unticked where it tells no day."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        expect(page.locator("#live")).to_have_text("Live")
        (bench.root / "inbox").mkdir(exist_ok=True)
        shutil.copyfile(pictures[0], bench.root / "inbox/from-a-cable.jpg")
        expect(page.locator("[data-name]")).to_have_text("from-a-cable.jpg")
        assert not page.is_checked("[name=picture-1-attach]")


def test_the_clock_goes_into_the_note(browser: Browser, bench: Served) -> None:
    """Started, the clock is offered in the form; what was typed before stays."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.fill("#text", "Half a sen")
        page.click("text=Start the clock")
        expect(page.locator("#clock")).to_be_checked()
        expect(page.locator("#text")).to_have_value("Half a sen")
        expect(page.locator("[data-since]")).to_contain_text("min")


def test_a_page_of_the_site_follows_the_note(browser: Browser, bench: Served) -> None:
    """Saving redraws the page in place; a mistake stands over it; mended, it goes."""
    note = bench.root / LAST
    good = note.read_text(encoding="utf-8")
    with opened(browser, DESKTOP) as page:
        page.goto(f"{bench.url}site/notes/2026-03-14-skins.html")
        page.evaluate("window.stays = true")
        note.write_text(good.replace("Skins on.", "Skins on, and flat."), encoding="utf-8")
        expect(page.locator("main")).to_contain_text("Skins on, and flat.")
        note.write_text(good.replace("Ines: 3h", "Ines: all day"), encoding="utf-8")
        expect(page.locator("#bench-over")).to_contain_text("'all day' is not a length of time")
        expect(page.locator("#bench-over")).to_contain_text(f"{LAST}, line 3")
        expect(page.locator("main")).to_contain_text("Skins on, and flat.")
        assert violations_on(page) == []
        note.write_text(good, encoding="utf-8")
        expect(page.locator("#bench-over")).to_be_empty()
        expect(page.locator("main")).not_to_contain_text("and flat")
        assert page.evaluate("window.stays")


def test_the_page_of_a_note_that_was_saved_is_shown(browser: Browser, bench: Served) -> None:
    """Another page goes to it by itself, unless it was told to stay."""
    note = bench.root / LAST
    good = note.read_text(encoding="utf-8")
    with opened(browser, DESKTOP) as page:
        page.goto(f"{bench.url}site/index.html")
        page.click("text=Live: follows what you save")
        note.write_text(good.replace("Skins on.", "Skins on, once."), encoding="utf-8")
        expect(page.locator("main")).to_contain_text("once")
        page.click("text=Live: stays on this page")
        note.write_text(good.replace("Skins on.", "Skins on, twice."), encoding="utf-8")
        page.wait_for_url("**/site/notes/2026-03-14-skins.html")
        expect(page.locator("main")).to_contain_text("twice")


def test_a_search_goes_on_while_the_journal_changes(browser: Browser, bench: Served) -> None:
    """Under the bench's own policy the search works, and finds what was saved while it was open."""
    note = bench.root / LAST
    good = note.read_text(encoding="utf-8")
    with opened(browser, DESKTOP) as page:
        page.goto(f"{bench.url}site/index.html")
        page.click("text=Live: follows what you save")
        page.goto(f"{bench.url}site/search.html")
        page.fill("#words", "plumb")
        expect(page.locator("[data-told]")).to_contain_text("Nothing has a word")
        note.write_text(good.replace("Skins on.", "Skins on, and plumb."), encoding="utf-8")
        expect(page.locator("[data-found] > li")).to_have_count(1)
        assert page.input_value("#words") == "plumb"
        assert page.evaluate("document.activeElement.id") == "words"
        page.click("[data-found] a")
        expect(page.locator("main")).to_contain_text("Skins on, and plumb.")


def test_pictures_open_large_on_the_bench(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """A picture that was shown only now opens in the viewer, and nothing of it is refused."""
    note = bench.root / LAST
    good = note.read_text(encoding="utf-8")
    (bench.root / "photos").mkdir(exist_ok=True)
    shutil.copyfile(pictures[0], bench.root / "photos/plate.jpg")
    told: list[str] = []
    with opened(browser, DESKTOP) as page:
        page.on("console", lambda message: told.append(message.text))
        page.goto(f"{bench.url}site/notes/2026-03-14-skins.html")
        note.write_text(
            good.replace("next:", "photos: [photos/plate.jpg]\nnext:"), encoding="utf-8"
        )
        expect(page.locator("main a[data-large]")).to_have_count(1)
        page.wait_for_selector("link[href$='viewer.css']", state="attached")
        page.click("main a[data-large]")
        expect(page.locator("dialog.viewer img")).to_be_visible()
        page.keyboard.press("Escape")
        expect(page.locator("dialog.viewer")).to_be_hidden()
    assert told == []
