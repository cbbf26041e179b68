"""A month's letter is valid, can be read by everyone, and asks for nothing when it is opened.

Sources: Nu HTML Checker, npm package vnu-jar 26.9.27; axe-core, npm package axe-core 4.14.1, in the
Chromium of this machine.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from builderlog.drawing.theme import theme_names
from tests.command.running import run
from tests.outside import tools
from tests.outside.browsing import DESKTOP, PHONE, RUN_AXE, TOO_WIDE, Scheme, opened
from tests.outside.test_html import messages_on

# The checker takes no data for allowed by `img-src data:`; browsers do, as is held below.
OWN_PICTURES = r".*violates Content Security Policy.*data:image/jpeg.*"
SHOWN = "[...document.images].filter(image => image.naturalWidth > 0).length"
MONTH = "2026-03"
THEMES = theme_names()
MOST_BYTES = 2_000_000


@pytest.fixture(scope="module")
def letters(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The letter of March of the example, drawn by each theme."""
    folder = tmp_path_factory.mktemp("letters")
    root = tools.copy_example(folder / "journal")
    settings = root / "journal.yaml"
    text = settings.read_text(encoding="utf-8")
    assert "\nsite:\n" in text
    made: dict[str, Path] = {}
    for theme in THEMES:
        settings.write_text(text.replace("\nsite:\n", f"\nsite:\n  theme: {theme}\n"), "utf-8")
        assert run("letter", root, MONTH).status == 0
        made[theme] = Path(shutil.copy(root / f"letters/{MONTH}.html", folder / f"{theme}.html"))
    return made


@pytest.mark.slow
def test_every_themes_letter_is_valid_html(letters: dict[str, Path]) -> None:
    """The checker finds no error and no warning, in the page or in the style inside it."""
    assert messages_on([*letters.values()], "--filterpattern", OWN_PICTURES) == []


@pytest.mark.slow
@pytest.mark.parametrize("theme", THEMES)
def test_a_letter_can_be_mailed(letters: dict[str, Path], theme: str) -> None:
    """It weighs less than two megabytes with its three pictures inside."""
    data = letters[theme].read_bytes()
    assert data.count(b"data:image/jpeg;base64,") == 3
    assert len(data) < MOST_BYTES


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.parametrize("theme", THEMES)
def test_a_letter_can_be_read_by_everyone(
    browser: Browser, letters: dict[str, Path], theme: str
) -> None:
    """On a phone by night and a desktop by day: no violation, no sideways scroll, no request."""
    assert violations(browser, letters[theme], PHONE, "dark") == []
    assert violations(browser, letters[theme], DESKTOP, "light") == []


def violations(browser: Browser, file: Path, size: tuple[int, int], scheme: Scheme) -> list[str]:
    """What axe finds in a letter; its pictures are there, and nothing else was asked for."""
    asked: list[str] = []
    with opened(browser, size, scheme) as page:
        page.on("request", lambda request: asked.append(request.url))
        page.goto(file.as_uri())
        assert [url for url in asked if not url.startswith("data:")] == [file.as_uri()]
        assert page.evaluate(SHOWN) == 3
        assert page.evaluate(TOO_WIDE) <= 0
        page.add_script_tag(path=tools.npm_file("axe-core/axe.min.js"))
        found: list[str] = page.evaluate(RUN_AXE)
        return found
