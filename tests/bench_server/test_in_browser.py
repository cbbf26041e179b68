"""The bench's page in a real browser: in every state, on a phone and a desk, by day and night.

Source of the checks of accessibility: axe-core, npm package axe-core 4.14.1, in Chromium.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.bench_server.browsing import (
    LOOKS,
    PHONE,
    TOO_WIDE,
    Look,
    attach,
    opened,
    violations_on,
)
from tests.bench_server.serving import Served

pytestmark = pytest.mark.browser

# ---- states of the bench's page: each leads there and says how it is called


def empty(page: Page, bench: Served, _pictures: list[Path]) -> None:
    """The page as it opens."""
    page.goto(bench.url)


def unfolded(page: Page, bench: Served, pictures: list[Path]) -> None:
    """Pictures attached, and everything that folds folded out."""
    page.goto(bench.url)
    attach(page, pictures[:2])
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")


def with_errors(page: Page, bench: Served, _pictures: list[Path]) -> None:
    """A form that came back, over a journal with a mistake."""
    (bench.root / "notes/2026/2026-03-15.md").write_text("---\nhours: all day\n---\n")
    page.goto(bench.url)
    page.fill("#hours-1", "all evening")
    page.fill("#task-1", "W77")
    page.click("text=Write the note")
    page.wait_for_selector(".troubles")


def clock_runs(page: Page, bench: Served, _pictures: list[Path]) -> None:
    """The clock was started."""
    page.goto(bench.url)
    page.click("text=Start the clock")
    page.wait_for_selector("text=Stop the clock >> nth=0")


def after_writing(page: Page, bench: Served, _pictures: list[Path]) -> None:
    """A note was written that closes an area."""
    page.goto(bench.url)
    page.fill("#hours-1", "2h")
    page.click("[data-fold=rest] > summary")
    page.fill("#closes", "wings")
    page.click("text=Write the note")
    page.wait_for_selector(".closing")


STATES = (empty, unfolded, with_errors, clock_runs, after_writing)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("state", STATES, ids=lambda state: state.__name__)
def test_axe_finds_nothing_on_the_bench(
    browser: Browser,
    bench: Served,
    pictures: list[Path],
    state: Callable[[Page, Served, list[Path]], None],
    look: Look,
) -> None:
    """In every state axe finds nothing, nothing is too wide, and a finger hits everything."""
    with opened(browser, *look) as page:
        state(page, bench, pictures)
        assert violations_on(page) == []


def test_the_guards_bite(browser: Browser, bench: Served) -> None:
    """A page made pale, too wide and too small is caught three times."""
    with opened(browser, PHONE) as page:
        page.goto(bench.url)
        page.evaluate("""() => {
            const one = document.getElementById('text');
            one.removeAttribute('id');
            one.style.cssText = 'width: 900px; min-height: 0; height: 20px';
        }""")
        found = "\n".join(violations_on(page))
    assert "label: textarea" in found or "label: " in found
    assert "px too wide" in found
    assert "<textarea" in found


def test_twice_as_large_text_stays_on_the_page(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """With letters of twice the size nothing has to be pushed sideways."""
    with opened(browser, PHONE) as page:
        unfolded(page, bench, pictures)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert page.evaluate(TOO_WIDE) <= 0
