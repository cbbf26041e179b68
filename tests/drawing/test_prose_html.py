"""Holds how a note's Markdown stands on its page; how Markdown is read is held elsewhere."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.drawing.prose_html import Surroundings, prose_html
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Day, Link, Photo
from tests.drawing.page_reader import read_page

DAY = Day("2026-03-14", "Saturday 14 March 2026", "14 March 2026", "14 Mar 2026")
NOTE = Link("A note", "notes/a.html")
PHOTO = Photo("5" * 64, "Its caption", "Its caption", DAY, NOTE)
LINKS = (
    ProseLink("p.jpg", photo=PHOTO),
    ProseLink("a.md", page=NOTE),
    ProseLink("no.pdf"),
    ProseLink("https://listed.example/", None, None),
)
AROUND = Surroundings(
    url=lambda path: f"../{path}",
    image=lambda photo: f'<img src="small" alt="{photo.alt}">',
    large=lambda photo: f"large-{photo.digest[:2]}",
)
IMAGE = '<a href="large-55"><img src="small" alt="{}"></a>'


def html_of(text: str, *, has_heading: bool = False) -> str:
    """The prose as HTML, without the line end that closes it."""
    return str(prose_html(ProseText(text, LINKS, has_heading), AROUND)).rstrip("\n")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("[see](a.md)", '<p><a href="../notes/a.html">see</a></p>'),
        ("[the *receipt*](no.pdf)", "<p>the <em>receipt</em></p>"),
        ("![the receipt](no.pdf)", "<p>the receipt</p>"),
        ("[pic](p.jpg)", '<p><a href="large-55">pic</a></p>'),
        ("[lost](gone.md)", "<p>lost</p>"),
        ("[x](//host.example/a)", "<p>x</p>"),
        ("[x](javascript:alert(1))", "<p>x</p>"),
        ("[x](JaVaScRiPt:alert(1))", "<p>x</p>"),
        ("[x](data:text/html,hi)", "<p>x</p>"),
        ("[x](file:///etc/passwd)", "<p>x</p>"),
        ("[x](http:no-host)", "<p>x</p>"),
        ("[x](http://[half/)", "<p>x</p>"),
        ("[x](https://listed.example/)", "<p>x</p>"),
        (
            "[x](https://a.example/?q=1&r)",
            '<p><a href="https://a.example/?q=1&amp;r" rel="noopener noreferrer">x</a></p>',
        ),
        (
            "<mailto:a@b.example>",
            '<p><a href="mailto:a@b.example" rel="noopener noreferrer">mailto:a@b.example</a></p>',
        ),
        (
            "[](https://a.example/)",
            '<p><a href="https://a.example/" rel="noopener noreferrer">https://a.example/</a></p>',
        ),
        (
            "![a map](https://a.example/m.png)",
            '<p><a href="https://a.example/m.png" rel="noopener noreferrer">a map</a></p>',
        ),
        (
            "![](https://a.example/m)",
            '<p><a href="https://a.example/m" rel="noopener noreferrer">https://a.example/m</a></p>',
        ),
        (
            '![m](<https://a.example/"onload=x>)',
            '<p><a href="https://a.example/%22onload=x" rel="noopener noreferrer">m</a></p>',
        ),
    ],
)
def test_links_become_what_they_are(text: str, expected: str) -> None:
    """Pages and the web stay links, pictures of others become words, the rest is unlinked."""
    assert html_of(text) == expected


def test_a_picture_alone_is_a_figure() -> None:
    """A paragraph of pictures becomes figures with the Markdown's words, else the caption."""
    one = html_of("![words](p.jpg)")
    assert one == f"<figure>{IMAGE.format('words')}<figcaption>words</figcaption></figure>"
    two = html_of("![](p.jpg)\n![words](p.jpg)")
    caption = "<figcaption>Its caption</figcaption>"
    assert two == f"<figure>{IMAGE.format('Its caption')}{caption}</figure>\n{one}"


def test_a_picture_amid_words_stays_in_them() -> None:
    """Within a sentence a picture is a linked image; within a link it gets no link of its own."""
    assert html_of("so ![w](p.jpg) it is") == f"<p>so {IMAGE.format('w')} it is</p>"
    linked = html_of("[![w](p.jpg)](a.md)")
    assert linked == '<p><a href="../notes/a.html"><img src="small" alt="w"></a></p>'
    assert html_of("[![w](p.jpg)](no.pdf)") == f"<p>{IMAGE.format('w')}</p>"


def test_a_picture_in_a_tight_list_makes_no_block() -> None:
    """A list item of one picture holds an image and no figure that would tear the list."""
    assert html_of("- ![w](p.jpg)") == f"<ul>\n<li>{IMAGE.format('w')}</li>\n</ul>"


@pytest.mark.parametrize(
    ("text", "levels"),
    [
        ("# A\n## B\n# C", [2, 3, 2]),
        ("### A\n###### B\n# C\n###### D", [2, 3, 2, 3]),
        ("## A\n#### B\n### C\n## D", [2, 3, 3, 2]),
        ("# A\n## B\n### C\n#### D\n##### E\n###### F", [2, 3, 4, 5, 6, 6]),
        ("> # A\n\n- ## B", [2, 3]),
        ("A\n===\n\n#\n\nB\n---", [2, 3]),
    ],
)
def test_headings_begin_below_the_title(text: str, levels: list[int]) -> None:
    """The first heading is an h2, none skips a level, and one without words is left out."""
    assert [level for level, _ in read_page(html_of(text)).headings] == levels


def test_the_heading_that_is_the_title_is_left_out() -> None:
    """Where the first heading became the page's title it does not stand twice."""
    assert html_of("# Title\n\nWords.", has_heading=True) == "<p>Words.</p>"


@given(st.lists(st.integers(1, 6), min_size=1, max_size=12))
def test_no_order_of_headings_skips_a_level(written: list[int]) -> None:
    """Whatever levels are written, each heading is at most one deeper than the one before."""
    text = "\n\n".join(f"{'#' * level} words" for level in written)
    levels = [level for level, _ in read_page(html_of(text)).headings]
    assert len(levels) == len(written)
    assert all(after <= before + 1 for before, after in zip([1, *levels], levels, strict=False))


def test_alignment_is_a_class() -> None:
    """A table's alignment needs no inline style, which the page's policy forbids."""
    html = html_of("| a | b |\n|--:|:-:|\n| 1 | 2 |")
    assert "style" not in html
    assert '<td class="right">1</td>' in html
    assert '<th class="center">b</th>' in html


def test_raw_html_is_words() -> None:
    """HTML in a note is shown as written and does nothing."""
    assert html_of("<script>x</script>") == "<p>&lt;script&gt;x&lt;/script&gt;</p>"
    assert "<b" not in html_of("a <b onclick=x>b</b>")


@given(st.text(st.sampled_from("![]()<>\"'`*_#-| \nab:/.&"), max_size=40))
def test_no_text_breaks_out_of_its_place(text: str) -> None:
    """Whatever stands in a note, its elements close and none of them is a script."""
    page = read_page(html_of(text))
    assert page.unclosed == []
    assert "script" not in {tag for tag, _ in page.elements}
    for _, attributes in page.elements:
        assert not {name for name in attributes if name.startswith("on") or name == "style"}


@pytest.mark.parametrize(
    ("text", "opened"),
    [
        ("![](p.jpg)", 1),
        ("See ![it](p.jpg) and [it](p.jpg).", 2),
        ("[![it](p.jpg)](p.jpg)", 1),
        ("[see](a.md)", 0),
        ("[![it](p.jpg)](a.md)", 0),
        ("[out](https://a.example/)", 0),
    ],
)
def test_links_to_pictures_tell_their_size(text: str, opened: int) -> None:
    """Where a script may open pictures, a link to one tells how large it is, and no other does."""
    around = replace(AROUND, size=lambda photo: f"{len(photo.digest)} 48")
    html = str(prose_html(ProseText(text, LINKS, has_heading=False), around))
    assert html.count(' data-large="64 48"') == html.count("data-large") == opened
