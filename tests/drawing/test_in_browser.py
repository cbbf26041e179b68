"""Holds that the pages work under their own policy when they are opened from disk."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from tests.drawing.made_public import PICTURES, drawn, filled_store

pytestmark = pytest.mark.browser

SHOWN = "[...document.images].filter(image => image.naturalWidth > 0).length"
ALL = "document.images.length"
LOAD_ALL = "document.querySelectorAll('img').forEach(image => { image.loading = 'eager' })"
PAPER = "getComputedStyle(document.body).backgroundColor"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hand-made site on disk, in a folder with a space, with pictures that decode."""
    folder = tmp_path_factory.mktemp("site") / "on a stick"
    store = filled_store()
    for copy in (copy for copies in PICTURES.values() for copy in copies):
        made = io.BytesIO()
        Image.new("RGB", (copy.width_px, copy.height_px), "grey").save(made, "WEBP")
        store.put(copy.key, made.getvalue())
    for path, data in drawn(store=store).items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    return folder


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """An empty page as wide as a small phone."""
    page = browser.new_page(viewport={"width": 360, "height": 740})
    yield page
    page.close()


def test_style_and_pictures_load_from_disk_under_the_policy(phone: Page, site: Path) -> None:
    """Opened from disk, every page has its style and all its pictures, and nothing is refused."""
    told: list[str] = []
    phone.on("console", lambda message: told.append(message.text))
    phone.on("requestfailed", lambda request: told.append(request.url))
    for path in sorted(site.rglob("*.html")):
        phone.goto(path.as_uri())
        phone.evaluate(LOAD_ALL)
        phone.wait_for_load_state("networkidle")
        assert phone.evaluate(PAPER) == "rgb(243, 245, 236)", path.name
        assert phone.evaluate(SHOWN) == phone.evaluate(ALL), path.name
    assert told == []


def test_the_policy_bites(phone: Page, site: Path) -> None:
    """A script planted in a page does nothing, and an inline style has no effect."""
    page = site / "index.html"
    planted = "<script>document.title = 'planted'</script><p style='color: red' id='red'>x</p>"
    file = site / "planted.html"
    file.write_text(page.read_text(encoding="utf-8").replace("</main>", f"{planted}</main>"))
    phone.goto(file.as_uri())
    file.unlink()
    assert phone.title() == "Ostrel Two"
    assert phone.evaluate("getComputedStyle(red).color") != "rgb(255, 0, 0)"


def test_the_pages_do_not_move_while_pictures_load(phone: Page, site: Path) -> None:
    """A page without its pictures is as tall as with them: their places are kept."""
    for path in ("index.html", "photos.html"):
        heights = []
        for refused in (True, False):
            if refused:
                phone.route("**/*.webp", lambda route: route.abort())
            else:
                phone.unroute_all()
            phone.goto((site / path).as_uri())
            phone.evaluate(LOAD_ALL)
            phone.wait_for_load_state("networkidle")
            heights.append(phone.evaluate("document.documentElement.scrollHeight"))
        assert heights[0] == heights[1], path
