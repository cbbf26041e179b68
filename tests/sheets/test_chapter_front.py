"""The cover, how the record is read, and the notes marked private."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.deciding.totals import tally
from builderlog.deciding.words import duration
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Aircraft, Role
from builderlog.sheets.chapter import Cell, Chapter, Facts, Paragraph
from builderlog.sheets.chapter_front import cover, kept, reading, running_head, title_of
from builderlog.sheets.dossier import dossier
from builderlog.sheets.material import material
from tests import making
from tests.sheets.chapter_reader import (
    example,
    made,
    none_made,
    of_notes,
    plain,
    rows,
    said,
    sections,
    tables,
)


def facts(chapter: Chapter) -> dict[str, Cell]:
    """The facts of a cover by their terms."""
    [found] = [block for block in chapter.blocks if isinstance(block, Facts)]
    return dict(found.rows)


def cover_of(ledger: Ledger) -> Chapter:
    """The cover of a journal."""
    return cover(material(find(ledger)))


def test_the_cover_tells_whose_and_of_what() -> None:
    """Builders in full, the plate's facts as given, rule, span and counts; then what it is not."""
    ledger = example()
    told = facts(cover_of(ledger))
    sums = tally(ledger)
    assert told["Builder"].words == told["Primary builder"].words == "Runa Aldermark"
    assert (told["Serial number"].words, told["Registration"].words) == ("FKW-0417", "ZZ-OST")
    assert told["Citation"].words == "14 CFR 21.191(g)"
    assert told["Span of the record"].words == "4 January 2026 to 20 June 2026"
    assert told["Notes"].words.startswith(f"{sums.notes} notes, {sums.days} days")
    assert told["Pictures"].words == f"{sums.photos} pictures"
    assert all(duration(sums.by_role[role]) in told["Hours on record"].words for role in Role)
    caution = cover_of(ledger).blocks[-1]
    assert isinstance(caution, Paragraph)
    assert (caution.kind, "grants nothing" in caution.words) == ("caution", True)


def test_the_cover_says_what_is_not_named() -> None:
    """An empty data plate, rulebook and primary builder are told as not named, never left out."""
    told = facts(cover_of(making.ledger()))
    for term in ("Primary builder", "Maker on the data plate", "Registration", "Rulebook"):
        assert (told[term].words, told[term].weak) == ("not named in the record", True)
    assert told["Span of the record"].words == "no note is on record"
    assert told["Builders"].words == "Ines and Tomas"


def test_paid_help_stands_on_the_cover_even_where_there_is_none() -> None:
    """Nobody need ask: the hours of paid help are told as 0 min."""
    assert "0\xa0min of paid help" in facts(cover_of(making.ledger()))["Hours on record"].words


def test_titles_and_running_heads() -> None:
    """A journal without a title has a plain one; the registration stands once."""
    bare = making.ledger()
    named = replace(bare, settings=replace(bare.settings, aircraft=Aircraft(registration="ZZ-A")))
    assert running_head(named) == "A test, ZZ-A"
    in_title = replace(named, settings=replace(named.settings, title="Building ZZ-A"))
    assert running_head(in_title) == "Building ZZ-A"
    assert title_of(replace(bare, settings=replace(bare.settings, title=" "))) == (
        "A builder's record"
    )


def test_the_contents_lead_to_every_chapter() -> None:
    """Each chapter but the contents' own has a row, in order; an area's is explained once."""
    whole = dossier(find(example()))
    own, *others = whole.chapters
    [table] = tables(own.blocks)
    assert [row["Chapter"].to for row in rows(table)] == [chapter.id for chapter in others]
    told = {row["Chapter"].to: row["What stands there"].words for row in rows(table)}
    areas = [words for name, words in told.items() if name.startswith("area-")]
    assert sum(bool(words) for words in areas) == 1
    assert all(words for name, words in told.items() if not name.startswith("area-"))


def test_reading_tells_what_is_not_claimed_and_how_to_check() -> None:
    """The cautions of the rulebook, the meaning of words with their sources, the commands."""
    ledger = example()
    chapter = reading(material(find(ledger)), ())
    words = said(chapter.blocks)
    assert ledger.rulebook
    assert all(each in words for each in ledger.rulebook.cautions)
    for wanted in (
        "sha256sum --check --quiet manifest-sha256.txt",
        "shasum -a 256",
        "READ ME FIRST.txt",
        "RFC 8493",
        "Order 8130.2J",
        "from memory",
        "do not show that what was written is true",
    ):
        assert wanted in words


PRIVATE = """\
date: 2026-03-01
title: A quiet evening
private: yes
hours: 1h30
parts: [{part: Nut, receipt: receipts/a.pdf}, {part: Bolt}]
photos: photos/a.jpg
decided: {what: Go on}
"""
HIDDEN = """\
date: 2026-03-02
title: Nobody's business
private: hours only
hours: {Ines: 1h, Ada: 45m}
photos: photos/b.jpg
"""


def test_private_notes_are_listed_with_what_they_hold(tmp_path: Path) -> None:
    """Date, title, what goes along and the time; of a note of hours only, its time alone."""
    files = {"photos/a.jpg": "(picture)", "photos/b.jpg": "(picture)", "receipts/a.pdf": "x"}
    chapter = made(kept, of_notes(tmp_path, PRIVATE, HIDDEN, "date: 2026-03-03", files=files))
    whole, hours = tables(chapter.blocks)
    assert plain(whole) == [
        {
            "Date": "2026-03-01",
            "Note": "[2026-03-01, A quiet evening]",
            "What it holds": "1 picture, 2 parts, 1 receipt, 1 decision",
            "Time": "1:30",
        }
    ]
    assert [(row["Date"], row["Time"]) for row in plain(hours)] == [("2026-03-02", "1:45")]
    assert "Ada 45\xa0min" in hours.rows[0][1].words
    words = said(chapter.blocks)
    assert "business" not in words
    assert "b.jpg" not in words
    assert sections(chapter).keys() == {"kept-private", "kept-hours"}


def test_without_a_private_note_there_is_no_such_chapter(tmp_path: Path) -> None:
    """The chapter is left out where no note is marked."""
    assert none_made(kept, of_notes(tmp_path, "date: 2026-03-03"))
