"""Holds what the page says at an address where nothing stands."""

from __future__ import annotations

from dataclasses import replace

from builderlog.sheets.lost import BY_HAND, lost_sheet
from tests.drawing.made_public import EMPTY, PUBLIC

ADDRESS = "https://ostrel.example/log/"


def test_without_an_address_it_says_how_to_go_on() -> None:
    """Where the site's address is not known nothing is linked, and words tell the way."""
    sheet = lost_sheet(PUBLIC)
    assert sheet.links == ()
    assert BY_HAND in sheet.words


def test_with_an_address_it_leads_home() -> None:
    """Every link is a whole address: home, the notes, the search; findable or not."""
    sheet = lost_sheet(replace(PUBLIC, address=ADDRESS))
    assert sheet.links == (
        ("Ostrel Two", ADDRESS),
        ("All notes, month by month", f"{ADDRESS}notes.html"),
        ("Search", f"{ADDRESS}search.html"),
    )
    assert BY_HAND not in sheet.words


def test_what_is_not_there_is_not_offered() -> None:
    """A journal without notes has no search to lead to."""
    links = lost_sheet(replace(EMPTY, address=ADDRESS)).links
    assert [words for words, _ in links] == ["Ostrel Two", "All notes, month by month"]
