"""Holds that the pages work under their own policy when they are opened from disk."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route

from builderlog.drawing.theme import theme_names
from tests.drawing.made_public import FIRST, SECOND
from tests.drawing.made_site import write_site

pytestmark = pytest.mark.browser

SHOWN = "[...document.images].filter(image => image.naturalWidth > 0).length"
ALL = "document.images.length"
LOAD_ALL = "document.querySelectorAll('img').forEach(image => { image.loading = 'eager' })"
PAPER = "getComputedStyle(document.body).backgroundColor"
# One page of each kind that has pictures.
MOVING = (
    "index.html",
    "photos.html",
    f"notes/{FIRST.key}.html",
    f"notes/{SECOND.key}.html",
    "months/2026-03.html",
    "areas/w.html",
    "tasks/w14.html",
)
WATCH = """async () => {
  window.shifts = [];
  new PerformanceObserver((list) => shifts.push(...list.getEntries()))
    .observe({ type: "layout-shift", buffered: true });
  document.querySelectorAll("img").forEach((image) => { image.loading = "eager" });
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
}"""

BOX = """() => {
  const image = document.querySelector("img[alt=made]");
  const style = getComputedStyle(image);
  const paddings = (one, other) => parseFloat(style[one]) + parseFloat(style[other]);
  const wide = image.clientWidth - paddings("paddingLeft", "paddingRight");
  const high = image.clientHeight - paddings("paddingTop", "paddingBottom");
  return { wide, high, cut: style.objectFit === "cover" };
}"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hand-made site on disk, in a folder with a space, with pictures that decode."""
    return write_site(tmp_path_factory.mktemp("site") / "on a stick")


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


@pytest.mark.parametrize("theme", theme_names())
def test_nothing_moves_while_pictures_load(browser: Browser, theme: str, tmp_path: Path) -> None:
    """Pictures that come late shift nothing on any kind of page, as the browser itself measures."""
    site = write_site(tmp_path, theme=theme)
    for width in (360, 1440):
        page = browser.new_page(viewport={"width": width, "height": 740})
        for path in MOVING:
            assert shifted(page, site / path) == 0, path
        page.close()


def test_the_measure_of_shifts_bites(browser: Browser, site: Path) -> None:
    """A picture that does not tell its size does shift what stands below it."""
    text = (site / "photos.html").read_text(encoding="utf-8")
    planted = site / "planted.html"
    planted.write_text(re.sub(r' (width|height)="[0-9]+"', "", text), encoding="utf-8")
    page = browser.new_page(viewport={"width": 360, "height": 740})
    assert shifted(page, planted) > 0
    page.close()
    planted.unlink()


@pytest.mark.parametrize("theme", theme_names())
@pytest.mark.parametrize("path", ["index.html", "photos.html"])
def test_no_shape_of_a_picture_is_squeezed(
    browser: Browser, theme: str, path: str, tmp_path: Path
) -> None:
    """Alone and beside others, on paper too, a picture keeps its shape, or loses an edge of it."""
    site = write_site(tmp_path, theme=theme)
    text = (site / path).read_text(encoding="utf-8")
    page = browser.new_page()
    for shape, wide in (("broad strip", 2800), ("broad", 1300), ("wide", 500), ("tall", 300)):
        drawn = f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="500"/>'
        (site / "made.svg").write_text(drawn, encoding="utf-8")
        made = f'<img class="{shape}" src="made.svg" width="{wide}" height="500" alt="made">'
        planted = site / "planted.html"
        planted.write_text(re.sub("<img [^>]*>", made, text, count=1), encoding="utf-8")
        page.goto(planted.as_uri())
        for width, media in ((360, "screen"), (1440, "screen"), (700, "print")):
            page.set_viewport_size({"width": width, "height": 740})
            page.emulate_media(media="print" if media == "print" else "screen")
            box = page.evaluate(BOX)
            kept = box["wide"] / box["high"] == pytest.approx(wide / 500, rel=0.02)
            assert box["cut"] or kept, (shape, width, media, box)
    page.close()


def shifted(page: Page, file: Path) -> float:
    """The browser's sum of layout shifts while a page is scrolled and then gets its pictures."""
    held: list[Route] = []
    page.route("**/*.webp", lambda route: held.append(route))  # noqa: PLW0108 - it is wrapped
    page.goto(file.as_uri(), wait_until="commit")
    page.evaluate(WATCH)
    while held:
        held.pop().continue_()
        page.wait_for_timeout(60)
    page.unroute_all()
    total: float = page.evaluate("shifts.reduce((sum, shift) => sum + shift.value, 0)")
    return total
