"""What the site weighs and what it forbids itself, in every theme.

Source: gzip at its usual strength, as most hosts send pages; the Content-Security-Policy of each
page as the W3C's recommendation words it (Content Security Policy Level 3).
"""

from __future__ import annotations

import gzip
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from builderlog.drawing.theme import theme_names
from tests.drawing.page_reader import ReadPage, read_page
from tests.outside import tools

MOST_OF_FRONT, MOST_SCRIPT = 60_000, 15_000  # bytes
FORBIDDEN = "default-src 'none'"
OPEN = re.compile(r"https?:|//|\*|unsafe-eval|'unsafe-inline'")
# What would keep something on a reader's machine, or ask somebody for something.
KEEPS_OR_ASKS = re.compile(
    r"cookie|localStorage|sessionStorage|indexedDB|caches\b|serviceWorker|"
    r"fetch\s*\(|XMLHttpRequest|sendBeacon|WebSocket|EventSource|importScripts|import\s*\("
)

in_every_theme = pytest.mark.parametrize("theme", theme_names())


def page_at(path: Path) -> ReadPage:
    """A page, read."""
    return read_page(path.read_text(encoding="utf-8"))


def files_of(path: Path, page: ReadPage, tag: str, attribute: str) -> set[Path]:
    """The files that a page loads with an element: scripts by `src`, styles and icons by `href`."""
    return {
        (path.parent / attributes[attribute]).resolve()
        for each, attributes in page.elements
        if each == tag and attributes.get(attribute) and _is_loaded(attributes)
    }


def _is_loaded(attributes: Mapping[str, str]) -> bool:
    return attributes.get("rel") in (None, "stylesheet", "icon")


def sent(file: Path) -> int:
    """The bytes of a file as a host sends them."""
    return len(gzip.compress(file.read_bytes()))


def policy_of(page: ReadPage) -> str:
    """What the page forbids itself."""
    [policy] = [
        attributes["content"]
        for tag, attributes in page.elements
        if tag == "meta" and attributes.get("http-equiv") == "Content-Security-Policy"
    ]
    return policy


@in_every_theme
def test_the_front_page_is_light(themed: Mapping[str, Path], theme: str) -> None:
    """Without its pictures: page, styles, scripts and icon are at most 60 KB over the wire."""
    path = themed[theme] / "index.html"
    page = page_at(path)
    files = {path} | files_of(path, page, "link", "href") | files_of(path, page, "script", "src")
    assert {file.suffix for file in files} >= {".html", ".css", ".svg"}
    assert sum(map(sent, files)) <= MOST_OF_FRONT


@in_every_theme
def test_no_page_carries_much_script(themed: Mapping[str, Path], theme: str) -> None:
    """On any page all scripts together are at most 15 KB, and that before they are packed."""
    most = {}
    for path in tools.pages_of(themed[theme], "**/*.html"):
        page = page_at(path)
        scripts = files_of(path, page, "script", "src")
        assert len(scripts) == sum(tag == "script" for tag, _ in page.elements), path.name
        most[path.name] = sum(file.stat().st_size for file in scripts)
    assert max(most.values()) <= MOST_SCRIPT
    assert max(most.values()) > 0


@in_every_theme
def test_every_page_forbids_itself_the_wide_world(themed: Mapping[str, Path], theme: str) -> None:
    """Each page's policy forbids all that it does not name, and names nothing but the site."""
    for path in tools.pages_of(themed[theme], "**/*.html"):
        policy = policy_of(page_at(path))
        assert policy.startswith(FORBIDDEN), path.name
        opened = OPEN.findall(policy.replace("style-src 'unsafe-inline'", ""))
        assert opened == [], path.name
        assert ("style-src 'unsafe-inline'" in policy) == (path.name == "404.html"), path.name


@in_every_theme
def test_nothing_is_kept_and_nobody_asked(themed: Mapping[str, Path], theme: str) -> None:
    """No script sets a cookie, keeps anything on the reader's machine, or asks for anything."""
    scripts = tools.pages_of(themed[theme], "**/*.js")
    assert [KEEPS_OR_ASKS.findall(file.read_text(encoding="utf-8")) for file in scripts] == [
        [] for _ in scripts
    ]
    styles = tools.pages_of(themed[theme], "**/*.css")
    for file in styles:
        assert not re.search(r"@import|url\((?!['\"]?(data:|#))", file.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    "fault",
    [
        "document.cookie = 'seen'",
        "localStorage.seen = 1",
        "fetch('index.html')",
        "navigator.sendBeacon(home)",
    ],
)
def test_a_script_that_keeps_or_asks_is_told(fault: str) -> None:
    """What a script must not do is found in its words."""
    assert KEEPS_OR_ASKS.search(f"(() => {{ {fault}; }})();")


@pytest.mark.parametrize("named", ["https:", "https://friends.example", "*", "'unsafe-inline'"])
def test_a_policy_that_is_open_is_told(named: str) -> None:
    """A policy that names more than the site itself is found."""
    assert OPEN.search(f"{FORBIDDEN}; img-src 'self' {named}")
