"""Holds what the whole drawn site promises: links, headings, privacy, and the same bytes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from builderlog.deciding.addresses import NOT_FOUND
from builderlog.drawing.site import write_site
from builderlog.drawing.theme import Pen, open_theme
from builderlog.storing.cache import Store
from tests.drawing.made_public import (
    EMPTY,
    FIRST,
    PICTURES,
    PUBLIC,
    RIBS,
    SECOND,
    SKINS,
    SPARE,
    drawn,
    filled_store,
    with_prose,
)
from tests.drawing.page_reader import ReadPage, read_page, targets

POLICY = (
    "default-src 'none'; img-src 'self' file:; style-src 'self' file:; "
    "script-src 'self' file:; base-uri 'none'; form-action 'none'"
)


@pytest.fixture(scope="module")
def site() -> dict[str, bytes]:
    """The hand-made ledger's site by path."""
    return drawn()


@pytest.fixture(scope="module")
def pages(site: dict[str, bytes]) -> dict[str, ReadPage]:
    """Its pages, read; the one for addresses that lead nowhere has rules of its own."""
    paths = [path for path in site if path.endswith(".html") and path != NOT_FOUND]
    return {path: read_page(site[path].decode()) for path in paths}


def test_every_link_resolves(site: dict[str, bytes], pages: dict[str, ReadPage]) -> None:
    """Every address on every page is relative and leads to a file and anchor that are there."""
    for path, page in pages.items():
        for target, anchor in targets(path, page):
            assert target in site, (path, target)
            assert not anchor or anchor in pages[target].ids, (path, target, anchor)


def test_no_link_climbs_out_or_starts_at_the_root(pages: dict[str, ReadPage]) -> None:
    """No address begins with a slash or leaves the site's folder, so that any folder will do."""
    for path, page in pages.items():
        assert not [url for url in page.urls if url.startswith("/")]
        assert not [target for target, _ in targets(path, page) if target.startswith("..")]


def test_every_page_is_reached_from_the_front(pages: dict[str, ReadPage]) -> None:
    """Following links from the front page leads to every page of the site."""
    seen, waiting = {"index.html"}, ["index.html"]
    while waiting:
        path = waiting.pop()
        fresh = {target for target, _ in targets(path, pages[path]) if target in pages} - seen
        seen |= fresh
        waiting += fresh
    assert seen == set(pages)


def test_headings_never_skip(pages: dict[str, ReadPage]) -> None:
    """Each page has one h1, it comes first, and no heading is more than one deeper than before."""
    for path, page in pages.items():
        levels = [level for level, _ in page.headings]
        assert levels[0] == 1, path
        assert levels.count(1) == 1, path
        assert all(after <= before + 1 for before, after in pairwise(levels)), path
        assert all(words.strip() for _, words in page.headings), path


def test_elements_close_and_ids_are_unique(pages: dict[str, ReadPage]) -> None:
    """Every element that opens closes in its place, and no id stands twice on a page."""
    for path, page in pages.items():
        assert page.unclosed == [], path
        assert len(set(page.ids)) == len(page.ids), path


def test_no_page_carries_script_or_inline_style(pages: dict[str, ReadPage]) -> None:
    """No page has an event attribute, an inline style or a frame; its scripts are plain files."""
    for path, page in pages.items():
        for tag, attributes in page.elements:
            assert tag not in ("style", "iframe", "object", "embed", "form"), path
            assert tag != "script" or set(attributes) == {"src", "defer"}, path
            assert not [name for name in attributes if name.startswith("on")], path
            assert "style" not in attributes, path


def test_every_page_forbids_requests_and_search(pages: dict[str, ReadPage]) -> None:
    """The policy, the silent referrer and noindex stand on every page unless findable."""
    for page in pages.values():
        metas = {
            attributes.get("http-equiv") or attributes.get("name"): attributes.get("content")
            for tag, attributes in page.elements
            if tag == "meta"
        }
        assert metas["Content-Security-Policy"] == POLICY
        assert metas["referrer"] == "no-referrer"
        assert metas["robots"] == "noindex, nofollow"


def test_findable_opens_the_site_to_search() -> None:
    """With `findable` no page says noindex and no robots.txt turns search engines away."""
    site = drawn(replace(PUBLIC, findable=True))
    assert "robots.txt" not in site
    pages = [data for path, data in site.items() if ".html" in path and path != NOT_FOUND]
    assert b"noindex" not in b"".join(pages)
    assert drawn()["robots.txt"] == b"User-agent: *\nDisallow: /\n"


def test_pictures_have_words_and_a_size(pages: dict[str, ReadPage]) -> None:
    """Every img has an alternative text, a width and a height, so that no page shifts."""
    images = [
        attributes for page in pages.values() for tag, attributes in page.elements if tag == "img"
    ]
    assert images
    for attributes in images:
        assert attributes["alt"]
        assert int(attributes["width"]) > 0
        assert int(attributes["height"]) > 0


def test_only_pictures_that_notes_show_are_published(site: dict[str, bytes]) -> None:
    """Copies of a picture that no public note shows stay back, though they are there to take."""
    published = {path for path in site if path.startswith("pictures/")}
    assert published == {
        f"pictures/{SKINS[:16]}-480.webp",
        f"pictures/{SKINS[:16]}-1600.webp",
        f"pictures/{RIBS[:16]}-300.webp",
    }
    assert not [path for path in site if SPARE[:16] in path]
    assert site[f"pictures/{RIBS[:16]}-300.webp"] == b"bytes of ribsonly"


def test_what_the_journal_keeps_back_has_no_words_on_a_page() -> None:
    """Fields that are None leave no label behind; once opened, their words are on the page."""
    opened = {"registration": "ZZ-MARK", "serial": "S-MARK", "place": "PLACE-MARK"}
    closed = b"".join(data for path, data in drawn().items() if path.endswith(".html"))
    for label in (b"Registration", b"Serial", b"Shop<", b"Spent", b"Cost<", b"From<"):
        assert label not in closed
    front = drawn(replace(PUBLIC, **opened))["index.html"].decode()  # type: ignore[arg-type]
    assert all(word in front for word in opened.values())


def test_the_foot_tells_date_evenings_and_caution(pages: dict[str, ReadPage]) -> None:
    """Every page tells the record's date, the evenings not shown, and that it instructs nobody."""
    for page in pages.values():
        assert "As it stood on 30 June 2026." in page.text
        assert "1 note is not shown." in page.text
        assert "no instruction" in page.text


def test_a_builders_words_are_never_markup(site: dict[str, bytes]) -> None:
    """A title with angle brackets is shown as written, on every page that names it."""
    html = b"".join(data for path, data in site.items() if path.endswith(".html"))
    assert b"Skins &lt;on&gt; &amp; off" in html
    assert b"<on>" not in html


def test_the_same_ledger_gives_the_same_bytes(site: dict[str, bytes]) -> None:
    """Drawn again with an empty store, every file is the same to the byte."""
    assert drawn() == site


def test_an_empty_journal_has_a_site() -> None:
    """A journal without notes still gives pages whose links all resolve."""
    site = drawn(EMPTY)
    assert "index.html" in site
    for path, data in site.items():
        if path.endswith(".html"):
            assert all(target in site for target, _ in targets(path, read_page(data.decode())))


def count_drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """From now on, the paths of the pages that are really drawn."""
    paths: list[str] = []
    plain = Pen.draw

    def counting(self: Pen, template: str, values: dict[str, object]) -> str:
        paths.append(getattr(values["chrome"], "path", ""))
        return plain(self, template, values)

    monkeypatch.setattr(Pen, "draw", counting)
    return paths


def test_the_second_time_nothing_is_drawn(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """With the store of the first time, in another process too, every page comes from it."""
    first = drawn(store=filled_store(tmp_path))
    paths = count_drawn(monkeypatch)
    assert drawn(store=Store(tmp_path)) == first
    assert paths == []


def test_a_changed_note_draws_only_its_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words further down in a note redraw its own page and the search, and no other."""
    store = filled_store()
    links = SECOND.links
    drawn(with_prose("One.\n\nTwo.", links), store=store)
    paths = count_drawn(monkeypatch)
    drawn(with_prose("One.\n\nThree.", links), store=store)
    assert paths == [f"notes/{SECOND.key}.html", "search.html"]


def test_a_changed_picture_draws_the_pages_that_show_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a copy gets another size, the pages with that picture are drawn anew."""
    store = filled_store()
    drawn(store=store)
    paths = count_drawn(monkeypatch)
    ribs = (replace(PICTURES[RIBS][0], height_px=401),)
    monkeypatch.setitem(PICTURES, RIBS, ribs)
    drawn(store=store)
    assert f"notes/{FIRST.key}.html" in paths
    assert "parts.html" not in paths


def test_a_picture_that_cannot_be_drawn_leaves_no_hole(monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture without copies is left out of every page, and the site still stands."""
    monkeypatch.delitem(PICTURES, SKINS)
    site = drawn()
    assert not [path for path in site if SKINS[:16] in path]
    assert SKINS[:16].encode() not in b"".join(site.values())


class Shelf:
    """Takes files as an outbox does."""

    def __init__(self) -> None:
        self.files: dict[str, bytes] = {}

    def put(self, path: str, data: bytes) -> None:
        """Takes one file."""
        assert path not in self.files
        self.files[path] = data


def test_writing_puts_every_file_once(site: dict[str, bytes]) -> None:
    """The receiver gets each file of the site exactly once."""
    shelf = Shelf()
    count = write_site(PUBLIC, PICTURES, open_theme("trammel"), filled_store(), shelf)
    assert shelf.files == site
    assert count == len(site)
