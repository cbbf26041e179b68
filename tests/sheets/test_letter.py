"""The sheet of a letter: the builder's words with what their links are, the month in figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from builderlog.deciding.public import PublicLedger, PublicLetter
from builderlog.sheets.book import open_book
from builderlog.sheets.feed import feeds
from builderlog.sheets.letter import (
    LetterSheet,
    letter_of_month,
    letter_sheet,
    letter_words,
    opened_by,
)
from builderlog.sheets.month import month_sheet
from tests.drawing.made_public import FIRST, PUBLIC, RIBS, SKINS

LETTER = PublicLetter(
    "2026-03",
    "Skins at last",
    date(2026, 5, 20),
    "Look:\n\n![Ribs](../photos/ribs.jpg)\n\n[a note](../notes/a.md), [another](../notes/b.md)\n",
    (
        ("../photos/ribs.jpg", "picture", RIBS),
        ("../notes/a.md", "note", FIRST.key),
        ("../notes/b.md", "drop", ""),
    ),
)
WITH_LETTER = replace(PUBLIC, letters=(LETTER,))
HOME = "https://example.org/build/"


def sent(public: PublicLedger = WITH_LETTER) -> LetterSheet:
    """The letter as it is sent."""
    return letter_sheet(open_book(public), LETTER)


def test_the_month_shows_the_builders_words() -> None:
    """With their pictures and links to pages; other months show none."""
    book = open_book(WITH_LETTER)
    words = letter_of_month(book, "2026-03")
    assert words is not None
    photo, note, dropped = words.prose.links
    assert photo.photo is not None
    assert photo.photo.digest == RIBS
    assert note.page is not None
    assert note.page.path == f"notes/{FIRST.key}.html"
    assert (dropped.photo, dropped.page) == (None, None)
    sheets = [month_sheet(book, at) for at in range(len(book.public.months))]
    assert [sheet.month for sheet in sheets if sheet.letter] == ["2026-03"]


def test_a_picture_of_the_letter_is_not_shown_again_below() -> None:
    """The month's page has it once among its other pictures or in the letter, not in both."""
    book = open_book(WITH_LETTER)
    (march,) = (at for at, month in enumerate(book.public.months) if month.month == "2026-03")
    assert RIBS not in {photo.digest for photo in month_sheet(book, march).photos}


def test_the_month_opens_with_no_picture_of_the_letter() -> None:
    """With the best of the others; where it shows all, with its first, which moves there.

    The short notes beside it repeat neither.
    """
    march = next(at for at, month in enumerate(PUBLIC.months) if month.month == "2026-03")
    targets = (("../photos/skins.jpg", SKINS), ("../photos/ribs.jpg", RIBS))
    opened = []
    for count in range(3):
        links = tuple((target, "picture", digest) for target, digest in targets[:count])
        prose = "\n\n".join(f"![A picture]({target})" for target, _ in targets[:count])
        letter = replace(LETTER, prose=prose, links=links)
        sheet = month_sheet(open_book(replace(PUBLIC, letters=(letter,))), march)
        assert sheet.letter
        assert sheet.cover == sheet.card
        assert sheet.cover
        large = {sheet.cover.digest, *(digest for _, digest in targets[:count])}
        assert not large & {row.cover.digest for row in sheet.notes if row.cover}
        opened.append((sheet.cover.digest, sheet.letter.prose.text.count("!")))
    assert opened == [(SKINS, 0), (RIBS, 1), (SKINS, 1)]


def test_the_picture_that_moves_takes_its_words_along() -> None:
    """The caption is the letter's, without marks; what moves stood in a paragraph of its own."""
    links = (("a.jpg", "picture", SKINS), ("b.jpg", "picture", RIBS))
    text = "Here: ![Amid](b.jpg) words.\r\n\n> ![Quoted](b.jpg)\n\n![At\n*last*](a.jpg)\n\nInes\n"
    words = letter_words(open_book(PUBLIC), replace(LETTER, prose=text, links=links))
    cover, left = opened_by(words)
    assert cover
    assert (cover.digest, cover.caption, cover.alt) == (SKINS, "At last", "At last")
    assert left.prose.text == text.replace("![At\n*last*](a.jpg)\n", "")
    assert opened_by(left) == (None, left)


def test_a_month_with_a_letter_opens_with_no_page_of_a_notebook() -> None:
    """Scanned writing is left to the notes; what the letter shows is moved in its place."""
    page = replace(FIRST.photos[1], page=True)
    note = replace(FIRST, photos=(FIRST.photos[0], page))
    letter = replace(LETTER, prose="![A](a.jpg)", links=(("a.jpg", "picture", SKINS),))
    public = replace(PUBLIC, notes=(note, *PUBLIC.notes[1:]), letters=(letter,))
    cover = month_sheet(open_book(public), 0).cover
    assert cover
    assert cover.caption == "A"
    amid = replace(letter, prose="See ![A](a.jpg).")
    assert month_sheet(open_book(replace(public, letters=(amid,))), 0).cover is None


def test_a_letter_links_to_notes_only_with_an_address() -> None:
    """A file that is sent cannot lead to pages of which nobody knows where they are."""
    assert all(link.page is None for link in sent().prose.links)
    assert sent().page is None
    placed = sent(replace(WITH_LETTER, address=HOME))
    assert placed.page == f"{HOME}months/2026-03.html"
    assert any(link.page for link in placed.prose.links)


def test_the_figures_are_those_of_the_month() -> None:
    """The same sums as on the month's page."""
    book = open_book(WITH_LETTER)
    (march,) = (at for at, month in enumerate(book.public.months) if month.month == "2026-03")
    page, figures = month_sheet(book, march), dict(sent().figures)
    assert figures["In the shop"].startswith(page.time.words)
    assert figures["Since the start"] == page.running.words
    assert [figures[row.name] for row in page.areas if row.link] == [
        row.time.words for row in page.areas if row.link
    ]


def test_a_letter_of_a_month_outside_the_record_has_no_figures() -> None:
    """It still has its words."""
    other = replace(LETTER, month="2031-01")
    sheet = letter_sheet(open_book(PUBLIC), other)
    assert (sheet.figures, sheet.page, sheet.title) == ((), None, LETTER.title)


def test_the_feed_of_months_is_updated_by_a_letter() -> None:
    """The entry of its month changes on the day that the letter was written; its id stays."""
    late = replace(WITH_LETTER, record_date=date(2026, 6, 30))
    found = {
        bool(public.letters): next(
            entry
            for feed in feeds(open_book(public))
            if feed.path == "months.xml"
            for entry in feed.entries
            if entry.page == "months/2026-03.html"
        )
        for public in (late, replace(late, letters=()))
    }
    assert found[True].id == found[False].id
    assert (found[True].published, found[True].updated) == (date(2026, 3, 31), date(2026, 5, 20))
    assert found[False].updated == date(2026, 3, 31)


def test_a_letter_shows_no_picture_that_was_not_drawn() -> None:
    """Skins are in the ledger, but the letter does not name them."""
    assert {link.photo.digest for link in sent().prose.links if link.photo} == {RIBS}
    assert SKINS in {use.digest for use in FIRST.photos}
