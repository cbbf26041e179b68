"""The site can be read by everyone, in each theme: in a real browser, opened from disk.

Source: axe-core, npm package axe-core 4.14.1, in the Chromium of this machine. It finds
what a program can find; whether a caption says something is for a person to judge. The size of
text, the keyboard's way and motion are asked for by the success criteria of WCAG 2.2 that are
named beside each check.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from builderlog.drawing.theme import theme_names
from tests.outside import tools
from tests.outside.browsing import (
    DESKTOP,
    MOVING,
    PHONE,
    TOO_WIDE,
    named,
    opened,
    strays_on,
    text_of,
    violations_in_all_views,
    violations_on,
)

pytestmark = pytest.mark.browser

KINDS = named(tools.KINDS)
of_every_kind = pytest.mark.parametrize("pattern", KINDS)
in_every_theme = pytest.mark.parametrize("theme", theme_names())

MOST_PAGES = 12  # of a kind; what is linked on the others is looked at in test_links.py
# Letters of twice the size, as a reader sets them in the browser.
USUAL, TWICE = ({"fontSizes": {"standard": 16 * by, "fixed": 13 * by}} for by in (1, 2))
LARGE_ALREADY = 32  # pixels: a title of this size need not grow as much as the rest
# Each text of the page in small: its words' size, outside drawings, which grow as a whole.
SIZES_OF_TEXT = """[...document.querySelectorAll('body *')].filter(each => !each.closest('svg')
    && [...each.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
    .map(each => parseFloat(getComputedStyle(each).fontSize))"""
# Words that a box cuts off, unless they are there for those alone who listen, or can be pushed.
CUT_OFF = """[...document.querySelectorAll('body *')].filter(each => {
    const style = getComputedStyle(each);
    const seen = each.clientWidth > 1 && each.clientHeight > 1 && !each.closest('svg, dialog');
    const cut = (way, by) => ['hidden', 'clip'].includes(way) && by > 2;
    return seen && each.innerText?.trim() && (cut(style.overflowX, each.scrollWidth
        - each.clientWidth) || cut(style.overflowY, each.scrollHeight - each.clientHeight));
}).map(each => `${each.tagName}.${each.className}: ${each.innerText.slice(0, 40)}`)"""
# Lines of words that lie upon each other, more than a quarter of the smaller one.
UPON_EACH_OTHER = """(() => {
    const SEEN = {visibilityProperty: true, opacityProperty: true, contentVisibilityAuto: true};
    const lines = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
        const node = walk.currentNode, box = node.parentElement;
        if (!node.data.trim() || box.closest('svg, template, script, dialog')) continue;
        if (!box.checkVisibility(SEEN)) continue;
        let hidden = false;
        for (let up = box; up && up !== document.body; up = up.parentElement)
            hidden ||= up.clientWidth === 1 || up.clientHeight === 1
                || getComputedStyle(up).clipPath !== 'none';
        if (hidden) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const line of range.getClientRects())
            if (line.width > 2 && line.height > 2) lines.push([line, node]);
    }
    lines.sort(([a], [b]) => a.top - b.top);
    const told = [];
    lines.forEach(([a, first], at) => {
        for (let to = at + 1; to < lines.length && lines[to][0].top < a.bottom; to++) {
            const [b, second] = lines[to];
            const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
            const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
            const small = Math.min(a.width * a.height, b.width * b.height);
            if (first !== second && wide > 2 && high > 2 && wide * high > small / 4)
                told.push(`${first.data.trim().slice(0, 30)} / ${second.data.trim().slice(0, 30)}`);
        }
    });
    return told;
})()"""

# Follows the keyboard: which elements got it, and whether one could see where it was.
FOLLOW = """(() => {
    const inner = each => !each.closest('svg') && each.checkVisibility()
        && each.tabIndex >= 0 && !each.disabled;
    window.stops = [...document.querySelectorAll('a[href], button, input, summary')].filter(inner);
    window.told = {order: [], unseen: []};
    addEventListener('focusin', ({target}) => {
        const style = getComputedStyle(target), box = target.getBoundingClientRect();
        const name = `${target.tagName} ${target.innerText?.trim().slice(0, 40)}`;
        told.order.push(stops.indexOf(target));
        const ring = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1;
        const within = box.width > 1 && box.height > 1 && box.bottom > 0 && box.right > 0
            && box.top < innerHeight && box.left < innerWidth;
        if (!ring || !within) told.unseen.push(name);
    });
    return stops.length;
})()"""

FAULTY = """<!DOCTYPE html><html><head><title>Planted</title></head><body>
<h1 style="color: #ccc; background: #fff; width: 900px">Pale and wide</h1>
<img src="https://builderlog.invalid/a.png"><img src="gone.webp">
<script>document.body.append('written by script')</script></body></html>
"""
FAULTY_LARGE = """<!DOCTYPE html><html lang="en"><head><title>Planted</title><style>
html { font-size: 100% } body { margin: 0; transition: color 1s }
.px { font-size: 14px } .cut { height: 1.2rem; overflow: hidden; font-size: 1rem }
.low { position: absolute; top: 0; left: 0; width: 20rem; font-size: 1rem }
a { outline: none }
</style></head><body><p class="low">Words that lie</p><p class="low">upon others</p>
<p class="px">Set in pixels</p><p class="cut">Cut off in the middle<br>of it all</p>
<a href="#a" id="a">One</a> <a href="#b" id="b" tabindex="2">Two</a></body></html>
"""


@of_every_kind
@in_every_theme
def test_axe_finds_nothing(
    browser: Browser, themed: Mapping[str, Path], theme: str, pattern: str
) -> None:
    """On the smallest and largest page of each kind, wide and narrow, light and dark: nothing."""
    with opened(browser, DESKTOP) as page:
        samples = tools.samples_of(themed[theme], pattern)
        assert [told for path in samples for told in violations_in_all_views(page, path)] == []


def test_axe_finds_nothing_in_the_open_claim(browser: Browser, open_site: Path) -> None:
    """With paid help shown the claim has more columns; axe finds nothing, nothing is too wide."""
    with opened(browser, DESKTOP) as page:
        assert violations_in_all_views(page, open_site / "claim.html") == []
        for width, height in (DESKTOP, PHONE):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate(TOO_WIDE) <= 0


@of_every_kind
@in_every_theme
def test_a_phone_shows_all_and_asks_nobody(
    browser: Browser, themed: Mapping[str, Path], theme: str, pattern: str
) -> None:
    """Pages of every size at 360 pixels: none is pushed sideways or asks for files not its own.

    So it is with letters of twice the size, none of which is set in pixels, cut off by its box or
    lies upon others (WCAG 2.2, 1.4.4 and 1.4.10); and with less motion wished for nothing moves
    (2.3.3).
    """
    told: list[str] = []
    with opened(browser, PHONE) as page:
        page.emulate_media(reduced_motion="reduce")
        for path in tools.samples_of(themed[theme], pattern, MOST_PAGES):
            told += strays_on(page, path, themed[theme])
            told += [f"{path.name} {fault}" for fault in faults_of_size(page)]
    assert told == []


def faults_of_size(page: Page) -> list[str]:
    """What a page does wrong on this screen, then with letters of twice the size."""
    browser = page.context.new_cdp_session(page)
    browser.send("Page.setFontSizes", USUAL)
    told = [f"is {px} px too wide" for px in [page.evaluate(TOO_WIDE)] if px > 0]
    told += [f"moves: {each}" for each in page.evaluate(MOVING)]
    before = page.evaluate(SIZES_OF_TEXT)
    browser.send("Page.setFontSizes", TWICE)
    after = page.evaluate(SIZES_OF_TEXT)
    pairs = [pair for pair in zip(before, after, strict=True) if pair[0] < LARGE_ALREADY]
    told += [f"has text of {old} px that becomes {new} px" for old, new in pairs if new < 1.5 * old]
    told += [f"is {px} px too wide, large" for px in [page.evaluate(TOO_WIDE)] if px > 0]
    told += [f"cuts off: {each}" for each in page.evaluate(CUT_OFF)]
    return told + [f"lays words upon others: {each}" for each in page.evaluate(UPON_EACH_OTHER)]


@of_every_kind
@in_every_theme
def test_large_text_stays_on_a_wide_page_too(
    browser: Browser, themed: Mapping[str, Path], theme: str, pattern: str
) -> None:
    """The largest page of each kind at 1440 pixels, letters twice as large: no word is lost."""
    path = tools.samples_of(themed[theme], pattern)[-1]
    with opened(browser, DESKTOP) as page:
        page.emulate_media(reduced_motion="reduce")
        page.goto(path.as_uri())
        assert faults_of_size(page) == []


@of_every_kind
@in_every_theme
def test_the_keyboard_reaches_everything(
    browser: Browser, themed: Mapping[str, Path], theme: str, pattern: str
) -> None:
    """By Tab alone every link is reached once, in the page's order, in sight, and then the end.

    WCAG 2.2: 2.1.1, 2.1.2, 2.4.3 and 2.4.7.
    """
    path = tools.samples_of(themed[theme], pattern)[-1]
    with opened(browser, DESKTOP) as page:
        page.emulate_media(reduced_motion="reduce")
        page.goto(path.as_uri())
        count, told = walked(page)
    assert told["unseen"] == []
    assert [at for at in told["order"] if at >= 0][:count] == list(range(count))


def walked(page: Page) -> tuple[int, dict[str, Any]]:
    """How many stops the keyboard should make, and those that it made."""
    count: int = page.evaluate(FOLLOW)
    for _ in range(count + 1):  # one more, so that a trap would show
        page.keyboard.press("Tab")
    told: dict[str, Any] = page.evaluate("told")
    return count, told


@of_every_kind
@in_every_theme
def test_no_script_is_needed(
    browser: Browser, themed: Mapping[str, Path], theme: str, pattern: str
) -> None:
    """With scripts turned off a page shows the same words, and not none."""
    samples = tools.samples_of(themed[theme], pattern)
    without = text_of(browser, samples, script=False)
    assert all(words.strip() for words in without)
    assert without == text_of(browser, samples, script=True)


def test_the_guards_bite(browser: Browser, tmp_path: Path) -> None:
    """A page pale, too wide, written by script and asking the network is caught four times."""
    path = tmp_path / "planted.html"
    path.write_text(FAULTY, encoding="utf-8")
    with opened(browser, PHONE) as page:
        strays = "\n".join(strays_on(page, path, tmp_path))
        assert page.evaluate(TOO_WIDE) > 0
        violations = "\n".join(violations_on(page, path))
    assert "asks for https://builderlog.invalid/a.png" in strays
    assert "does not get" in strays
    assert "gone.webp" in strays
    for rule in ("color-contrast", "image-alt", "html-has-lang"):
        assert rule in violations
    assert text_of(browser, [path], script=False) != text_of(browser, [path], script=True)


def test_the_guards_of_size_and_keyboard_bite(browser: Browser, tmp_path: Path) -> None:
    """Text in pixels, cut off, upon other text, motion, no ring and a leap are each caught."""
    path = tmp_path / "planted.html"
    path.write_text(FAULTY_LARGE, encoding="utf-8")
    with opened(browser, PHONE) as page:
        page.goto(path.as_uri())
        count, told = walked(page)
        faults = "\n".join(faults_of_size(page))
    for fault in ("14 px that becomes 14", "cuts off", "upon others", "moves", "too wide, large"):
        assert fault in faults
    assert (count, told["order"][:2]) == (2, [1, 0])
    assert len(told["unseen"]) >= 2
