"""Links and pictures in a note's words, each with its line."""

from __future__ import annotations

import pytest

from builderlog.reading.prose import (
    ProseLink,
    all_words,
    first_heading,
    links_in,
    opening_words,
)


@pytest.mark.parametrize(
    ("text", "links"),
    [
        ("![Skins](a.jpg)", [("image", "a.jpg", "Skins", 1)]),
        ("one\ntwo [x **y**](b.md)\n", [("link", "b.md", "x y", 2)]),
        ("[![A](a.jpg)](b.md)", [("link", "b.md", "A", 1), ("image", "a.jpg", "A", 1)]),
        (
            "<https://example.org/x>",
            [("link", "https://example.org/x", "https://example.org/x", 1)],
        ),
        ("see [x][r]\n\n[r]: c%20d.md", [("link", "c%20d.md", "x", 1)]),
        ("- a\n- b\n  [x](c.md)", [("link", "c.md", "x", 3)]),
        ("> q\n> [x](c.md)", [("link", "c.md", "x", 2)]),
        ("# h\n\n| a | b |\n|---|---|\n| [x](c.md) | y |", [("link", "c.md", "x", 5)]),
        ("a\r\n[x](c.md)\r\rb\r[y](d.md)", [("link", "c.md", "x", 2), ("link", "d.md", "y", 5)]),
        ("[x](javascript:alert(1))", [("link", "javascript:alert(1)", "x", 1)]),
        ("[x](data:text/html,y) ![z](data:image/png;base64,AA==)", None),
        ("`[x](a.md)` and \\[y](b.md)", []),
        ("<a href='a.md'>x</a> <img src=b.jpg>", []),
    ],
)
def test_links_are_found(text: str, links: list[tuple[str, str, str, int]] | None) -> None:
    """Every link and picture of CommonMark is found with its line; raw HTML and code have none."""
    found = [(link.kind, link.target, link.words, link.line) for link in links_in(text)]
    if links is None:
        assert [target.partition(":")[0] for _, target, _, _ in found] == ["data", "data"]
    else:
        assert found == links


def test_many_links_in_one_paragraph_keep_their_lines() -> None:
    """A paragraph of thousands of links gives each of them its own line."""
    links = links_in("".join(f"[w{index}](a.md)\n" for index in range(3_000)))
    assert links == tuple(
        ProseLink("link", "a.md", f"w{index}", index + 1) for index in range(3_000)
    )


def test_the_first_heading_is_a_title_only_at_the_top() -> None:
    """Only a heading of the first level at the very beginning is a title."""
    assert first_heading("# Skins *on*\n\nx") == "Skins on"
    assert first_heading("Skins\n=====\n") == "Skins"
    assert first_heading("x\n\n# Skins") is None
    assert first_heading("## Skins") is None
    assert first_heading("") is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("It *went* on\nat once.\n\nMore.", "It went on at once."),
        ("# Skins `on`\n\nMore.", "Skins on"),
        ("1. First [link](a.md)\n2. Second", "First link"),
        ("![A picture](a.jpg)\n\nAfter it.", "After it."),
        ("***\n\n> Said <b>he</b>", "Said <b>he</b>"),
        ("```\ncode\n```", ""),
        ("", ""),
    ],
)
def test_the_opening_words_are_plain(text: str, words: str) -> None:
    """The first paragraph, heading or item without its marks; a picture alone has no words."""
    assert opening_words(text) == words


def test_the_opening_of_a_long_text_is_short_work() -> None:
    """Of a text of a million lines only the head is read."""
    assert len(opening_words("word " * 1_000_000)) < 3000


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("# One\n\ntwo *three*\nfour", "One two three four"),
        ('[five](to.md "title") `six` <https://a.example>', "five six https://a.example"),
        ("![a \\*b\\* [c](secret.md) ![d](e.jpg)](f.jpg) g", "a *b* c d g"),
        ("    seven\n\n```ini\neight\n```", "seven eight"),
        ("| nine | ten |\n|---|---|\n| 11 | 12 |", "nine ten 11 12"),
        ("- a\n- b\n\n> c <i>d</i> &amp; e", "a b c <i>d</i> & e"),
        ("[f]: g.md\n", ""),
    ],
)
def test_all_words_are_those_that_are_read(text: str, words: str) -> None:
    """Words of text, code, tables and pictures stay, in order; marks and targets do not."""
    assert " ".join(all_words(text).split()) == words
