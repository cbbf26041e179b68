"""The pages and the style sheet are what the HTML and CSS standards allow.

Source: Nu HTML Checker, npm package vnu-jar 26.9.27, run by Java on this machine alone.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.outside import tools

pytestmark = pytest.mark.slow

# The checker takes a page that it opens from disk to be of no origin, so that nothing matches its
# policy; browsers do match. tests/drawing holds in Chromium that style and pictures load.
OWN_FILES = (
    r".*violates Content Security Policy.*(style\.css|pictures/|icon\.svg|(search|viewer)\.js).*"
)

FAULTY = """<!DOCTYPE html>
<html lang="en"><head><title>Planted</title></head>
<body><h1>One</h1><img src="a.webp"><p id="a">x<p id="a">y</body></html>
"""


def messages_on(files: list[Path], *options: str) -> list[str]:
    """Every message of the checker, error or warning, one line each: file, line, kind, words."""
    java, jar = tools.program("java"), tools.npm_file("vnu-jar/build/dist/vnu.jar")
    command = [java, "-jar", str(jar), "--format", "json", "--exit-zero-always", *options]
    names = [str(file) for file in files]
    done = subprocess.run([*command, *names], check=True, capture_output=True, text=True)
    told: list[dict[str, Any]] = json.loads(done.stderr)["messages"]
    return [
        f"{Path(message['url']).name}:{message.get('lastLine', 0)}: "
        f"{message.get('subType', message['type'])}: {message['message']}"
        for message in told
    ]


def test_every_page_is_valid_html(themed: Mapping[str, Path]) -> None:
    """The checker finds no error and no warning on any page of the example, in any theme."""
    pages = [page for site in themed.values() for page in tools.pages_of(site, "**/*.html")]
    assert messages_on(pages, "--filterpattern", OWN_FILES) == []


def test_the_open_claim_is_valid_html(open_site: Path) -> None:
    """The checker finds nothing on the page of the claim with all its columns."""
    page = open_site / "claim.html"
    assert "B Commercial Assistance" in page.read_text(encoding="utf-8")
    assert messages_on([page], "--filterpattern", OWN_FILES) == []


def test_every_page_of_the_dossier_is_valid_html(example_dossier: Path) -> None:
    """The checker finds no error and no warning on any page that the inspector gets."""
    pages = [
        page
        for _, pattern in tools.DOSSIER_KINDS
        for page in tools.pages_of(example_dossier, pattern)
    ]
    assert messages_on(pages) == []


def test_every_kind_of_block_is_valid_html(made_binder: Path) -> None:
    """The checker finds nothing on pages with every kind of block, cut pages and hostile words."""
    assert messages_on(tools.pages_of(made_binder, "binder/*.html")) == []


def test_the_style_sheets_are_valid_css(themed: Mapping[str, Path]) -> None:
    """The checker finds no error in the style sheets of any theme."""
    sheets = [sheet for site in themed.values() for sheet in tools.pages_of(site, "**/*.css")]
    told = messages_on(sheets, "--css")
    assert [message for message in told if ": warning:" not in message] == []


def test_the_binders_style_sheet_is_valid_css(made_binder: Path) -> None:
    """The checker finds no error and no warning in the style sheet of the binder."""
    assert messages_on(tools.pages_of(made_binder, "binder/*.css"), "--css") == []


def test_the_checker_bites(tmp_path: Path) -> None:
    """A page with a picture without words and one id twice is told for both."""
    page = tmp_path / "planted.html"
    page.write_text(FAULTY, encoding="utf-8")
    told = "\n".join(messages_on([page]))
    assert "alt" in told
    assert "Duplicate ID" in told


def test_the_checker_bites_style_sheets(tmp_path: Path) -> None:
    """A style sheet with a property that does not exist is told."""
    sheet = tmp_path / "planted.css"
    sheet.write_text("p { colour: red }", encoding="utf-8")
    assert any("colour" in message for message in messages_on([sheet], "--css"))
