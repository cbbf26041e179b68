"""Holds the viewer of pictures in a browser: keys, fingers, Back, focus, and pages without it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.drawing.made_public import FIRST, PUBLIC, RIBS, SECOND, SKINS, SPARE
from tests.drawing.made_site import write_site

pytestmark = pytest.mark.browser

OPEN, PLACE, CAPTION = ".viewer[open]", ".viewer-place", ".viewer figcaption"
LINKS = "main a[data-large]"
FOCUS = "document.activeElement"
SWIPE = """async ([from, to, kind]) => {
  const plate = document.querySelector(".viewer figure");
  const send = (name, x) => plate.dispatchEvent(new PointerEvent(name, {
    bubbles: true, isPrimary: true, pointerId: 7, pointerType: kind, clientX: x, clientY: 300 }));
  send("pointerdown", from);
  send("pointerup", to);
}"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site whose first note has three pictures and words that lead to one of them."""
    spare = replace(FIRST.photos[1], digest=SPARE, caption="The third", shows=("W15",))
    first = replace(
        FIRST,
        photos=(*FIRST.photos, spare),
        prose="See [the third](t.jpg).",
        links=(("t.jpg", "picture", SPARE),),
    )
    return write_site(tmp_path_factory.mktemp("site"), replace(PUBLIC, notes=(first, SECOND)))


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    """One window as wide as a phone, its motion reduced."""
    made = browser.new_context(viewport={"width": 360, "height": 740}, reduced_motion="reduce")
    yield made
    made.close()


@pytest.fixture
def note(context: BrowserContext, site: Path) -> Iterator[Page]:
    """The note with three pictures; whatever the page complains of fails the test."""
    page = context.new_page()
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text))
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto((site / "notes" / f"{FIRST.key}.html").as_uri())
    yield page
    page.close()
    assert told == []


def test_a_picture_opens_with_its_caption_and_its_place(note: Page) -> None:
    """A click opens the picture over the page, large, with its caption; its address tells which."""
    note.locator(LINKS).nth(0).click()
    expect(note.locator(CAPTION)).to_have_text("Skins held with clecos")
    expect(note.locator(PLACE)).to_have_text("1 of 3")
    image = note.locator(".viewer img")
    expect(image).to_have_attribute("alt", "Skins held with clecos")
    assert str(image.get_attribute("src")).endswith(f"{SKINS[:16]}-1600.webp")
    assert note.url.endswith(f"#picture-{SKINS[:16]}")


def test_keys_turn_the_pictures(note: Page) -> None:
    """Arrows, Home and End go from picture to picture, and stop at both ends."""
    note.locator(LINKS).nth(0).click()
    expect(note.locator(OPEN)).to_be_visible()
    for key, place in (
        ("ArrowLeft", "1 of 3"),
        ("ArrowRight", "2 of 3"),
        ("End", "3 of 3"),
        ("ArrowRight", "3 of 3"),
        ("ArrowLeft", "2 of 3"),
        ("Home", "1 of 3"),
    ):
        note.keyboard.press(key)
        expect(note.locator(PLACE)).to_have_text(place)
    assert note.locator(".viewer-before").get_attribute("aria-disabled") == "true"


def test_buttons_turn_the_pictures(note: Page) -> None:
    """What the keys do, the buttons do; the caption follows, or what stands for it."""
    note.locator(LINKS).nth(0).click()
    note.get_by_role("button", name="After").click()
    expect(note.locator(CAPTION)).to_have_text("Picture of 14 March 2026: Skins <on> & off")
    note.get_by_role("button", name="Before").click()
    expect(note.locator(PLACE)).to_have_text("1 of 3")
    note.get_by_role("button", name="Close").click()
    expect(note.locator(OPEN)).to_have_count(0)


def test_focus_stays_inside_and_is_given_back(note: Page) -> None:
    """Tab stays in the open viewer; closed, the picture that was seen last has the focus."""
    note.locator(LINKS).nth(0).focus()
    note.keyboard.press("Enter")
    expect(note.locator(OPEN)).to_be_visible()
    seen = set()
    for _ in range(8):
        note.keyboard.press("Tab")
        seen.add(
            note.evaluate(f"{FOCUS}.closest('.viewer') ? {FOCUS}.className : {FOCUS}.nodeName")
        )
    assert {"viewer-before", "viewer-after", "viewer-close"} <= seen
    assert seen <= {"viewer-before", "viewer-after", "viewer-close", "viewer", "BODY"}
    note.keyboard.press("ArrowRight")
    note.keyboard.press("Escape")
    expect(note.locator(OPEN)).to_have_count(0)
    note.wait_for_function(f"{FOCUS}.href?.includes('{RIBS[:16]}')")


def test_back_closes_the_viewer(note: Page) -> None:
    """However many pictures were turned, one step back is the page, and one on the picture."""
    address = note.url
    note.locator(LINKS).nth(0).click()
    note.keyboard.press("ArrowRight")
    note.go_back()
    expect(note.locator(OPEN)).to_have_count(0)
    assert note.url == address
    note.go_forward()
    expect(note.locator(PLACE)).to_have_text("2 of 3")


def test_closing_leaves_no_step_behind(note: Page) -> None:
    """Closed by a key, the viewer has taken its own step out of the way back."""
    address = note.url
    note.locator(LINKS).nth(0).click()
    expect(note.locator(OPEN)).to_be_visible()
    note.keyboard.press("Escape")
    note.wait_for_url(address)
    note.go_back()
    assert note.url == "about:blank"


def test_the_address_of_a_picture_opens_it(note: Page) -> None:
    """A link that was sent opens the page with its picture; closed, the page is left."""
    address = note.url
    note.goto("about:blank")
    note.goto(f"{address}#picture-{RIBS[:16]}")
    expect(note.locator(PLACE)).to_have_text("2 of 3")
    note.keyboard.press("Escape")
    note.wait_for_url(address)


def test_a_finger_turns_the_pictures(note: Page) -> None:
    """Drawn to the left the next one comes; a short way, and a mouse, do nothing."""
    note.locator(LINKS).nth(0).click()
    expect(note.locator(OPEN)).to_be_visible()
    for way, place in (
        ([300, 100, "touch"], "2 of 3"),
        ([100, 300, "touch"], "1 of 3"),
        ([300, 280, "touch"], "1 of 3"),
        ([300, 100, "mouse"], "1 of 3"),
    ):
        note.evaluate(SWIPE, way)
        expect(note.locator(PLACE)).to_have_text(place)


def test_a_link_amid_words_opens_the_picture_in_its_place(note: Page) -> None:
    """It leads to where the page shows the picture, and counts as no picture of its own."""
    note.get_by_role("link", name="the third").first.click()
    expect(note.locator(PLACE)).to_have_text("3 of 3")
    expect(note.locator(CAPTION)).to_have_text("The third")


def test_a_click_beside_the_picture_closes(note: Page) -> None:
    """The ground round the picture leads back to the page; the picture itself does not."""
    note.locator(LINKS).nth(0).click()
    expect(note.locator(OPEN)).to_be_visible()
    note.locator(".viewer img").click()
    expect(note.locator(OPEN)).to_be_visible()
    note.mouse.click(180, 8)
    expect(note.locator(OPEN)).to_have_count(0)


def test_the_viewer_survives_a_page_exchanged_under_it(note: Page) -> None:
    """When a live page is drawn anew, its pictures open as before, and focus finds its link."""
    exchange = (
        "document.querySelector('main').replaceWith(document.querySelector('main').cloneNode(true))"
    )
    note.evaluate(exchange)
    note.locator(LINKS).nth(0).click()
    expect(note.locator(OPEN)).to_be_visible()
    note.evaluate(exchange)
    note.keyboard.press("ArrowRight")
    expect(note.locator(PLACE)).to_have_text("2 of 3")
    note.keyboard.press("Escape")
    note.wait_for_function(f"{FOCUS}.href?.includes('{RIBS[:16]}')")


def test_a_picture_fills_the_window_and_no_more(note: Page) -> None:
    """Nothing has to be scrolled to, and a small picture is not blown up."""
    note.locator(f"{LINKS}[href*='{RIBS[:16]}']").click()
    expect(note.locator(OPEN)).to_be_visible()
    note.wait_for_function("document.querySelector('.viewer').scrollHeight === innerHeight")
    box = note.locator(".viewer img").bounding_box()
    assert box is not None
    assert (box["width"], box["x"]) == (300, 30)
    assert box["height"] > 400


@pytest.mark.parametrize("path", ["photos.html", "areas/w.html", "tasks/w14.html"])
def test_a_caption_leads_to_its_note(context: BrowserContext, site: Path, path: str) -> None:
    """Where pictures of many notes stand, the caption names the note, and leads there."""
    page = context.new_page()
    page.goto((site / path).as_uri())
    page.locator(LINKS).nth(0).click()
    page.locator(CAPTION).get_by_role("link").click()
    page.wait_for_url("**/notes/*.html")
    page.close()


def test_a_key_that_asks_for_a_tab_gets_one(note: Page) -> None:
    """With Control held the link does what it does everywhere, and no viewer opens."""
    with note.context.expect_page() as opened:
        note.locator(LINKS).nth(0).click(modifiers=["Control"])
    opened.value.close()
    expect(note.locator(OPEN)).to_have_count(0)


def test_without_script_the_link_leads_to_the_picture(browser: Browser, site: Path) -> None:
    """Where scripts do not run, the same link shows the large picture."""
    page = browser.new_page(java_script_enabled=False)
    page.goto((site / "photos.html").as_uri())
    page.locator(LINKS).nth(0).click()
    page.wait_for_url("**/pictures/*.webp")
    page.close()
