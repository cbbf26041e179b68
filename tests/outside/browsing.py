"""Pages in the real browser: opened from disk, nothing leaves the machine, looked at in one go.

Axe is the npm package axe-core 4.14.1, run in the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Literal

import pytest
from _pytest.mark import ParameterSet
from playwright.sync_api import Browser, Page, Request, ViewportSize

from tests.outside import tools

Scheme = Literal["light", "dark"]
PHONE, DESKTOP = (360, 740), (1440, 900)
PAPER = (718, 1000)  # A4 at 96 dots an inch within margins of a centimetre
SIZES = (pytest.param(PHONE, id="phone"), pytest.param(DESKTOP, id="desktop"))

# No preload: it would fetch style sheets anew, which a page opened from disk cannot.
RUN_AXE = """async () => (await axe.run(document, {preload: false})).violations.flatMap(
    rule => rule.nodes.map(node => `${rule.id}: ${node.target}: ${node.failureSummary}`))"""
# The rules that a change of colours alone can break.
RUN_AXE_ON_COLOURS = RUN_AXE.replace(
    "preload: false", "preload: false, runOnly: ['color-contrast', 'link-in-text-block']"
)
# Colours alone differ by night.
VIEWS: tuple[tuple[tuple[int, int], Scheme, str], ...] = (
    (DESKTOP, "light", RUN_AXE),
    (DESKTOP, "dark", RUN_AXE_ON_COLOURS),
    (PHONE, "dark", RUN_AXE_ON_COLOURS),
    (PHONE, "light", RUN_AXE),
)
TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
LEFT_BEHIND = "net::ERR_ABORTED"  # a picture further down of the page that was left for this one
# A table that scrolls inside its own box.
PARTS_TOO_WIDE = """[...document.querySelectorAll('.wide, .frame')].reduce(
    (px, box) => px + Math.max(0, box.scrollWidth - box.clientWidth), 0)"""
# What moves by itself or with delay.
MOVING = """[...document.querySelectorAll('*')].flatMap(each => ['', '::before', '::after'].map(
    part => [each, getComputedStyle(each, part || null)])).filter(([, style]) =>
    [style.transitionDuration, style.animationDuration].some(
        times => times.split(',').some(time => parseFloat(time) > 0.01))
    || style.scrollBehavior === 'smooth').map(([each]) => `${each.tagName}.${each.className}`)"""


def named(kinds: tuple[tuple[str, str], ...]) -> list[ParameterSet]:
    """A parameter for each kind of page, by its name."""
    return [pytest.param(pattern, id=kind.replace(" ", "-")) for kind, pattern in kinds]


@contextmanager
def opened(
    browser: Browser, size: tuple[int, int], scheme: Scheme = "light", *, script: bool = True
) -> Iterator[Page]:
    """An empty page of its own, to which the machine has no network."""
    context = browser.new_context(
        viewport=ViewportSize(width=size[0], height=size[1]),
        color_scheme=scheme,
        java_script_enabled=script,
        bypass_csp=True,
        offline=True,
    )
    yield context.new_page()
    context.close()


@cache
def _axe() -> str:
    return tools.npm_file("axe-core/axe.min.js").read_text(encoding="utf-8")


def violations_on(page: Page, path: Path) -> list[str]:
    """What axe finds on one page: rule, place, and what would put it right."""
    page.goto(path.as_uri())
    page.evaluate(_axe())
    found: list[str] = page.evaluate(RUN_AXE)
    return [f"{path.name}: {violation}" for violation in found]


def violations_in_all_views(page: Page, path: Path) -> list[str]:
    """What axe finds on one page that is loaded once: wide and narrow, by day and by night."""
    page.goto(path.as_uri())
    page.evaluate(_axe())
    found = []
    for (width, height), scheme, question in VIEWS:
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        view = f"{path.name}, {width} px, {scheme}"
        found += [f"{view}: {told}" for told in page.evaluate(question)]
    return found


def strays_on(page: Page, path: Path, site: Path) -> list[str]:
    """Requests of one page, until it is loaded, that leave the site's folder or find nothing."""
    told: list[str] = []
    within = site.as_uri() + "/"

    def asked(request: Request) -> None:
        if not request.url.startswith((within, "data:")):
            told.append(f"{path.name} asks for {request.url}")

    def failed(request: Request) -> None:
        if request.failure != LEFT_BEHIND:
            told.append(f"{path.name} does not get {request.url}")

    page.on("request", asked)
    page.on("requestfailed", failed)
    page.goto(path.as_uri())
    page.remove_listener("request", asked)
    page.remove_listener("requestfailed", failed)
    return told


def text_of(browser: Browser, paths: Sequence[Path], *, script: bool) -> list[str]:
    """All words that a reader of each page sees."""
    told = []
    with opened(browser, DESKTOP, script=script) as page:
        for path in paths:
            page.goto(path.as_uri())
            told.append(page.inner_text("body"))
    return told
