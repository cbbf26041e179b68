"""The bench's own pages and styles are what the HTML and CSS standards allow.

Source: Nu HTML Checker, npm package vnu-jar 26.9.27, run by Java on this machine alone.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.bench.form import FormKept, Trouble
from builderlog.bench.front import front_page
from builderlog.bench.pen import PAGES
from builderlog.bench.phone_pages import code_page, form_page, written_page
from builderlog.noting.clock import Clock
from builderlog.reading.problem import Place, mistake
from tests.bench_server.made_desk import LAST, desk_of, laid
from tests.outside.test_html import messages_on

pytestmark = pytest.mark.slow

KEPT = FormKept(
    {
        "hours:Ines": ("x",),
        "task-1": ("W77",),
        "task-1-who": ("Ada",),
        "picture-1": ('a "b" <c>.jpg',),
        "snag-1": ("Dent",),
        "part-1": ("Bolt",),
    },
    (Trouble("hours:Ines", "'x'"), Trouble("task-1", "'W77'"), Trouble("", "all of it")),
)


def states_of(desk: Desk) -> dict[str, str]:
    """Every kind of page in its states, by a name."""
    since = datetime(2026, 3, 16, 19, 10)  # noqa: DTZ001 - the shop's clock
    broken = replace(
        desk,
        problems=(mistake(Place("notes/<a>.md", 3), "x", "'<b>' & so on"),),
        inbox=(InboxPicture("a.jpg", "2026-03-16T21:00:00"),),
        clock=Clock(since=since),
    )
    return {
        "front": front_page(desk),
        "broken": front_page(broken, told="Refused: the picture is too large."),
        "kept": front_page(desk, KEPT),
        "written": front_page(desk, wrote=LAST),
        "code": code_page("t", "that is not the code"),
        "phone": form_page(replace(broken, phone=True), KEPT),
        "phone-written": written_page(replace(desk, phone=True), LAST),
    }


def test_every_page_of_the_bench_is_valid_html(tmp_path: Path) -> None:
    """The checker finds no error and no warning on any page of the bench in any state."""
    root = laid(tmp_path / "journal")
    (root / LAST).write_text("---\nhours: 4h\ncloses: [W]\n---\nx\n", encoding="utf-8")
    pages = []
    for name, text in states_of(desk_of(root)).items():
        pages.append(tmp_path / f"{name}.html")
        pages[-1].write_text(text, encoding="utf-8")
    assert messages_on(pages) == []


def test_the_styles_of_the_bench_are_valid_css() -> None:
    """The checker finds nothing in the styles of the bench and of the live site."""
    assert messages_on([PAGES / "bench.css", PAGES / "live.css"], "--css") == []
