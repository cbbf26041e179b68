"""Holds what the search finds, what it shows of it, and that it knows no more than the pages."""

from __future__ import annotations

import posixpath
from dataclasses import replace

import pytest

from builderlog.deciding.public import PublicLedger, PublicLetter
from builderlog.deciding.search_words import search_words
from builderlog.sheets.search import SearchEntry, SearchSheet
from builderlog.sheets.search_index import entries_in
from builderlog.sheets.site import all_pages
from tests.drawing.made_public import EMPTY, FIRST, PUBLIC, SECOND, drawn, with_prose
from tests.drawing.page_reader import read_page


def search_of(public: PublicLedger = PUBLIC) -> SearchSheet:
    """The sheet of the search of a site."""
    (sheet,) = (page.sheet for page in all_pages(public) if isinstance(page.sheet, SearchSheet))
    return sheet


def entries_of(sheet: SearchSheet) -> list[SearchEntry]:
    """All entries in the order in which the index counts them."""
    return [entry for group in sheet.groups for entry in group.entries]


def found(word: str, public: PublicLedger = PUBLIC) -> set[str]:
    """The labels of the entries that have a word, whole."""
    sheet = search_of(public)
    entries = entries_of(sheet)
    return {entries[at].label for at in entries_in(sheet.index).get(word, ())}


def test_everything_is_listed_by_kind() -> None:
    """Areas, tasks, months, parts and notes stand in their groups, notes last, newest first."""
    sheet = search_of()
    assert sheet.count == "1 area, 3 tasks, 3 months, 2 parts and 2 notes"
    labels = {group.kind: [entry.label for entry in group.entries] for group in sheet.groups}
    assert labels["area"] == ["Area W"]
    assert labels["task"] == ["Task W14", "Task W15", "Task W16"]
    assert labels["note"] == ["Note 2", "Note 1"]
    assert labels["part"] == ["Part", "Part"]
    (parts,) = (group.entries for group in sheet.groups if group.kind == "part")
    assert [entry.facts for entry in parts] == [("fitted", "12 pieces"), ("ordered",)]


@pytest.mark.parametrize(
    ("word", "where"),
    [
        ("straight", {"Note 1"}),  # the text
        ("heading", {"Note 1"}),  # further down
        ("skins", {"Note 1", "Note 2"}),  # the title, and the words of a link to it
        ("w14", {"Note 1", "Task W14", "Month", "Part"}),  # the id of a task
        ("wings", {"Area W", "Task W14", "Task W15", "Task W16", "Note 1", "Month"}),
        ("an3", {"Note 1", "Part"}),
        ("an35a", {"Note 1", "Part"}),  # as it is typed in haste
        ("clecos", {"Note 1"}),  # a caption
        ("dimple", {"Note 1"}),  # what is next
        ("arm", {"Note 1"}),  # why it was so decided
        ("edge", {"Note 1"}),  # measured
        ("counsellor", {"Note 2"}),  # a visit
        ("march", {"Note 1", "Month"}),
        ("saturday", {"Note 1", "Note 2"}),
        ("2026", {"Note 1", "Note 2", "Month"}),
        ("href", set()),  # no markup
        ("md", set()),  # no target of a link
    ],
)
def test_what_is_found_by_a_word(word: str, where: set[str]) -> None:
    """A word is found wherever the pages say it, and nowhere else."""
    assert found(word) == where


def test_a_letter_is_found_by_its_month() -> None:
    """The builder's words to friends belong to the month that shows them."""
    letter = PublicLetter("2026-04", "Quiet", None, "We *waited* for glue.", ())
    public = replace(PUBLIC, letters=(letter,))
    assert found("glue", public) == {"Month"}
    sheet = search_of(public)
    (at,) = entries_in(sheet.index)["waited"]
    assert entries_of(sheet)[at].link.words == "April 2026"


def test_a_journal_without_notes_has_no_search() -> None:
    """Where nothing was written there is nothing to be found, and nothing leads to it."""
    pages = list(all_pages(EMPTY))
    assert not [page for page in pages if page.kind == "search"]
    assert not [link for page in pages for link in page.chrome.nav if link.path == "search.html"]


def test_the_search_knows_no_more_than_the_pages() -> None:
    """Each word that an entry is found by stands on the page it leads to, or on its own line."""
    assert words_too_many(PUBLIC) == []


def test_the_guard_bites(monkeypatch: pytest.MonkeyPatch) -> None:
    """A word that goes into the index without being on a page is caught."""
    monkeypatch.setattr("builderlog.sheets.search.all_words", lambda text: f"{text} sesame")
    public = with_prose("Other words, so that nothing is remembered from before.")
    assert ("Note 2", "sesame") in words_too_many(public)


def words_too_many(public: PublicLedger) -> list[tuple[str, str]]:
    """Words of the index that stand neither on the entry's page nor in the entry: label, word."""
    site, sheet = drawn(public), search_of(public)
    entries = entries_of(sheet)
    said = [words_on_page(site, entry) for entry in entries]
    return [
        (entries[at].label, word)
        for word, numbers in entries_in(sheet.index).items()
        for at in numbers
        if word not in said[at]
    ]


def words_on_page(site: dict[str, bytes], entry: SearchEntry) -> set[str]:
    """The words of the page that an entry leads to, of what it names elsewhere, and its own."""
    page = read_page(site[entry.link.path].decode().replace("<", " <"))
    attributes = (
        values[name]
        for _, values in page.elements
        for name in ("alt", "datetime", "href")
        if name in values
    )
    led = (words for words in map(posixpath.basename, attributes))
    own = "\n".join((page.text, *led, entry.label, *entry.facts, entry.opening))
    return {*search_words(own), *search_words("\n".join(NAMES.get(entry.label, ())))}


# Names that an entry is found by although its page only leads to them: the area of its tasks.
NAMES = {
    "Note 1": ("W Wings", "W14"),
    "Month": ("W Wings", "Task W14, Task W15", "2026-03 2026-04 2026-05"),
    "Task W14": ("W",),
    "Part": ("W14",),
}


def test_titles_text_and_facts_are_shown() -> None:
    """A note's line has its day, its time, its pictures and tasks, and its first words."""
    entry = next(entry for entry in entries_of(search_of()) if entry.label == "Note 1")
    assert entry.link.path == f"notes/{FIRST.key}.html"
    assert entry.facts == (
        "14 March 2026",
        "3\xa0h\xa015\xa0min",
        "2 pictures",
        "Task W14",
        "Task W15",
    )
    assert entry.opening == "The trailing edge came out straight."


def test_parts_of_one_name_have_places_of_their_own() -> None:
    """Two parts of one name lead to two places on the page of the parts, and both are there."""
    public = replace(PUBLIC, parts=(*PUBLIC.parts, PUBLIC.parts[1]))
    parts = next(group for group in search_of(public).groups if group.kind == "part")
    anchors = [entry.anchor for entry in parts.entries]
    assert anchors == ["#part-an3-5a-bolt", "#part-hinge", "#part-hinge-2"]
    ids = read_page(drawn(public)["parts.html"].decode()).ids
    assert {anchor[1:] for anchor in anchors} <= set(ids)


def test_a_second_note_counts_from_the_oldest() -> None:
    """The number of a note in the search is the one that its page carries."""
    entry = next(entry for entry in entries_of(search_of()) if entry.link.words == SECOND.title)
    assert entry.label == "Note 2"
