"""A text's HTML in pieces: what is open in it, and what is the same on every page."""

from __future__ import annotations

import pytest

from builderlog.reading.prose import body_in
from builderlog.reading.prose_pieces import Hole, Piece

LINKED: tuple[Piece, ...] = ("<p>", Hole("link", "b.md"), "it", Hole("/link"), "</p>\n")


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("plain *words*", ("<p>plain <em>words</em></p>\n",)),
        ("[it](b.md)", LINKED),
        ("[](b.md 't')", ("<p>", Hole("bare link", "b.md", title="t"), Hole("/link"), "</p>\n")),
        ("a ![b *c*](d.jpg)", ("<p>a ", Hole("picture", "d.jpg", "b c"), "</p>\n")),
        (
            "![](d.jpg)",
            (Hole("pictures"), "<p>", Hole("picture", "d.jpg"), "</p>\n", Hole("/pictures")),
        ),
        ("## On", ("<", Hole("heading", words="2"), ">On</", Hole("/heading"), ">\n")),
        ("#\n\nwords", ("<p>words</p>\n",)),
        ("\0 1 \0", ("<p>\N{REPLACEMENT CHARACTER} 1 \N{REPLACEMENT CHARACTER}</p>\n",)),
    ],
)
def test_what_a_page_decides_stays_open(text: str, pieces: tuple[Piece, ...]) -> None:
    """Links, pictures and levels of headings are holes; no text can be taken for one."""
    assert body_in(text).below(has_heading=False) == pieces


def test_the_heading_that_became_the_title_can_be_left_out() -> None:
    """What stands below the first heading is the same with and without it."""
    body = body_in("# ![A](a.jpg)\n\n[it](b.md)\n\n![B](b.jpg)")
    assert body.below(has_heading=True)[: len(LINKED)] == LINKED
    assert body.below(has_heading=False)[-len(body.rest) :] == body.rest
    assert body.pictures(has_heading=False) == {"a.jpg", "b.jpg"}
    assert body.pictures(has_heading=True) == {"b.jpg"}
