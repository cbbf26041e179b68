"""Long chapters are cut into pages: nothing is lost, nothing is twice, every link still leads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.handover.binder import binder_pages
from builderlog.handover.binder_parts import (
    CONTINUED,
    PAGE_WEIGHT,
    cut,
    page_name,
    parts_of,
    sections_of,
    weight_of,
)
from builderlog.sheets.chapter import (
    Bar,
    Bars,
    Blanks,
    Block,
    Bullets,
    Chapter,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
)
from tests.drawing.page_reader import read_page
from tests.handover.made_binder import cell, made_dossier, made_ledger, shown, table

LEAVES = (
    st.builds(Paragraph, st.text(max_size=3))
    | st.builds(table, st.just("t"), st.just(2), st.integers(0, 40))
    | st.integers(0, 40).map(lambda n: Pictures(tuple(shown(i, f"{i}.jpg") for i in range(n))))
    | st.integers(0, 40).map(lambda n: Facts(tuple((str(i), cell("x")) for i in range(n))))
    | st.integers(0, 40).map(lambda n: Bullets(tuple(cell(str(i)) for i in range(n))))
    | st.just(Bars("b", (Bar("x", 1, "1"),)))
    | st.just(Blanks(("Name",), 2))
)
BLOCKS = st.recursive(
    LEAVES,
    lambda inner: st.builds(
        Section, st.uuids().map(str), st.text(max_size=3), st.lists(inner, max_size=5).map(tuple)
    ),
    max_leaves=12,
)


def leaves_of(blocks: Iterable[Block]) -> list[object]:
    """All that stands in the blocks, in order, however it is cut; headings left out."""
    found: list[object] = []
    for block in blocks:
        match block:
            case Section():
                found += leaves_of(block.blocks)
            case Rows() | Facts():
                found += block.rows
            case Pictures() | Bullets():
                found += block.items
            case _:
                found.append(block)
    return found


@given(st.lists(BLOCKS, max_size=6), st.integers(20, 60))
def test_nothing_is_lost_or_twice(blocks: list[Block], most: int) -> None:
    """Whatever is cut: all rows, pictures and sentences stand there once, in their order."""
    pages = cut(blocks, most, most - 8)
    whole = [block for page in pages for block in page]
    assert leaves_of(whole) == leaves_of(blocks)
    assert [each.id for each in sections_of(whole)] == [each.id for each in sections_of(blocks)]


@given(st.lists(BLOCKS, max_size=6))
def test_no_page_is_too_heavy(blocks: list[Block]) -> None:
    """A page weighs at most what it may, save that one thing that cannot be cut is alone on it."""
    for page in cut(blocks, 60, 50):
        assert sum(map(weight_of, page)) <= 60


def test_what_fits_is_not_cut() -> None:
    """A chapter of ordinary length is one page, as it was."""
    assert [part.blocks for part in parts_of(made_dossier())] == [
        chapter.blocks for chapter in (made_dossier().cover, *made_dossier().chapters)
    ]


def test_sums_stay_with_the_last_rows() -> None:
    """The sums of a table stand below its last rows alone, and count as sums there."""
    pages = cut([table("t", 2, 100)], 40, 30)
    sums = [block.sums for page in pages for block in page if isinstance(block, Rows)]
    assert sums == [0, 0, 0, 1]


def test_a_section_that_goes_on_says_so() -> None:
    """The first part keeps id and standing; those that follow say that they continue it."""
    section = Section("a", "Title", (table("t", 2, 100),), aside="done")
    found = [block for page in cut([section], 40, 30) for block in page]
    assert all(isinstance(block, Section) for block in found)
    told = [(each.id, each.title, each.aside) for each in found if isinstance(each, Section)]
    assert told[0] == ("a", "Title", "done")
    assert set(told[1:]) == {("", f"Title{CONTINUED}", "")}


@pytest.mark.parametrize(("one", "other"), [("photos", "photos-2"), ("a", "a-1"), ("index", "1")])
def test_no_two_chapters_share_a_page(one: str, other: str) -> None:
    """The second page of one chapter is never the first of another with a like name."""
    names = [page_name(chapter, number) for chapter in (one, other) for number in range(1, 12)]
    assert len(set(names)) == len(names)
    assert "index.html" not in names


def test_a_photo_index_of_thousands_is_many_pages() -> None:
    """Pages of twenty thousand rows and pictures are of a bearable size, and are linked."""
    pictures = Pictures(tuple(shown(at, f"{at}.jpg") for at in range(1, 5001)), small=True)
    chapters = (
        Chapter("photos", "Photo index", (Paragraph("All."), table("Index", 7, 5000))),
        Chapter("contact", "Contact sheets", (Section("c", "By number", (pictures,)),)),
        Chapter("last", "Last", (Bullets((cell("there", "c"), cell("index", "photos"))),)),
    )
    made = binder_pages(replace(made_dossier(), chapters=chapters), made_ledger(), {})
    assert len(made) > 12
    assert max(map(len, made.values())) < 500_000
    page = read_page(made["binder/photos.2.html"].decode())
    assert page.headings[0] == (1, "Photo index")
    assert f"Page 2 of {sum(path.startswith('binder/photos') for path in made)}" in page.text
    assert {"photos.html", "photos.3.html", "contact.html"} <= set(page.urls)
    last = read_page(made["binder/last.html"].decode())
    assert {"contact.html#c", "photos.html"} <= set(last.urls)


def test_the_links_between_parts_say_with_what_each_begins() -> None:
    """Each part is called by its first section, row or picture."""
    rows = table("Index", 7, PAGE_WEIGHT * 2)
    parts = parts_of(replace(made_dossier(), chapters=(Chapter("p", "P", (rows,)),)))[1:]
    assert [part.begins for part in parts] == ["Row 0", "Row 999", "Row 1998"]
    pictures = Pictures(tuple(shown(at, f"{at}.jpg") for at in range(1, 1001)), small=True)
    parts = parts_of(replace(made_dossier(), chapters=(Chapter("p", "P", (pictures,)),)))[1:]
    assert [part.begins for part in parts] == ["picture 1", "picture 501"]
