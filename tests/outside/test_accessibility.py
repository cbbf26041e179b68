"""Site and dossier can be read by everyone: checked in a real browser, opened from disk.

Source: axe-core, npm package axe-core 4.14.1, in the Chromium of this machine. It finds
what a program can find; whether a caption says something is for a person to judge.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

import pytest
from _pytest.mark import ParameterSet
from playwright.sync_api import Browser, Page, Request, Route, ViewportSize

from tests.outside import tools

pytestmark = pytest.mark.browser

Scheme = Literal["light", "dark"]
PHONE, DESKTOP = (360, 740), (1440, 900)
PAPER = (718, 1000)  # A4 at 96 dots an inch within margins of a centimetre
SIZES = (pytest.param(PHONE, id="phone"), pytest.param(DESKTOP, id="desktop"))


def named(kinds: tuple[tuple[str, str], ...]) -> list[ParameterSet]:
    """A parameter for each kind of page, by its name."""
    return [pytest.param(pattern, id=kind.replace(" ", "-")) for kind, pattern in kinds]


KINDS, DOSSIER_KINDS = named(tools.KINDS), named(tools.DOSSIER_KINDS)

# No preload: it would fetch style sheets anew, which a page opened from disk cannot.
RUN_AXE = """async () => (await axe.run(document, {preload: false})).violations.flatMap(
    rule => rule.nodes.map(node => `${rule.id}: ${node.target}: ${node.failureSummary}`))"""
# A table that scrolls inside its own box.
PARTS_TOO_WIDE = """[...document.querySelectorAll('.wide, .frame')].reduce(
    (px, box) => px + Math.max(0, box.scrollWidth - box.clientWidth), 0)"""
TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"

FAULTY = """<!DOCTYPE html><html><head><title>Planted</title></head><body>
<h1 style="color: #ccc; background: #fff; width: 900px">Pale and wide</h1>
<img src="https://builderlog.invalid/a.png"><img src="gone.webp">
<script>document.body.append('written by script')</script></body></html>
"""


@contextmanager
def opened(
    browser: Browser, size: tuple[int, int], scheme: Scheme = "light", *, script: bool = True
) -> Iterator[Page]:
    """An empty page of its own; whatever it asks of any network is refused before it leaves."""
    context = browser.new_context(
        viewport=ViewportSize(width=size[0], height=size[1]),
        color_scheme=scheme,
        java_script_enabled=script,
        bypass_csp=True,
    )
    context.route(lambda url: not url.startswith("file:"), refuse)
    yield context.new_page()
    context.close()


def refuse(route: Route) -> None:
    """Let one request go nowhere."""
    route.abort()


def violations_on(page: Page, path: Path) -> list[str]:
    """What axe finds on one page: rule, place, and what would put it right."""
    page.goto(path.as_uri())
    page.add_script_tag(path=tools.npm_file("axe-core/axe.min.js"))
    found: list[str] = page.evaluate(RUN_AXE)
    return [f"{path.name}: {violation}" for violation in found]


def strays_on(page: Page, path: Path, site: Path) -> list[str]:
    """Requests of one page that leave the site's folder or find nothing in it."""
    told: list[str] = []
    within = site.as_uri() + "/"

    def asked(request: Request) -> None:
        if not request.url.startswith((within, "data:")):
            told.append(f"{path.name} asks for {request.url}")

    def failed(request: Request) -> None:
        told.append(f"{path.name} does not get {request.url}")

    page.on("request", asked)
    page.on("requestfailed", failed)
    page.goto(path.as_uri(), wait_until="networkidle")
    page.remove_listener("request", asked)
    page.remove_listener("requestfailed", failed)
    return told


def text_of(browser: Browser, path: Path, *, script: bool) -> str:
    """All words a reader of one page sees."""
    with opened(browser, DESKTOP, script=script) as page:
        page.goto(path.as_uri())
        return page.inner_text("body")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("pattern", KINDS)
def test_axe_finds_nothing(
    browser: Browser, example_site: Path, pattern: str, size: tuple[int, int], scheme: Scheme
) -> None:
    """On the smallest and largest page of each kind axe finds no violation."""
    with opened(browser, size, scheme) as page:
        samples = tools.samples_of(example_site, pattern)
        assert [told for path in samples for told in violations_on(page, path)] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_in_the_open_claim(
    browser: Browser, open_site: Path, size: tuple[int, int], scheme: Scheme
) -> None:
    """With paid help shown the claim has more columns; axe finds nothing, nothing is too wide."""
    with opened(browser, size, scheme) as page:
        assert violations_on(page, open_site / "claim.html") == []
        assert page.evaluate(TOO_WIDE) <= 0


@pytest.mark.parametrize("pattern", KINDS)
def test_no_request_leaves_the_site(browser: Browser, example_site: Path, pattern: str) -> None:
    """Every page asks only for files of its own folder, and finds each of them."""
    with opened(browser, DESKTOP) as page:
        pages = tools.pages_of(example_site, pattern)
        assert [told for path in pages for told in strays_on(page, path, example_site)] == []


@pytest.mark.parametrize("pattern", KINDS)
def test_nothing_is_wider_than_a_phone(browser: Browser, example_site: Path, pattern: str) -> None:
    """No page has to be pushed sideways at 360 pixels."""
    too_wide = {}
    with opened(browser, PHONE) as page:
        for path in tools.pages_of(example_site, pattern):
            page.goto(path.as_uri())
            too_wide[path.name] = page.evaluate(TOO_WIDE)
    assert {name: px for name, px in too_wide.items() if px > 0} == {}


@pytest.mark.parametrize("pattern", KINDS)
def test_no_script_is_needed(browser: Browser, example_site: Path, pattern: str) -> None:
    """With scripts turned off a page shows the same words, and not none."""
    for path in tools.samples_of(example_site, pattern):
        without = text_of(browser, path, script=False)
        assert without.strip()
        assert without == text_of(browser, path, script=True)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("pattern", DOSSIER_KINDS)
def test_axe_finds_nothing_in_the_dossier(
    browser: Browser, example_dossier: Path, pattern: str, size: tuple[int, int], scheme: Scheme
) -> None:
    """On the smallest and largest page of each kind that the inspector gets axe finds nothing."""
    with opened(browser, size, scheme) as page:
        samples = tools.samples_of(example_dossier, pattern)
        assert [told for path in samples for told in violations_on(page, path)] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_on_any_kind_of_block(
    browser: Browser, made_binder: Path, size: tuple[int, int], scheme: Scheme
) -> None:
    """Every kind of block, chapters cut into pages, hostile words: axe finds nothing there."""
    with opened(browser, size, scheme) as page:
        for path in tools.pages_of(made_binder, "binder/*.html"):
            assert violations_on(page, path) == []
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
    without = text_of(browser, path, script=False)
    assert without.strip()
    assert without == text_of(browser, path, script=True)


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
    assert text_of(browser, path, script=False) != text_of(browser, path, script=True)
