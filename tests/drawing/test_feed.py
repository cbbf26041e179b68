"""Feeds and what search engines are told, made of a small public ledger."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from xml.etree import ElementTree as ET

import pytest

from builderlog.deciding.public import PublicLedger, PublicLetter
from builderlog.drawing.feed import feed_bytes
from builderlog.drawing.finding import finding_files
from builderlog.drawing.frames import Frame
from builderlog.knowing.web_names import parse_tag
from builderlog.sheets.feed import Feed, tag_of
from builderlog.sheets.site import all_feeds
from tests.drawing.made_public import FIRST, PUBLIC, RIBS, SKINS

ATOM = "{http://www.w3.org/2005/Atom}"
FRAMES = {
    digest: (Frame(f"pictures/{digest[:16]}-640.webp", 640, 480),) for digest in (SKINS, RIBS)
}
HOME = "https://example.org/build/"


def placed(**changes: object) -> PublicLedger:
    """The small ledger with an address."""
    return replace(PUBLIC, address=HOME, **changes)  # type: ignore[arg-type]


def notes_feed(public: PublicLedger) -> Feed:
    """Its feed of notes."""
    return next(feed for feed in all_feeds(public) if feed.path == "notes.xml")


def contents(feed: Feed) -> list[str]:
    """What the entries hold, as HTML."""
    root = ET.fromstring(feed_bytes(feed, FRAMES))  # noqa: S314 - our own bytes
    return [entry.findtext(f"{ATOM}content", "") for entry in root.iter(f"{ATOM}entry")]


def test_ids_stay_when_the_title_changes() -> None:
    """Neither the journal's title nor that of a note goes into an id."""
    renamed = placed(title="Quite another name")
    renamed = replace(
        renamed, notes=tuple(replace(note, title=f"{note.title}!") for note in renamed.notes)
    )
    before, after = notes_feed(placed()), notes_feed(renamed)
    assert before.id == after.id
    assert [entry.id for entry in before.entries] == [entry.id for entry in after.entries]


def test_ids_stay_when_the_address_changes_where_the_journal_has_a_tag() -> None:
    """With `tag` the ids are the same at another address, and without it they are not."""
    other = "https://elsewhere.example/"
    tag = "tag:example.org,2026:ostrel"
    kept = [notes_feed(placed(tag=tag)), notes_feed(replace(placed(tag=tag), address=other))]
    lost = [notes_feed(placed()), notes_feed(replace(placed(), address=other))]
    assert kept[0].id == kept[1].id == "tag:example.org,2026:ostrel/notes"
    assert lost[0].id != lost[1].id


def test_two_journals_at_one_host_have_different_ids() -> None:
    """The path of the address is part of the tag."""
    assert tag_of(placed()) != tag_of(replace(placed(), address="https://example.org/other/"))


@pytest.mark.parametrize("path", ["", "log/", "my/log/"])
def test_a_tag_keeps_the_ids_that_an_address_gave(path: str) -> None:
    """What stood before a feed's name, with its last stroke or without, also of a whole host."""
    before = notes_feed(replace(placed(), address=f"https://example.org/{path}"))
    tag = before.id.removesuffix("notes")
    for written in dict.fromkeys((tag, tag.rstrip("/"))):
        moved = replace(placed(tag=parse_tag(written)), address="https://elsewhere.example/")
        after = notes_feed(moved)
        assert [after.id, *(each.id for each in after.entries)] == [
            before.id,
            *(each.id for each in before.entries),
        ]


def test_pictures_go_along_only_with_an_address() -> None:
    """With one they are whole addresses; without, no img element and no relative picture."""
    with_pictures = "".join(contents(notes_feed(placed())))
    assert f'<img src="{HOME}pictures/' in with_pictures
    without = "".join(contents(notes_feed(PUBLIC)))
    assert "<img" not in without
    assert "pictures/" not in without


def test_an_entry_holds_the_whole_words_of_its_note() -> None:
    """Words, time, decisions and next steps are in it, escaped once as HTML and once as XML."""
    words = "A line with <b>signs</b> & more\n\nThe second paragraph"
    note = replace(FIRST, prose=words, links=(), has_heading=False)
    content = contents(notes_feed(placed(notes=(note,))))[0]
    for piece in (
        "&lt;b&gt;signs&lt;/b&gt; &amp; more",
        "The second paragraph",
        "3\xa0h\xa015\xa0min",
    ):
        assert piece in content
    assert "Decided: Rivet later, because The arm must fit in." in content
    assert "Next: Dimple the lower row." in content


def test_signs_that_no_xml_may_hold_are_replaced() -> None:
    """A control character in a title does not break the feed."""
    note = replace(FIRST, title="Bell \x07 and \ufffe")
    root = ET.fromstring(feed_bytes(notes_feed(placed(notes=(note,))), FRAMES))  # noqa: S314
    assert [each.findtext(f"{ATOM}title") for each in root.iter(f"{ATOM}entry")] == [
        "Bell \ufffd and \ufffd"
    ]


def test_a_month_has_an_entry_once_it_is_over() -> None:
    """The month of the record's date still grows and is not told; earlier ones are."""
    public = placed()
    months = [month.month for month in public.months if month.evenings]
    inside = replace(public, record_date=date.fromisoformat(f"{months[-1]}-28"))
    feed = next(feed for feed in all_feeds(inside) if feed.path == "months.xml")
    assert [entry.id.rpartition("/")[2] for entry in feed.entries] == months[-2::-1]


def test_an_entry_of_a_month_tells_what_was_done() -> None:
    """Tasks done, decisions and what was closed up stand in it in words."""
    months = next(feed for feed in all_feeds(placed()) if feed.path == "months.xml")
    march = contents(months)[-1]
    assert "<p>Done: Task W14.</p>" in march
    assert "<p>Decided: Rivet later.</p>" in march
    assert "<p>Closed up: Task W14.</p>" in march


@pytest.mark.parametrize(
    ("findable", "address", "names"),
    [
        (False, HOME, ["robots.txt"]),
        (False, None, ["robots.txt"]),
        (True, None, []),
        (True, HOME, ["sitemap.xml", "robots.txt"]),
    ],
)
def test_a_site_map_needs_leave_and_an_address(
    findable: bool,  # noqa: FBT001 - a row of the table
    address: str | None,
    names: list[str],
) -> None:
    """Robots are told to stay away unless the builder opens the site."""
    public = replace(PUBLIC, findable=findable, address=address)
    files = dict(finding_files(public, ["index.html", f"notes/{FIRST.key}.html"]))
    assert list(files) == names
    if not findable:
        assert files["robots.txt"] == b"User-agent: *\nDisallow: /\n"
    elif address:
        assert b"Sitemap: https://example.org/build/sitemap.xml" in files["robots.txt"]
        told = files["sitemap.xml"].decode()
        assert "<loc>https://example.org/build/</loc>" in told
        assert f"<loc>{HOME}notes/{FIRST.key}.html</loc>\n<lastmod>2026-03-14</lastmod>" in told


def test_a_month_is_told_in_the_builders_words() -> None:
    """The picture that opens the month, then its letter with its pictures; no picture twice."""
    words = "It *holds*.\n\n![Ribs at last](../photos/ribs.jpg)\n"
    links = (("../photos/ribs.jpg", "picture", RIBS),)
    letter = PublicLetter("2026-03", "March", date(2026, 4, 2), words, links)
    public = placed(letters=(letter,), record_date=date(2026, 6, 30))
    feed = next(feed for feed in all_feeds(public) if feed.path == "months.xml")
    told = next(text for text in contents(feed) if "<em>holds</em>" in text)
    assert told.count(RIBS[:16]) == told.count(f'href="{HOME}pictures/{RIBS[:16]}') + 1
    assert "<figcaption>Ribs at last</figcaption>" in told
    assert told.count("<figure>") == 2
    assert told.index(SKINS[:16]) < told.index("<em>holds</em>") < told.index(RIBS[:16])
