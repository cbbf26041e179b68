"""No words of the builder change what a page is made of: in every theme, in every place."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any
from urllib.parse import urlsplit

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree

from builderlog.deciding.public import PublicLedger, PublicLetter
from builderlog.drawing.theme import open_theme, theme_names
from tests.drawing.made_public import FIRST, PUBLIC, RIBS, SECOND, drawn
from tests.drawing.page_reader import ReadPage, read_page
from tests.examples import many

# Names of ours among the fields, and Markdown, which is there to change what a page is made of.
OURS = frozenset(
    (
        *("digest", "key", "note", "notes", "month", "by_month", "taken", "links", "prose"),
        *("status", "kind", "side", "counts", "measure", "currency", "seals", "address", "tag"),
    )
)
FORBIDDEN = frozenset("base iframe object embed style form math".split())
LINKS = (("../photos/ribs.jpg", "picture", RIBS), ("2026-03-14-skins.md", "note", FIRST.key))
HOSTILE = (
    "<script>alert(1)</script>",
    "\"'><img src=x onerror=alert(1)>",
    "</template><script>alert(1)</script>",
    "</title></style></textarea><svg onload=alert(1)>",
    "<!--",
    "-->",
    "]]>",
    "{{ 7 * 7 }}{% include 'base.html' %}",
    "&lt;b&gt;&#0;&amp",
    "\u202ertl\u2066",
    "\u200b\u200d\ufeff",
    "\U0001f6e9\ufe0f",
    "%00%3Cscript%3E",
    "javascript:alert(1)",
    "data:text/html,<b>",
    "#?a b",
    "../../x",
    "\u2028\u2029\x85",
)
ACTING = frozenset(
    "a base form h1 h2 h3 h4 iframe img input link meta script style template".split()
)
WORDS = st.one_of(
    st.sampled_from(HOSTILE),
    st.text(st.sampled_from("<>\"'&;=/!-`{}%#[]()\\ \u202e\u200ba"), min_size=1, max_size=24),
)
MARKDOWN = st.one_of(
    WORDS,
    st.sampled_from(
        (
            "[a](javascript:alert(1))",
            "![a](data:image/svg+xml,<svg/onload=alert(1)>)",
            "<javascript:alert(1)>",
            '[a](<https://e.org/"onclick=alert(1)>)',
            "[a](https://e.org/ '\"><script>')",
            '!["><script>](../photos/ribs.jpg)',
            "[a](JaVaScRiPt&colon;alert(1))",
            "[a](//evil.example/x)",
            "[a](\x01https://e.org)",
            "[a]: vbscript:x\n\n[a]",
            '```"><script>\n</code></pre><script>\n```',
            "| a |\n|:-:|\n| <script> |",
            "# <script>",
            "[a](https://e.org@evil.example/)",
            '<a href="x" onclick=alert(1)>',
            "<style>*{}</style>",
            "[a](ht\ntps://e.org)",
        )
    ),
)


def mixed(value: Any, words: str, name: str = "") -> Any:  # noqa: ANN401 - of the same kind
    """A public ledger, or a part of it, with these words behind each text in it."""
    if name in OURS or value is None:
        return value
    if isinstance(value, str):
        return value + words if value else value
    if isinstance(value, tuple):
        return tuple(mixed(item, words) for item in value)
    if is_dataclass(value) and not isinstance(value, type):
        told = {each.name: getattr(value, each.name) for each in fields(value)}
        return replace(value, **{key: mixed(item, words, key) for key, item in told.items()})
    return value


def made_of(page: ReadPage) -> set[tuple[str, tuple[str, ...]]]:
    """The kinds of a page's elements: names with the names of their attributes."""
    return {(tag, tuple(sorted(attributes))) for tag, attributes in page.elements}


def acting(page: ReadPage) -> list[str]:
    """The elements of a page that do something or lead somewhere, and its headings, in order."""
    return [tag for tag, _ in page.elements if tag in ACTING]


def pages_of(public: PublicLedger, theme: str) -> dict[str, str]:
    """Every page of the site, by its place in their order: addresses are made of words."""
    site = drawn(public, open_theme(theme))
    return {path: data.decode() for path, data in site.items() if path.endswith((".html", ".xml"))}


@pytest.mark.parametrize("theme", theme_names())
@settings(
    max_examples=many(6), deadline=None, suppress_health_check=[HealthCheck.differing_executors]
)
@given(WORDS)
def test_no_words_change_what_a_page_is_made_of(theme: str, words: str) -> None:
    """Every text of the journal with hostile words gives the very elements of harmless ones."""
    calm = pages_of(mixed(PUBLIC, "calm"), theme)
    told = pages_of(mixed(PUBLIC, words), theme)
    read = [read_page(page) for path, page in calm.items() if path.endswith(".html")]
    known = set().union(*map(made_of, read)) | {("wbr", ())}
    assert len(calm) == len(told)
    for one, (path, page) in zip(calm.values(), told.items(), strict=True):
        if path.endswith(".xml"):
            etree.fromstring(page.encode())
        else:
            assert acting(read_page(one)) == acting(read_page(page)), path
            assert made_of(read_page(page)) <= known, path


def with_words(markdown: str) -> PublicLedger:
    """The ledger with this Markdown in a note and in a month's letter."""
    links = (*SECOND.links, *LINKS)
    letter = PublicLetter("2026-03", markdown, None, markdown, links)
    notes = (FIRST, replace(SECOND, prose=markdown, links=links))
    return replace(PUBLIC, notes=notes, letters=(letter,))


@pytest.mark.parametrize("theme", theme_names())
@settings(max_examples=many(16), deadline=None)
@given(st.lists(MARKDOWN, min_size=1, max_size=4).map("\n\n".join))
def test_no_markdown_runs_or_loads(theme: str, markdown: str) -> None:
    """A note's and a letter's Markdown gives neither scripts, styles nor pictures from elsewhere.

    What leads out leads to a host or to a mail box.
    """
    for path, page in pages_of(with_words(markdown), theme).items():
        if path.endswith(".xml"):
            etree.fromstring(page.encode())
        else:
            for tag, attributes in read_page(page).elements:
                assert not [name for name in attributes if name.startswith("on")], path
                assert tag not in FORBIDDEN or (path, tag) == ("404.html", "style"), path
                assert "style" not in attributes, path
                for name in ("href", "src", "action", "poster", "data", "formaction"):
                    told = urlsplit(attributes.get(name, ""))
                    leads_out = told.scheme in ("http", "https", "mailto") and tag == "a"
                    assert leads_out or not (told.scheme or told.netloc), attributes
