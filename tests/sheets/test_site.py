"""Holds what the pages of the site say, in words and numbers; not how they look."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from builderlog.deciding.public import PublicLedger, PublicPhotoUse, PublicTask
from builderlog.sheets.book import open_book
from builderlog.sheets.chart import hours_chart
from builderlog.sheets.front import FrontSheet
from builderlog.sheets.lists import NextSheet, PartsSheet, PhotoSheet
from builderlog.sheets.month import MonthSheet
from builderlog.sheets.note import NoteSheet
from builderlog.sheets.shots import keep_pictures, shown_digests
from builderlog.sheets.site import Page, all_pages
from builderlog.sheets.work import AreaSheet, TaskSheet
from tests.drawing.made_public import EMPTY, FIRST, HOUR, PUBLIC, RIBS, SECOND, SKINS, with_prose

Kind = TypeVar("Kind")


def pages_of(public: PublicLedger = PUBLIC) -> dict[str, Page]:
    """All pages by path."""
    return {page.path: page for page in all_pages(public)}


def sheet_at(kind: type[Kind], path: str, public: PublicLedger = PUBLIC) -> Kind:
    """The sheet of a page, known to be of a kind."""
    sheet = pages_of(public)[path].sheet
    assert isinstance(sheet, kind)
    return sheet


def test_every_page_has_its_own_path() -> None:
    """No two pages stand in one place, even where case does not count."""
    paths = [page.path.casefold() for page in all_pages(PUBLIC)]
    assert len(set(paths)) == len(paths)


def test_sheets_hold_no_float() -> None:
    """No number on any sheet is a float."""
    assert not [page.path for page in all_pages(PUBLIC) if has_float(page)]


def has_float(value: object) -> bool:
    """Whether a float stands anywhere in a record."""
    if isinstance(value, tuple):
        return any(has_float(item) for item in value)
    if is_dataclass(value):
        return any(has_float(getattr(value, field.name)) for field in fields(value))
    return isinstance(value, float)


def test_the_front_page_tells_where_the_build_stands() -> None:
    """Tasks done are counted of those that apply, and each of these is one hole in its state."""
    sheet = sheet_at(FrontSheet, "index.html")
    assert sheet.standing == "1 of 2 tasks done"
    assert sheet.areas[0].standing == "1 of 2 tasks done, 1 begun"
    assert [hole.state for hole in sheet.areas[0].holes] == ["done", "begun"]
    assert sheet.span == "on 2 days since 4 January 2026"


def test_the_newest_note_with_a_picture_leads() -> None:
    """The front page opens with the newest picture, also one that only the words show."""
    assert sheet_at(FrontSheet, "index.html").lead == open_book(PUBLIC).rows[SECOND.key]
    plain = with_prose("No picture.")
    assert sheet_at(FrontSheet, "index.html", plain).lead == open_book(plain).rows[FIRST.key]


def test_an_empty_journal_still_has_its_front_page() -> None:
    """A journal without notes has a front page and an archive, and leads to nothing else."""
    pages = pages_of(EMPTY)
    assert set(pages) == {"index.html", "notes.html", "404.html"}
    assert [link.path for link in pages["index.html"].chrome.nav] == ["index.html", "notes.html"]


def test_a_note_opens_with_the_picture_that_has_a_caption() -> None:
    """The captioned picture opens the note, the other follows it."""
    sheet = sheet_at(NoteSheet, f"notes/{FIRST.key}.html")
    assert sheet.cover
    assert sheet.cover.digest == SKINS
    assert [photo.digest for photo in sheet.gallery] == [RIBS]


def test_a_picture_in_the_words_is_not_shown_twice() -> None:
    """A picture that the prose shows neither opens the note nor stands in its gallery."""
    note = replace(SECOND, photos=(replace(FIRST.photos[1], note=SECOND.key),))
    sheet = sheet_at(NoteSheet, f"notes/{SECOND.key}.html", replace(PUBLIC, notes=(FIRST, note)))
    assert sheet.cover is None
    assert sheet.gallery == ()


def test_a_picture_that_words_only_lead_to_still_opens_the_note() -> None:
    """A link in words shows nothing; and another note's picture does not become this one's."""
    own, others = FIRST.photos[0], ("r.jpg", "picture", RIBS)
    prose = "See [the skins](s.jpg) and [the ribs](r.jpg)."
    links = (("s.jpg", "picture", SKINS), others)
    note = replace(SECOND, photos=(own,), prose=prose, links=links)
    sheet = sheet_at(NoteSheet, f"notes/{SECOND.key}.html", replace(PUBLIC, notes=(FIRST, note)))
    assert sheet.cover
    assert sheet.cover.digest == SKINS
    assert sheet.gallery == ()


def test_a_picture_without_a_caption_has_an_alternative_text() -> None:
    """It is made of the day it was taken, and of the tasks or else the note's title."""
    shots = open_book(PUBLIC).shots[FIRST.key]
    assert shots[0].photo.alt == "Skins held with clecos"
    assert shots[1].photo.alt == "Picture of 14 March 2026: Skins <on> & off"


def test_a_date_that_is_none_falls_back_to_the_note() -> None:
    """A picture whose date cannot be read counts for the day of its note."""
    use = PublicPhotoUse(SKINS, None, (), "", FIRST.day, FIRST.key)
    book = open_book(replace(PUBLIC, notes=(replace(FIRST, photos=(use,)),)))
    assert book.shots[FIRST.key][0].month == "2026-03"


def test_notes_lead_to_their_neighbours() -> None:
    """The first note leads on and not back, the last back and not on."""
    first = sheet_at(NoteSheet, f"notes/{FIRST.key}.html")
    last = sheet_at(NoteSheet, f"notes/{SECOND.key}.html")
    assert (first.earlier, first.later) == (None, open_book(PUBLIC).rows[SECOND.key].link)
    assert (last.earlier, last.later) == (open_book(PUBLIC).rows[FIRST.key].link, None)


def test_the_opening_of_a_note_is_plain_words() -> None:
    """Lists show the first paragraph without marks, headings or pictures."""
    public = with_prose("# Title\n\n![x](y.jpg)\n\nOne *two*\n[three](z.md)\n\nFour")
    assert open_book(public).rows[SECOND.key].opening == "One two three"


def test_a_month_without_notes_keeps_its_place() -> None:
    """The month between stands in the chart as a hole and has its page."""
    chart = hours_chart(open_book(PUBLIC), PUBLIC.months, "Hours")
    assert [month.empty for month in chart.months] == [False, True, False]
    assert sheet_at(MonthSheet, "months/2026-04.html").empty


def test_the_chart_adds_up() -> None:
    """Areas, months and the total of a chart are the same sum, time without an area included."""
    month = replace(PUBLIC.months[0], by_area=(("", 600), ("W", HOUR)))
    chart = hours_chart(open_book(PUBLIC), (month, *PUBLIC.months[1:]), "Hours")
    assert [area.name for area in chart.areas] == ["Wings", "Other work"]
    assert sum(area.time.seconds for area in chart.areas) == chart.total.seconds == HOUR + 600
    assert sum(part.seconds for part in chart.months[0].parts) == chart.months[0].time.seconds


def test_evenings_that_are_not_shown_are_told() -> None:
    """Every page tells how many evenings it does not show; a whole record tells nothing."""
    assert {page.chrome.not_shown for page in all_pages(PUBLIC)} == {"1 note is not shown."}
    whole = replace(PUBLIC, not_shown=0)
    assert {page.chrome.not_shown for page in all_pages(whole)} == {None}


def test_every_page_tells_its_record_date() -> None:
    """The date the numbers are reckoned on stands on every page."""
    told = {page.chrome.reckoned for page in all_pages(PUBLIC)}
    assert told == {"As it stood on 30 June 2026."}


def test_snags_are_told_only_where_the_journal_shows_them() -> None:
    """Without leave no sheet has a snag, and the page of what is next has none to count."""
    shown = sheet_at(NextSheet, "next.html")
    assert [snag.number for snag in shown.open_snags] == ["edge-1"]
    hidden = replace(PUBLIC, shows_snags=False)
    assert sheet_at(NextSheet, "next.html", hidden).open_snags == ()
    assert sheet_at(FrontSheet, "index.html", hidden).open_snags is None


def test_parts_stand_where_they_are() -> None:
    """A fitted part is on the aircraft, an ordered one on its way; empty groups are left out."""
    groups = {group.name: group.parts for group in sheet_at(PartsSheet, "parts.html").groups}
    assert [part.name for part in groups["On the aircraft"]] == ["AN3-5A bolt"]
    assert [part.name for part in groups["On their way"]] == ["Hinge"]
    assert len(groups) == 2


def test_every_picture_is_in_each_index() -> None:
    """By month, by area and by task, each index has all pictures, those that show no task too."""
    for path in ("photos.html", "photos-by-area.html", "photos-by-task.html"):
        groups = sheet_at(PhotoSheet, path).groups
        assert {photo.digest for group in groups for photo in group.photos} == {SKINS, RIBS}


def test_an_area_and_its_task_show_their_pictures() -> None:
    """A picture stands with the task it shows, and with that task's area."""
    for sheet in (sheet_at(AreaSheet, "areas/w.html"), sheet_at(TaskSheet, "tasks/w14.html")):
        assert [photo.digest for photo in sheet.photos] == [SKINS]


def test_free_tasks_have_an_area_of_their_own() -> None:
    """Tasks outside any area are reached by one more area, so that every page is linked."""
    free = PublicTask("Paint", "Paint", "", None, False, True, 60, None)  # noqa: FBT003
    sheet = sheet_at(FrontSheet, "index.html", replace(PUBLIC, tasks=(*PUBLIC.tasks, free)))
    assert sheet.areas[-1].link.words == "Other work"


def test_pictures_without_copies_are_left_out() -> None:
    """A picture that cannot be drawn is on no sheet, and a link to it is unlinked."""
    kept = keep_pictures(PUBLIC, {SKINS})
    assert shown_digests(PUBLIC) == (SKINS, RIBS)
    assert shown_digests(kept) == (SKINS,)
    assert ("../photos/ribs.jpg", "drop", "") in kept.notes[1].links
