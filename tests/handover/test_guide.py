"""The page for a stranger: one file, without script or address, that explains every table."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

from builderlog.handover.guide import CLAIM_FRONT, GUIDE_NAME, guide
from builderlog.handover.tables import all_sheets
from builderlog.sheets.record import record_sheets
from tests.handover.small_journal import read
from tests.making import ledger


class Reader(HTMLParser):
    """Every tag with its attributes, and all words."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.words: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keeps a tag and its attributes."""
        self.tags.append(tag)
        self.attributes.extend(attrs)

    def handle_data(self, data: str) -> None:
        """Keeps words."""
        self.words.append(data)


def test_it_needs_nothing_else(bag: Path) -> None:
    """No script, no picture, no style or font from elsewhere; its one link stays in the bag."""
    page = (bag / GUIDE_NAME).read_text(encoding="utf-8")
    found = Reader(page)
    assert not {"script", "img", "link", "iframe"} & set(found.tags)
    assert not {"src", "onclick"} & {name for name, _ in found.attributes}
    assert [value for name, value in found.attributes if name == "href"] == [CLAIM_FRONT]
    assert (bag / CLAIM_FRONT).is_file()
    assert "url(" not in page
    assert "://" not in page


def test_the_builders_words_are_escaped(bag: Path) -> None:
    """A title with signs of HTML is shown as it was written, and is no tag."""
    page = (bag / GUIDE_NAME).read_text(encoding="utf-8")
    assert "two" not in Reader(page).tags
    assert "Ostrel <Two> & friends" in Reader(page).words


def test_it_explains_every_column_of_every_table(journal: Path) -> None:
    """Each table in the bag stands on the page with all its columns and their meaning."""
    _, found = read(journal)
    words = set(Reader(guide(found, all_sheets(found, {})).decode("utf-8")).words)
    for sheet in record_sheets(found):
        assert f"tables/{sheet.name}.csv" in words
        assert {heading.name for heading in sheet.headings} <= words
        assert {heading.meaning for heading in sheet.headings} <= words


def test_headings_are_in_order(bag: Path) -> None:
    """One heading of the first level, and none skips a level."""
    tags = Reader((bag / GUIDE_NAME).read_text(encoding="utf-8")).tags
    levels = [int(tag[1]) for tag in tags if re.fullmatch("h[1-6]", tag)]
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_it_promises_no_file_that_is_not_there() -> None:
    """A journal without pictures, receipts, seals, work list or rulebook is told of none."""
    page = guide(ledger(), ()).decode("utf-8")
    absent = ("data/photos/", "data/receipts/", "seals", "worklist", "claim/")
    assert not [word for word in absent if word in page]
    assert "data/tables/" in page


def test_it_says_what_the_record_is_not(bag: Path) -> None:
    """The caution stands on the page: it supports a statement and grants nothing."""
    words = " ".join(Reader((bag / GUIDE_NAME).read_text(encoding="utf-8")).words)
    assert "It grants nothing" in words
    assert "sha256sum --check" in words
