"""The viewer of pictures can be read by everyone, in each theme, over the page that it covers.

Source: axe-core, npm package axe-core 4.14.1, in the Chromium of this machine; letters of twice
the size are asked for by WCAG 2.2, success criterion 1.4.4.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from builderlog.drawing.theme import theme_names
from tests.drawing.made_public import SKINS
from tests.drawing.made_site import write_site
from tests.outside import tools
from tests.outside.browsing import DESKTOP, PHONE, RUN_AXE, TOO_WIDE, Scheme, opened

pytestmark = pytest.mark.browser

BUTTONS = """[...document.querySelectorAll('.viewer button')].map(each => {
    const box = each.getBoundingClientRect();
    return Math.min(box.width, box.height);
})"""
WITHIN = "document.querySelector('.viewer').scrollWidth <= innerWidth"


@pytest.mark.parametrize("theme", theme_names())
def test_axe_finds_nothing_in_the_viewer(browser: Browser, tmp_path: Path, theme: str) -> None:
    """Open, by day on a phone and by night on a desktop, each theme's viewer can be read."""
    page_of_pictures = write_site(tmp_path, theme=theme) / "photos.html"
    views: tuple[tuple[tuple[int, int], Scheme], ...] = ((PHONE, "light"), (DESKTOP, "dark"))
    for size, scheme in views:
        with opened(browser, size, scheme) as page:
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            page.goto(f"{page_of_pictures.as_uri()}#picture-{SKINS[:16]}")
            page.wait_for_selector(".viewer[open]")
            page.add_script_tag(path=tools.npm_file("axe-core/axe.min.js"))
            assert page.evaluate(RUN_AXE) == []
            assert min(page.evaluate(BUTTONS)) >= 44
            page.evaluate("document.documentElement.style.fontSize = '200%'")
            assert page.evaluate(TOO_WIDE) <= 0
            assert page.evaluate(WITHIN)
