"""The dossier's pages can be read by everyone: in a real browser, opened from disk.

Source: axe-core, npm package axe-core 4.14.1, in the Chromium of this machine. It finds
what a program can find; whether a caption says something is for a person to judge.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.outside import tools
from tests.outside.browsing import (
    DESKTOP,
    PAPER,
    PARTS_TOO_WIDE,
    PHONE,
    SIZES,
    TOO_WIDE,
    named,
    opened,
    strays_on,
    text_of,
    violations_in_all_views,
)

pytestmark = pytest.mark.browser

DOSSIER_KINDS = named(tools.DOSSIER_KINDS)


@pytest.mark.parametrize("pattern", DOSSIER_KINDS)
def test_axe_finds_nothing_in_the_dossier(
    browser: Browser, example_dossier: Path, pattern: str
) -> None:
    """On the smallest and largest page of each kind that the inspector gets axe finds nothing."""
    with opened(browser, DESKTOP) as page:
        samples = tools.samples_of(example_dossier, pattern)
        assert [told for path in samples for told in violations_in_all_views(page, path)] == []


def test_axe_finds_nothing_on_any_kind_of_block(browser: Browser, made_binder: Path) -> None:
    """Every kind of block, chapters cut into pages, hostile words: axe finds nothing there."""
    with opened(browser, DESKTOP) as page:
        for path in tools.pages_of(made_binder, "binder/*.html"):
            assert violations_in_all_views(page, path) == []
            assert page.evaluate(TOO_WIDE) <= 0, path.name


@pytest.mark.parametrize("size", SIZES)
def test_twice_as_large_text_stays_on_the_page(
    browser: Browser, example_dossier: Path, size: tuple[int, int]
) -> None:
    """With letters of twice the size no page of the binder has to be pushed sideways."""
    too_wide = {}
    with opened(browser, size) as page:
        for path in tools.pages_of(example_dossier, "binder/*.html"):
            page.goto(path.as_uri())
            page.add_style_tag(content="html { font-size: 200% }")
            too_wide[path.name] = page.evaluate(TOO_WIDE)
    assert {name: px for name, px in too_wide.items() if px > 0} == {}


@pytest.mark.parametrize("name", ["index.html", "area-e.html", "months.html"])
def test_no_script_is_needed_in_the_dossier(
    browser: Browser, example_dossier: Path, name: str
) -> None:
    """With scripts turned off a page of the binder shows the same words, and not none."""
    path = example_dossier / "binder" / name
    [without] = text_of(browser, [path], script=False)
    assert without.strip()
    assert [without] == text_of(browser, [path], script=True)


def test_the_contents_fold_out_without_script(browser: Browser, example_dossier: Path) -> None:
    """On a telephone the contents are folded away, and a tap leads to any chapter, no script."""
    with opened(browser, PHONE, script=False) as page:
        page.goto((example_dossier / "binder/claim.html").as_uri())
        assert page.is_visible("details.menu > summary")
        assert not page.is_visible("details.menu a[href='help.html']")
        page.click("details.menu > summary")
        page.click("details.menu a[href='help.html']")
        assert page.inner_text("h1") == "Help, paid and unpaid"


@pytest.mark.parametrize("pattern", DOSSIER_KINDS)
def test_no_request_leaves_the_dossier(
    browser: Browser, example_dossier: Path, pattern: str
) -> None:
    """Every page for the inspector asks for files of the same bag alone, and finds each of them."""
    with opened(browser, DESKTOP) as page:
        pages = tools.pages_of(example_dossier, pattern)
        assert [told for path in pages for told in strays_on(page, path, example_dossier)] == []


@pytest.mark.parametrize("pattern", DOSSIER_KINDS)
def test_nothing_in_the_dossier_is_wider_than_a_phone(
    browser: Browser, example_dossier: Path, pattern: str
) -> None:
    """No page for the inspector has to be pushed sideways at 360 pixels, nor any part of it."""
    too_wide = {}
    with opened(browser, PHONE) as page:
        for path in tools.pages_of(example_dossier, pattern):
            page.goto(path.as_uri())
            too_wide[path.name] = page.evaluate(TOO_WIDE) + page.evaluate(PARTS_TOO_WIDE)
    assert {name: px for name, px in too_wide.items() if px > 0} == {}


def test_printed_pages_are_whole(browser: Browser, example_dossier: Path) -> None:
    """On paper nothing of a page is cut off at the side, and the navigation is left out."""
    with opened(browser, PAPER) as page:
        page.emulate_media(media="print")
        for path in tools.pages_of(example_dossier, "binder/*.html"):
            page.goto(path.as_uri())
            assert page.evaluate(TOO_WIDE) + page.evaluate(PARTS_TOO_WIDE) == 0, path.name
            for part in (".contents", ".menu", ".turn"):
                assert not page.locator(part).first.is_visible(), (path.name, part)
