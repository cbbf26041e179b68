"""The binder's pages from a dossier made by hand: every kind of block, hostile words, links."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from urllib.parse import unquote, urlsplit

import pytest

from builderlog.handover.binder import BINDER_FRONT, PICTURES_FOLDER, binder_pages, picture_paths
from builderlog.handover.binder_ink import FIRST_LINKS, MOST_LINKS
from builderlog.handover.print_pictures import print_size
from builderlog.sheets.chapter import (
    Bar,
    Bars,
    Bullets,
    Cell,
    Chapter,
    Column,
    Dossier,
    Paragraph,
    Pictures,
    Rows,
    anchor,
)
from builderlog.sheets.shelf import FileLink
from tests.drawing.page_reader import ReadPage, read_page
from tests.handover.made_binder import (
    BAGGED,
    HOSTILE,
    ODD_PATH,
    ODD_TASK,
    RENAMED,
    cell,
    made_dossier,
    made_ledger,
    note_links,
    photo_file,
    shown,
    table,
)

ALLOWED = set(
    "a b body caption col colgroup dd details div dl dt figcaption figure footer h1 h2 h3 head"
    " header html img li link main meta nav ol p section span summary table tbody td th thead title"
    " tr ul wbr svg defs pattern path rect".split()
)


def pages_of(dossier: Dossier) -> dict[str, ReadPage]:
    """The pages of a dossier by their path, read."""
    made = binder_pages(dossier, made_ledger(), {RENAMED: BAGGED})
    return {
        path: read_page(data.decode("utf-8"))
        for path, data in made.items()
        if path.endswith(".html")
    }


def page_of(*blocks: object) -> ReadPage:
    """The page of one chapter with these blocks."""
    chapter = Chapter("one", "One", blocks)  # type: ignore[arg-type]
    return pages_of(replace(made_dossier(), chapters=(chapter,)))["binder/one.html"]


def html_of(*blocks: object) -> str:
    """The same as it is written."""
    chapter = Chapter("one", "One", blocks)  # type: ignore[arg-type]
    made = binder_pages(replace(made_dossier(), chapters=(chapter,)), made_ledger(), {})
    return made["binder/one.html"].decode("utf-8")


def words_of(page: ReadPage) -> str:
    """All words with single blanks."""
    return " ".join(page.text.split())


def test_every_chapter_has_a_page_and_the_cover_is_the_front() -> None:
    """Each chapter is a file of its id; one that would be index.html makes way for the cover."""
    names = [*binder_pages(made_dossier(), made_ledger(), {})]
    assert names == [
        f"binder/{name}"
        for name in (
            *("binder.css", "index.html", "claim.html", "area-w.html", "visits.html"),
            *("contact.html", "index.1.html"),
        )
    ]


def test_every_page_is_well_formed() -> None:
    """One heading of the first level, none that skips a level, unique ids, every tag closed."""
    for path, page in pages_of(made_dossier()).items():
        levels = [level for level, _ in page.headings]
        assert levels[0] == 1, path
        assert levels.count(1) == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels)), path
        assert len(set(page.ids)) == len(page.ids), path
        assert page.unclosed == [], path


def test_every_link_leads_somewhere() -> None:
    """Links inside the binder find their page and the place there; all others lead into the bag."""
    pages = pages_of(made_dossier())
    beside = {"../dossier.pdf", "../READ ME FIRST.txt"}
    for path, page in pages.items():
        for url in page.urls:
            parts = urlsplit(url)
            target = unquote(parts.path)
            assert (parts.scheme, parts.netloc, parts.query) == ("", "", ""), url
            if target.startswith("../"):
                assert target in beside or target.startswith("../data/"), url
            elif target.endswith(".html") or not target:
                there = pages[f"binder/{target}" if target else path]
                assert not parts.fragment or there.ids.count(unquote(parts.fragment)) == 1, url
            else:
                assert target == "binder.css" or target.startswith("pictures/"), url


def test_names_of_files_are_quoted_and_those_of_the_bag() -> None:
    """Blanks, quotes, `%`, `#`, `?` and accents reach the file; a changed name is the bag's own."""
    urls = set(pages_of(made_dossier())["binder/area-w.html"].urls)
    files = {unquote(url) for url in urls if url.startswith("../data/")}
    assert f"../data/{ODD_PATH}" in files
    assert f"../data/{BAGGED}" in files
    assert f"../data/{RENAMED}" not in files


def test_hostile_words_are_no_markup() -> None:
    """Signs of HTML in every place where words may stand are shown as they were written."""
    for path, page in pages_of(made_dossier()).items():
        assert {tag for tag, _ in page.elements} <= ALLOWED, path
        assert not [name for _, each in page.elements for name in each if name.startswith("on")]
    page = pages_of(made_dossier())["binder/visits.html"]
    assert words_of(page).count(HOSTILE) > 20
    alts = [attributes["alt"] for tag, attributes in page.elements if tag == "img"]
    assert alts == [HOSTILE]


@pytest.mark.parametrize("words", ["", " ", "\u202e\u0000", "\ud7ff\U0010ffff", "a\nb", "ﬁ" * 5000])
def test_no_words_break_a_page(words: str) -> None:
    """Nothing, blanks, odd characters, very long words: the pages are as well formed."""
    for path, page in pages_of(made_dossier(words)).items():
        assert page.unclosed == [], path
        assert page.headings[0][0] == 1, path


def test_the_same_dossier_gives_the_same_bytes() -> None:
    """Made twice, not a byte differs; each page ends with its last tag, and has no CR."""
    made = binder_pages(made_dossier(), made_ledger(), {RENAMED: BAGGED})
    assert binder_pages(made_dossier(), made_ledger(), {RENAMED: BAGGED}) == made
    html = [data for path, data in made.items() if path.endswith(".html")]
    assert all(data.endswith(b"</html>\n") and b"\r" not in data for data in html)


def test_nothing_is_fetched_and_no_script_stands_on_a_page() -> None:
    """No address of any network in a page or the style sheet, and no script."""
    for path, data in binder_pages(made_dossier(""), made_ledger(), {}).items():
        assert b"://" not in data, path
        assert b"<script" not in data, path
        assert not re.search(rb"url\((?!#)|@import", data), path


def test_a_task_is_two_steps_away_from_every_page() -> None:
    """Each page leads to all chapters; the front page and the area's own list each task."""
    pages = pages_of(made_dossier())
    for path, page in pages.items():
        named = {url for url in page.urls if "/" not in url and "#" not in url}
        assert named >= {"claim.html", "area-w.html", "visits.html"}, path
    assert f"area-w.html#{anchor(ODD_TASK)}" in pages[BINDER_FRONT].urls
    assert f"#{anchor('W14')}" in pages["binder/area-w.html"].urls
    assert f"area-w.html#{anchor('W14')}" in pages["binder/index.1.html"].urls


def test_pages_are_turned_like_leaves() -> None:
    """From the front page `next` leads through every page to the last, and `prev` back."""
    pages = {path.removeprefix("binder/"): page for path, page in pages_of(made_dossier()).items()}
    way, name = [], "index.html"
    while name:
        way.append(name)
        turns = {each["rel"]: each["href"] for _, each in pages[name].elements if "rel" in each}
        if len(way) > 1:
            assert turns["prev"] == way[-2]
        name = turns.get("next", "")
    assert way == [*pages]


def test_the_page_that_is_open_is_marked() -> None:
    """In both lists of the contents the open chapter alone is the current page."""
    page = pages_of(made_dossier())["binder/visits.html"]
    current = [each["href"] for _, each in page.elements if "aria-current" in each]
    assert current == ["visits.html", "visits.html"]


def test_the_foot_stands_on_every_page() -> None:
    """What the record does not claim, its date and the way to check it are on each page."""
    for path, page in pages_of(made_dossier()).items():
        assert "It grants nothing." in words_of(page), path
        assert "Reckoned on 2026-04-20" in words_of(page), path
        assert "../READ%20ME%20FIRST.txt" in page.urls, path


def test_a_record_without_a_date_names_none() -> None:
    """Where nothing in the record has a date the pages say none."""
    page = pages_of(replace(made_dossier(), record_date=""))[BINDER_FRONT]
    assert "Reckoned" not in words_of(page)


def test_pictures_say_their_size_and_lead_to_the_original() -> None:
    """Width and height are those of the copy, it loads when it is reached, and has words."""
    page = pages_of(made_dossier())["binder/area-w.html"]
    images = [each for tag, each in page.elements if tag == "img"]
    width, height = print_size(4000, 3000, small=False)
    assert images[0] == {
        "src": "pictures/0001.jpg",
        "alt": "Picture 1",
        "width": str(width),
        "height": str(height),
        "loading": "lazy",
    }
    small = [each for tag, each in pages_of(made_dossier())["binder/contact.html"].elements]
    assert [each["src"] for each in small if "src" in each] == [
        "pictures/0001-small.jpg",
        "pictures/0002-small.jpg",
    ]


def test_a_picture_that_cannot_be_drawn_is_named() -> None:
    """A torn file is no broken image: its path is a link, and its words stand there."""
    page = pages_of(made_dossier())["binder/area-w.html"]
    assert "../data/photos/torn.jpg" in page.urls
    assert "photos/torn.jpg (it cannot be shown as a picture)" in words_of(page)
    assert not [url for url in page.urls if "0003" in url]


def test_the_pictures_of_all_pages_are_listed() -> None:
    """`picture_paths` names exactly what the pages show."""
    pages = pages_of(made_dossier())
    urls = {f"binder/{url}" for page in pages.values() for url in page.urls}
    found = {url for url in urls if url.startswith(PICTURES_FOLDER)}
    assert found == picture_paths(made_dossier(), made_ledger())
    assert len(found) == 4


def test_a_picture_that_the_ledger_does_not_know_is_named_too() -> None:
    """A chapter that shows a path of no picture gives a page and no picture's name."""
    page = page_of(Pictures((shown(9, "photos/strange.jpg"),)))
    assert "../data/photos/strange.jpg" in page.urls
    assert not [url for url in page.urls if url.startswith("pictures/")]


@pytest.mark.parametrize("number", [1, FIRST_LINKS, FIRST_LINKS + 1, MOST_LINKS, MOST_LINKS + 7])
@pytest.mark.parametrize("kind", ["cell", "paragraph", "table"])
def test_many_links_fold(kind: str, number: int) -> None:
    """Ten links stand open, more fold out, and beyond a hundred the page counts the rest."""
    links = note_links(number)
    blocks = {
        "cell": Bullets((Cell("Words", links),)),
        "paragraph": Paragraph("Words", links=links),
        "table": Rows("All", (Column("a"), Column("b")), ((cell("x"), Cell("", links)),)),
    }
    page = page_of(blocks[kind])
    assert sum(url.startswith("../data/notes") for url in page.urls) == min(number, MOST_LINKS)
    tags = Counter(tag for tag, _ in page.elements)
    assert tags["details"] == 1 + (number > FIRST_LINKS)
    told = words_of(page)
    assert (f"and {number - FIRST_LINKS} more" in told) is (number > FIRST_LINKS)
    assert ("7 more, which the tables name" in told) is (number > MOST_LINKS)
    assert page.unclosed == []


def test_nothing_folds_inside_a_paragraph() -> None:
    """HTML lets no `details` stand in a `p` or a `span`: a browser would close them before it."""
    html = html_of(
        Paragraph("Words", links=note_links(30)), Bullets((Cell("Words", note_links(30)),))
    )
    for tag in ("p", "span"):
        assert not [each for each in re.findall(rf"<{tag}\b.*?</{tag}>", html) if "details" in each]


def test_a_file_that_is_not_there_is_named_without_a_link() -> None:
    """A `FileLink` without a path gives its words alone."""
    page = page_of(Bullets((Cell("", (FileLink("lost.pdf", ""),)),)))
    assert "lost.pdf" in words_of(page)
    assert not [url for url in page.urls if "lost" in url or url.endswith("data/")]


def test_a_link_to_nowhere_is_words() -> None:
    """An id that no chapter or section has gives no link that leads nowhere."""
    page = page_of(Bullets((cell("Words", "no-such-place"),)))
    assert "Words" in words_of(page)
    assert not [url for url in page.urls if "no-such-place" in url]


def test_tables_say_which_cell_is_what() -> None:
    """Headings have their scope, each row is headed by its first cell, sums are marked."""
    page = page_of(table("Numbers", 7, 3, numbers=True))
    scopes = Counter(each["scope"] for tag, each in page.elements if tag == "th")
    assert scopes == {"col": 7, "row": 3}
    numbers = [each for tag, each in page.elements if tag == "td"]
    assert [each.get("class") for each in numbers] == ["number"] * 18
    assert [each.get("class") for tag, each in page.elements if tag == "tr"] == [
        *(None, None, None, "sums"),
    ]


def test_a_wide_table_can_be_pushed_by_keyboard() -> None:
    """From five columns a table stands in a frame that has a name and takes the focus."""
    for columns in (2, 4, 5, 9):
        frames = [
            each
            for _, each in page_of(table("All help", columns, 2)).elements
            if "tabindex" in each
        ]
        assert len(frames) == (columns >= 5)
        assert all(each["aria-label"] == "All help: One" for each in frames)


def test_rows_of_words_name_their_columns_on_a_telephone() -> None:
    """In a table of words each cell carries its heading; in one of numbers none needs it."""
    words = page_of(table("Words", 4, 2))
    labels = [each.get("data-label") for tag, each in words.elements if tag == "td"]
    assert labels == ["Column/1", "Column/2", "Column/3"] * 2
    numbers = page_of(table("Numbers", 4, 2, numbers=True))
    assert not [each for _, each in numbers.elements if "data-label" in each]


def test_an_empty_table_says_so_in_words() -> None:
    """Without a row there is a sentence and no table; without a sentence there is nothing."""
    assert "Nothing is on record." in words_of(page_of(table("Empty", 3, 0)))
    page = page_of(replace(table("Empty", 3, 0), empty=""))
    assert not {"table", "caption"} & {tag for tag, _ in page.elements}


def test_bars_are_on_one_scale_with_their_numbers_beside() -> None:
    """The longest bar is the whole width, the others their part of it, and all are in words."""
    chart = Bars(
        "Hours", (Bar("One", 300, "3 h", (100, 200)), Bar("Two", 100, "1 h"), Bar("x", 0, "-"))
    )
    page = page_of(chart)
    rects = [each for tag, each in page.elements if tag == "rect"]
    assert [(each["x"], each["width"]) for each in rects] == [
        ("0.0%", "33.3%"),
        ("33.3%", "66.7%"),
        ("0.0%", "33.3%"),
    ]
    assert all(word in words_of(page) for word in ("Hours", "One", "3 h", "Two", "1 h"))
    assert len({each["fill"] for each in rects}) == 2


def test_hatches_of_bars_are_on_the_page() -> None:
    """Every hatch that a bar or a legend uses is drawn on its page, also below a section."""
    for path, page in pages_of(made_dossier()).items():
        used = {each["fill"][5:-1] for _, each in page.elements if "fill" in each}
        assert used <= set(page.ids), path


def test_only_pages_with_bars_carry_hatches() -> None:
    """A page without a chart has no drawing on it."""
    assert "svg" not in {tag for tag, _ in page_of(Paragraph("Words")).elements}


def test_room_to_write_is_as_long_as_asked() -> None:
    """A ruled line stands for each label, and empty ones for remarks."""
    html = pages_of(made_dossier())["binder/claim.html"]
    assert all(word in words_of(html) for word in ("Name", "Signature", "Date"))
    assert sum(each.get("class") == "empty" for _, each in html.elements) == 4


def test_dates_and_percentages_are_kept_on_one_line() -> None:
    """A date is wrapped whole, a percent sign keeps to its number; longer digits are no date."""
    html = html_of(Paragraph("On 2026-03-14, 57 % of 12026-03-14."))
    assert '<span class="day">2026-03-14</span>, 57\N{NO-BREAK SPACE}% of 12026-03-14.' in html


def test_photo_files_alone_decide_the_size() -> None:
    """Pages are made of the facts of a picture, so that no drawn file is needed to make them."""
    ledger = made_ledger()
    upright = replace(photo_file(ODD_PATH), width_px=300, height_px=400)
    changed = replace(ledger.pictures[0], file=upright)
    made = binder_pages(made_dossier(), replace(ledger, pictures=(changed,)), {})
    width, height = print_size(300, 400, small=False)
    assert f'width="{width}" height="{height}"' in made["binder/area-w.html"].decode()
