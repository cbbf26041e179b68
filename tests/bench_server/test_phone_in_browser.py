"""The phone's pages in a real browser: the code, the form, and what was understood.

Source of the checks of accessibility: axe-core, npm package axe-core 4.14.1, in Chromium.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Route, expect

from tests.bench_server.browsing import (
    LOOKS,
    PHONE,
    Look,
    attach,
    notes_written,
    opened,
    violations_on,
)
from tests.bench_server.serving import Served

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("look", LOOKS)
def test_the_phone_writes_a_note(
    browser: Browser, phone_bench: Served, pictures: list[Path], look: Look
) -> None:
    """A wrong code is told, the right one leads to the form; axe finds nothing on the way."""
    with opened(browser, *look) as page:
        page.goto(phone_bench.url)
        assert violations_on(page) == []
        page.fill("#code", "00000000")
        page.click("text=Go on to the note")
        expect(page.locator("[role=alert]")).to_be_visible()
        assert violations_on(page) == []
        page.fill("#code", phone_bench.code)
        page.click("text=Go on to the note")
        attach(page, pictures[:1])
        assert violations_on(page) == []
        page.fill("#hours-1", "x")
        page.click("text=Write the note")
        page.wait_for_selector(".troubles")
        assert violations_on(page) == []
        page.fill("#hours-1", "1h")
        page.click("text=Write the note")
        expect(page.locator(".understood li")).to_have_count(1)
        assert violations_on(page) == []
    assert "photos/" in notes_written(phone_bench)[0].read_text(encoding="utf-8")


def test_styles_that_come_late_are_waited_for(browser: Browser, phone_bench: Served) -> None:
    """A page that a form leads to is looked at when it is whole, not while its style is coming."""
    with opened(browser, PHONE, "dark") as page:

        def late(route: Route) -> None:
            page.wait_for_timeout(500)
            route.continue_()

        page.route("**/ink/*.css", late)
        page.goto(phone_bench.url)
        page.fill("#code", "00000000")
        page.click("text=Go on to the note")
        expect(page.locator("[role=alert]")).to_be_visible()
        assert violations_on(page) == []


def test_the_square_leads_straight_to_the_form(browser: Browser, phone_bench: Served) -> None:
    """The code behind the # of the address is taken, and no longer stands there."""
    code = re.sub(r"[\W_]", "", phone_bench.code)
    with opened(browser, PHONE) as page:
        page.goto(f"{phone_bench.url}#code={code}")
        page.wait_for_selector("form#note")
        assert code not in page.url
