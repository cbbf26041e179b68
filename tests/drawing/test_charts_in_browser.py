"""Holds in a real browser that no words of a chart lie on others, however long the record is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from builderlog.deciding.public import PublicLedger
from builderlog.drawing.site import plan_site
from builderlog.drawing.theme import open_theme, theme_names
from builderlog.storing.cache import Store
from tests.drawing.made_public import FIRST, HOUR, PUBLIC, month

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PHONE = {"width": 360, "height": 740}
# Pairs of words whose boxes meet, and words that stick out of their page; halos lie under words.
MEET = """() => [...document.querySelectorAll("svg.drawing")].flatMap((svg) => {
  const texts = [...svg.querySelectorAll("text:not(.halo)")];
  const boxes = texts.map((text) => text.getBoundingClientRect());
  return texts.flatMap((text, i) => [
    ...(boxes[i].left < 0 || boxes[i].right > innerWidth ? [`out: ${text.textContent}`] : []),
    ...texts.slice(i + 1).filter((_, j) => {
      const [a, b] = [boxes[i], boxes[i + 1 + j]];
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      return across > 1 && down > 3;
    }).map((other) => `${text.textContent} on ${other.textContent}`),
  ]);
})"""


def record_of(months: int, hours: int) -> PublicLedger:
    """So many months with up to so many hours each, a note and its pictures in every one."""
    notes, rows, running = [], [], 0
    for number in range(months):
        seconds = hours * HOUR * (number % 7 + 1) // 7
        running += seconds
        day = FIRST.day.replace(year=2019 + number // 12, month=number % 12 + 1)
        use = replace(FIRST.photos[0], day=day, note=f"n{number}")
        notes.append(replace(FIRST, key=f"n{number}", day=day, seconds=seconds, photos=(use,)))
        row = month(f"{day:%Y-%m}", seconds, (f"n{number}",))
        rows.append(replace(row, running_seconds=running, days=3))
    total = sum(row.seconds for row in rows)
    return replace(PUBLIC, notes=tuple(notes), months=tuple(rows), seconds=total, money=None)


def figures(folder: Path, theme: str, public: PublicLedger) -> str:
    """The page of the figures with its style, drawn into a folder; its address."""
    plan = plan_site(public, {}, open_theme(theme))
    for path in ("figures.html", "style.css"):
        (folder / path).write_bytes(plan.draw(path, Store(folder / "store")))
    return (folder / "figures.html").as_uri()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """An empty page as wide as a small phone."""
    page = browser.new_page(viewport={"width": PHONE["width"], "height": PHONE["height"]})
    yield page
    page.close()


@pytest.mark.parametrize("theme", theme_names())
@pytest.mark.parametrize(("months", "hours"), [(1, 3), (12, 190), (96, 99)])
def test_no_words_of_a_chart_lie_on_others(
    phone: Page, tmp_path: Path, theme: str, months: int, hours: int
) -> None:
    """On a phone, from the first month to the eighth year, in every theme."""
    phone.goto(figures(tmp_path, theme, record_of(months, hours)))
    assert phone.locator("svg.drawing").count() >= 2
    assert phone.evaluate(MEET) == []


def test_words_that_meet_are_found(phone: Page, tmp_path: Path) -> None:
    """The check bites: letters three times as large do meet, and the last leave the page."""
    address = figures(tmp_path, "trammel", record_of(12, 190))
    style = tmp_path / "style.css"
    style.write_text(style.read_text("utf-8") + ".drawing text { font-size: 39px !important; }")
    phone.goto(address)
    found: list[Any] = phone.evaluate(MEET)
    assert any(" on " in each for each in found)
