"""A page in a real browser, what axe and our own measures find on it, and pictures to attach."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.bench_server.made_desk import LAST
from tests.bench_server.serving import Served
from tests.outside import tools

Scheme = Literal["light", "dark"]
Look = tuple[tuple[int, int], Scheme]
PHONE, DESKTOP = (360, 740), (1280, 860)
SIZES = (pytest.param(PHONE, id="phone"), pytest.param(DESKTOP, id="desktop"))
LOOKS = (
    pytest.param((PHONE, "light"), id="phone-light"),
    pytest.param((PHONE, "dark"), id="phone-dark"),
    pytest.param((DESKTOP, "light"), id="desktop-light"),
    pytest.param((DESKTOP, "dark"), id="desktop-dark"),
)
# A picture that the server has taken: its row carries the name that it lies under.
ARRIVED = ".picture > .picture-words > input[type=hidden][value]:not([value=''])"
RUN_AXE = """async () => (await axe.run(document, {preload: false})).violations.flatMap(
    rule => rule.nodes.map(node => `${rule.id}: ${node.target}: ${node.failureSummary}`))"""
TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
# What a finger has to hit is at least 44 pixels high, links in lines of text left aside.
TOO_SMALL = """[...document.querySelectorAll(
    'form:is(#note, .clock, #code-form) :is(input, select, textarea, button, summary)')]
    .map(one => one.closest('.tick')?.querySelector('span') ?? one)
    .filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 43.5)
    .map(one => one.outerHTML.slice(0, 80))"""


@contextmanager
def opened(
    browser: Browser,
    size: tuple[int, int],
    scheme: Scheme = "light",
    *,
    script: bool = True,
    failing: bool = False,
) -> Iterator[Page]:
    """A page of its own; what its policy refuses or its scripts get wrong fails the test.

    `failing` is for a test that breaks off a request itself.
    """
    context = browser.new_context(
        viewport=ViewportSize(width=size[0], height=size[1]),
        color_scheme=scheme,
        java_script_enabled=script,
    )
    page = context.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: wrong.append(message.text))
    yield page
    context.close()
    # A form that is sent back, or a picture refused, is told by the browser as an error too.
    meant = r"status of 4(03|13|15|22)" + ("|net::ERR_FAILED" if failing else "")
    assert [text for text in wrong if not re.search(meant, text)] == []


def violations_on(page: Page) -> list[str]:
    """What axe finds on the page once its styles are there, and what is too wide or too small."""
    page.wait_for_load_state("load")
    page.evaluate((tools.npm_file("axe-core/axe.min.js")).read_text(encoding="utf-8"))
    found: list[str] = page.evaluate(RUN_AXE)
    wide: int = page.evaluate(TOO_WIDE)
    small: list[str] = page.evaluate(TOO_SMALL)
    return [*found, *([f"{wide} px too wide"] if wide > 0 else []), *small]


def notes_written(bench: Served) -> list[Path]:
    """The notes that were not there before."""
    return [file for file in sorted(bench.root.rglob("notes/**/*.md")) if file.name not in LAST]


def attach(page: Page, files: list[Path]) -> None:
    """Chooses pictures and waits until all have arrived."""
    page.set_input_files("#file", files)
    expect(page.locator(ARRIVED)).to_have_count(len(files))
