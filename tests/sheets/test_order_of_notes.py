"""One order of the notes of a day on the whole site: on no page do they stand in another one."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from itertools import pairwise

from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.entries import Decided, Note, PersonHours
from builderlog.knowing.units import parse_length
from builderlog.reading.problem import Place
from builderlog.reading.prose import Prose
from builderlog.sheets.book import open_book
from builderlog.sheets.feed import feeds
from builderlog.sheets.front import FrontSheet
from builderlog.sheets.note import NoteSheet
from builderlog.sheets.rows import Link
from builderlog.sheets.site import Page, all_pages
from tests.making import dated, ledger, picture, task, word, worked
from tests.making import note as made

DAY = "2026-03-14"
# In the order in which a reader gets them; by their names alone it would be another one.
TOLD = ("c 9:00-10:00", "b 1", "a 19:00-20:00", "rib-2 1", "rib-10 1", " 1", "2 1")
KEYS = tuple(f"{DAY}-{told.split()[0] if told[0] != ' ' else 'note'}" for told in TOLD)
NOWHERE = Place("notes/x.md")


def note(told: str) -> Note:
    """A note of the day that has everything of which a page may make a list."""
    name, _, hours = told.partition(" ")
    path = f"notes/{DAY}{'-' if name else ''}{name}.md"
    return replace(
        made(DAY, f"W{name}", "W1"),
        path=path,
        place=Place(path),
        title=word(path),
        hours=(PersonHours(None, parse_length(hours), NOWHERE),),
        decided=(Decided(word(f"decided in {path}"), NOWHERE),),
        next_steps=(word(f"next by {path}"),),
        closes=(word("W1"),),
        prose=Prose(f"Words of {path}.", NOWHERE),
    )


NOTES = tuple(note(told) for told in TOLD)
LATER = replace(made("2026-05-02", "W1"), written=dated("2026-05-03"))
BOOK = ledger(
    notes=(*sorted(NOTES, key=lambda each: each.order), LATER),
    work=[
        replace(worked(DAY, 3600, line.task.text), note=each.path)
        for each in NOTES
        for line in each.tasks
    ],
    pictures=[
        replace(shot, uses=tuple(replace(use, note=each.path) for use in shot.uses))
        for each in NOTES
        for shot in [picture(f"photos/{each.path}.jpg", (DAY, ("W1",)))]
    ],
    tasks=[
        *(task(name, done=True) for each in NOTES if (name := each.tasks[0].task.text) != "W"),
        task("W1"),
    ],
)
PUBLIC = public_ledger(BOOK)


def notes_led_to(value: object) -> list[str]:
    """The notes of the day that a sheet leads to, in its order."""
    if isinstance(value, Link):
        key = value.path.removeprefix("notes/").removesuffix(".html")
        return [key] if key in KEYS else []
    if is_dataclass(value):
        return [key for one in fields(value) for key in notes_led_to(getattr(value, one.name))]
    return [key for each in value for key in notes_led_to(each)] if isinstance(value, tuple) else []


def lists_of(value: object) -> list[list[str]]:
    """Every list of a sheet, however deep, as the notes that it leads to."""
    if is_dataclass(value):
        return [found for one in fields(value) for found in lists_of(getattr(value, one.name))]
    if not isinstance(value, tuple):
        return []
    return [notes_led_to(value), *(found for each in value for found in lists_of(each))]


def is_in_order(found: list[str]) -> bool:
    """Whether notes stand as the builder told them, or the newest first."""
    places = [KEYS.index(key) for key in found]
    forth = all(one <= other for one, other in pairwise(places))
    return forth or all(one >= other for one, other in pairwise(places))


def is_told_alike(page: Page) -> bool:
    """Of a note's page the ways on are looked at elsewhere: they lead both back and forth."""
    return isinstance(page.sheet, NoteSheet) or all(map(is_in_order, lists_of(page.sheet)))


def test_the_ledger_has_the_notes_as_they_are_told() -> None:
    """By the clock, then numbers as numbers, then what has but the date."""
    assert tuple(each.key for each in PUBLIC.notes)[:-1] == KEYS


def test_no_page_has_another_order() -> None:
    """Each list of each page goes through the day from its first note on, or from its last."""
    pages = list(all_pages(PUBLIC))
    assert [page.path for page in pages if not is_told_alike(page)] == []
    whole = {page.kind for page in pages for each in lists_of(page.sheet) if set(each) == {*KEYS}}
    assert whole >= {"archive", "month", "photos", "search", "milestones", "area", "task"}


def test_another_order_would_be_seen() -> None:
    """A ledger with two notes of the day exchanged is found out on many kinds of pages."""
    first, second, *others = PUBLIC.notes
    months = tuple(
        replace(each, notes=(second.key, first.key, *each.notes[2:]))
        if first.key in each.notes
        else each
        for each in PUBLIC.months
    )
    crossed = replace(PUBLIC, notes=(second, first, *others), months=months)
    found = {page.kind for page in all_pages(crossed) if not is_told_alike(page)}
    assert found >= {"archive", "month", "photos", "search", "milestones", "area", "task"}


def test_reading_on_goes_through_the_day() -> None:
    """Before and after, by task, in the feed and among the newest: always the same way."""
    pages = {page.path: page.sheet for page in all_pages(PUBLIC)}
    sheets = [pages[f"notes/{key}.html"] for key in KEYS]
    assert all(isinstance(sheet, NoteSheet) for sheet in sheets)
    for before, after in pairwise(sheets):
        assert isinstance(before, NoteSheet)
        assert isinstance(after, NoteSheet)
        assert before.later
        assert before.later.words == after.title
        assert [thread.later and thread.later.words for thread in before.threads][-1] == after.title
    notes = next(feed for feed in feeds(open_book(PUBLIC)) if feed.path == "notes.xml")
    told = [entry.page.removeprefix("notes/").removesuffix(".html") for entry in notes.entries]
    assert tuple(reversed(told))[:-1] == KEYS
    front = pages["index.html"]
    assert isinstance(front, FrontSheet)
    assert front.next_steps[0].text.startswith("next by")


def test_the_evening_is_newer_than_the_note_that_was_laid_out() -> None:
    """In a journal begun today the note without a title is the newest, and what it says is next."""
    laid_out = note("the-first-evening 0h30")
    tonight = note(" 2")
    front = next(
        page.sheet
        for page in all_pages(public_ledger(ledger(notes=(tonight, laid_out))))
        if isinstance(page.sheet, FrontSheet)
    )
    assert front.lead
    assert front.lead.link.words == tonight.path
    assert [row.link.words for row in front.newest] == [laid_out.path]
