"""The photo index and the contact sheets: every picture once, with what the notes say of it."""

from __future__ import annotations

import tracemalloc
from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.findings import find
from builderlog.deciding.picture_choice import Choice
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture
from builderlog.sheets.chapter import Cell, Chapter, Pictures, ShownPicture
from builderlog.sheets.chapter_photos import contact, photos
from builderlog.sheets.material import Material, material
from tests import making
from tests.sheets.chapter_reader import (
    blocks_in,
    example,
    made,
    none_made,
    of_notes,
    rows,
    said,
    sections,
    tables,
)

NOTE = """\
date: 2026-03-14
hours: 1h
tasks: W14
photos:
  - {photo: photos/b.jpg, shows: [W14, W15], seen: [Ines, Ada], caption: Skins on}
  - {photo: photos/page.jpg, as: page}
  - {photo: photos/broken.jpg, shows: W14}
"""
FILES = {
    "journal.yaml": "title: A test\nbuilder: Ines\npeople:\n"
    "  Ines: {role: builder, full name: Ines Aldermark}\n  Ada: helper\n",
    "photos/b.jpg": "(picture of 2026-03-13)",
    "photos/page.jpg": "(picture)",
    "photos/broken.jpg": "no picture at all",
}


def held(ledger: Ledger, *, rest: tuple[Picture, ...] | None = None) -> Material:
    """The material of a ledger, all its pictures (or these) on no task's sheet."""
    found = material(find(ledger))
    chosen = sorted(ledger.pictures, key=lambda each: found.choice.numbers[each.path])
    left = tuple(chosen) if rest is None else rest
    return replace(found, choice=Choice(found.choice.numbers, {}, left))


def index(chapter: Chapter) -> list[dict[str, Cell]]:
    """Every row of the index."""
    return [row for table in tables(chapter.blocks) for row in rows(table)]


def shown(chapter: Chapter) -> list[ShownPicture]:
    """Every picture of the contact sheets; all of them are small."""
    found = [each for each in blocks_in(chapter.blocks) if isinstance(each, Pictures)]
    assert all(each.small for each in found)
    return [item for each in found for item in each.items]


def test_a_picture_stands_with_all_that_is_known_of_it(tmp_path: Path) -> None:
    """Number, when, where it is filed, tasks by name, people in full, notes, eight digits."""
    ledger = of_notes(tmp_path, NOTE, files=FILES)
    row = next(row for row in index(made(photos, ledger)) if "b.jpg" in row["Filed as"].words)
    [picture] = [each for each in ledger.pictures if each.path == "photos/b.jpg"]
    assert (row["No."].words, row["Taken"].words) == ("1", "2026-03-13 12:00")
    assert row["Filed as"].words == "photos/b.jpg"
    assert row["Shows"].words == "W14 Skins; W15 Hinges"
    assert row["Seen"].words == "Ines Aldermark and Ada"
    assert [link.path for link in row["Note"].links] == ["notes/2026-03-14-0.md"]
    assert (len(row["Digest"].words), picture.file.digest.startswith(row["Digest"].words)) == (
        8,
        True,
    )


def test_what_is_no_picture_is_listed_and_said_to_be_none(tmp_path: Path) -> None:
    """A file that cannot be shown keeps its number and place; a page of a notebook is named one."""
    ledger = of_notes(tmp_path, NOTE, files=FILES)
    chapter = made(photos, ledger)
    filed = [row["Filed as"].words for row in index(chapter)]
    assert "photos/broken.jpg (cannot be shown: no picture could be made of it)" in filed
    assert "photos/page.jpg, a page of a notebook" in filed
    assert "3 pictures, each once. Of 1 file no picture could be made" in said(chapter.blocks)
    assert "data/tables/photos.csv" in said(chapter.blocks)
    assert {each.path for each in shown(*contact(held(ledger)))} == {
        "photos/b.jpg",
        "photos/page.jpg",
    }


def test_the_index_goes_by_number_and_month() -> None:
    """Every picture of the example stands once, in the order of the numbers, under its month."""
    ledger = example()
    chapter = made(photos, ledger)
    assert [row["No."].words for row in index(chapter)] == [
        str(n) for n in range(1, len(ledger.pictures) + 1)
    ]
    for name, section in sections(chapter).items():
        days = {row["Taken"].words[:7] for row in rows(tables([section])[0])}
        assert days == {name.removeprefix("photos-")}


def test_a_picture_that_words_alone_link_has_its_note() -> None:
    """A picture that a note only links in its words stands with that note, on its day."""
    note = making.note("2026-03-14")
    picture = making.picture("photos/x.jpg", linked=(note.path, note.path))
    ledger = making.ledger(notes=[note], pictures=[picture])
    chapter = made(photos, ledger)
    assert list(sections(chapter)) == ["photos-2026-03"]
    [row] = index(chapter)
    assert [link.path for link in row["Note"].links] == [note.path]
    assert (row["Taken"].words, row["Seen"].words, row["Shows"].words) == ("2026-03-14", "", "")


def test_pictures_without_any_day_stand_last() -> None:
    """A picture of which nothing says when has a place of its own behind all months."""
    pictures = [making.picture("photos/a.jpg"), making.picture("photos/b.jpg", ("2026-03-14", ()))]
    ledger = making.ledger(notes=[making.note("2026-03-14")], pictures=pictures)
    assert list(sections(made(photos, ledger))) == ["photos-2026-03", "photos-undated"]
    [chapter] = contact(held(ledger))
    assert [(each.alt, each.told) for each in shown(chapter)] == [
        ("Picture of 2026-03-14", "2026-03-14."),
        ("photos/a.jpg", ""),
    ]


def test_contact_sheets_go_by_month_and_pages_stand_apart() -> None:
    """The rest stands in small by month; pages of a notebook come last, under their own heading."""
    use = PhotoUse("notes/2026-03-14.md", making.day("2026-03-14"), (), (), None, False, page=True)  # noqa: FBT003 - the record's own
    one = making.picture("photos/a.jpg", ("2026-03-14", ("W1",)))
    page = replace(making.picture("photos/p.jpg"), uses=(use,))
    later = making.picture("photos/l.jpg", ("2026-04-01", ()))
    notes = [making.note("2026-03-14"), making.note("2026-04-01")]
    ledger = making.ledger(notes=notes, pictures=[one, page, later], tasks=[making.task("W1")])
    [chapter] = contact(held(ledger))
    titles = {name: each.title for name, each in sections(chapter).items()}
    assert titles == {
        "contact-2026-03": "March 2026",
        "contact-2026-04": "April 2026",
        "contact-pages": "Pages of a paper notebook",
    }
    assert [(each.path, each.alt, each.told) for each in shown(chapter)] == [
        ("photos/a.jpg", "W1 Task W1, 2026-03-14", "2026-03-14."),
        ("photos/l.jpg", "Picture of 2026-04-01", "2026-04-01."),
        ("photos/p.jpg", "Picture of 2026-03-14", "2026-03-14."),
    ]


def test_captions_and_people_stand_below_a_picture(tmp_path: Path) -> None:
    """A picture's words are its day, caption and people; the caption stands for it unseen."""
    ledger = of_notes(tmp_path, NOTE, files=FILES)
    [first, *_] = shown(*contact(held(ledger)))
    assert (first.number, first.alt) == (1, "Skins on")
    assert first.told == "2026-03-13. Skins on. Seen: Ines Aldermark and Ada."
    assert first.digest == next(p.file.digest for p in ledger.pictures if p.path == first.path)


def test_no_picture_means_no_chapter() -> None:
    """Without a picture there is no index, and without a rest there are no contact sheets."""
    assert none_made(photos, making.ledger())
    assert none_made(contact, making.ledger())
    assert list(contact(held(example(), rest=()))) == []


def many(count: int) -> Material:
    """The material of a journal with so many pictures, all on one day."""
    pictures = [making.picture(f"photos/{n:05}.jpg", ("2026-03-14", ("W1",))) for n in range(count)]
    notes = [making.note("2026-03-14")]
    return held(making.ledger(notes=notes, pictures=pictures, tasks=[making.task("W1")]))


@pytest.mark.slow
def test_many_pictures_take_no_more_each_than_few() -> None:
    """Memory grows with the number of pictures, not faster: the index holds one row for each."""
    peaks = []
    for found in (many(500), many(5000)):
        tracemalloc.start()
        [chapter] = photos(found)
        assert len(index(chapter)) == len(found.ledger.pictures)
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < 15 * peaks[0]
