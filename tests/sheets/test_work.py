"""Holds the pages of areas and tasks: their notes in the order of reading, with their pictures."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.public import PublicLedger, PublicPhotoUse, PublicTaskTime
from builderlog.sheets.book import open_book
from builderlog.sheets.work import area_sheet, task_sheet
from tests.drawing.made_public import FIRST, HOUR, PUBLIC, RIBS, SECOND, SKINS

BOTH = replace(
    SECOND,
    tasks=(PublicTaskTime("W14", HOUR), PublicTaskTime("W15", 2 * HOUR)),
    photos=(
        PublicPhotoUse(SKINS, None, ("W14",), "", SECOND.day, SECOND.key),
        PublicPhotoUse(RIBS, "Ribs", ("W15",), "", SECOND.day, SECOND.key),
    ),
    links=(),
)
TWO: PublicLedger = replace(PUBLIC, notes=(FIRST, BOTH))


def test_notes_stand_in_the_order_of_reading() -> None:
    """An area's page and a task's begin with the oldest note, each with its opening words."""
    book = open_book(TWO)
    for sheet in (area_sheet(book, "W"), task_sheet(book, "W14")):
        assert [item.row.link.words for item in sheet.notes] == ["Skins <on> & off", "Second"]
    assert area_sheet(book, "W").notes[0].row.opening == "The trailing edge came out straight."


def test_a_note_tells_the_time_it_gave_to_this_work() -> None:
    """On a task's page the time of that task, on the area's that of all its tasks."""
    book = open_book(TWO)
    times = [item.time and item.time.seconds for item in area_sheet(book, "W").notes]
    assert times == [2 * HOUR, 3 * HOUR]
    assert [item.time and item.time.seconds for item in task_sheet(book, "W15").notes] == [
        None,
        2 * HOUR,
    ]


def test_a_note_stands_with_its_picture_of_this_work() -> None:
    """Beside a note is the best picture that shows this very work, and none of other work."""
    book = open_book(TWO)
    covers = {name: task_sheet(book, name).notes[-1].cover for name in ("W14", "W15")}
    assert [cover and cover.digest for cover in covers.values()] == [SKINS, RIBS]
    assert task_sheet(open_book(PUBLIC), "W15").notes[0].cover is None


def test_no_picture_stands_twice_on_a_page() -> None:
    """What stands beside a note is not shown again below; all others are."""
    sheet = area_sheet(open_book(TWO), "W")
    beside = [item.cover.digest for item in sheet.notes if item.cover]
    assert beside == [SKINS, RIBS]
    assert {photo.digest for photo in sheet.photos} == {SKINS, RIBS}
    assert sheet.more_photos == ()
    third = replace(BOTH.photos[1], digest="7" * 64, caption=None)
    more = replace(TWO, notes=(FIRST, replace(BOTH, photos=(*BOTH.photos, third))))
    kept = area_sheet(open_book(more), "W").more_photos
    assert [photo.digest[0] for photo in kept] == ["7"]
