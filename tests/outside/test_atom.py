"""The example's feeds against RFC 4287 (Atom): its grammar, its rules, and an independent parser.

The rules are those of RFC 4287, sections 4.1.1, 4.1.2, 3.3 and 4.2.6, as several sources quote
them; the grammar is its appendix B, in atom.rng beside this file, asked by lxml; the parser is
feedparser. The form of ids is RFC 4151, section 2.1.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import feedparser
import pytest
from lxml import etree

from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.drawing.feed import NAMESPACE, feed_bytes
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.sheets.feed import Feed
from builderlog.sheets.site import all_feeds

EXAMPLE = Path(__file__).parents[2] / "example_journal"
ATOM = f"{{{NAMESPACE}}}"
TAG = re.compile(r"tag:[\w.@-]+,\d{4}(-\d\d(-\d\d)?)?:[\w.~!$&'()*+,;=:@/?%-]*", re.ASCII)


ADDRESS = "https://friends.example/ostrel/"
FAULTS = (
    pytest.param(b"T00:00:00Z</updated>", b"</updated>", id="a day for a moment"),
    pytest.param(b"<entry>", b"<entry><author/>", id="an author without a name"),
    pytest.param(b"<subtitle>", b"<subtitle/><subtitle>", id="two subtitles"),
    pytest.param(b"<published>", b"<issued/><published>", id="an element of nobody's"),
    pytest.param(b'type="html"', b'type="page"', id="a kind of text that is none"),
    pytest.param(b' href="', b' to="', id="a link to nowhere"),
)


@cache
def example_public() -> PublicLedger:
    """What friends may see of the example."""
    return public_ledger(read_journal(Folder.at(EXAMPLE)))


@cache
def example_feeds() -> dict[str, Feed]:
    """The example's feeds by path."""
    return {feed.path: feed for feed in all_feeds(example_public())}


@cache
def grammar() -> etree.RelaxNG:
    """Appendix B, ready to ask."""
    return etree.RelaxNG(etree.parse(Path(__file__).with_name("atom.rng")))


def breaches(made: bytes) -> list[str]:
    """Where a feed is not what the grammar allows."""
    asked = grammar()
    asked.validate(etree.fromstring(made))
    return [f"{each.line}: {each.message}" for each in asked.error_log]


def root_of(path: str) -> ET.Element:
    """The feed as XML."""
    return ET.fromstring(feed_bytes(example_feeds()[path], {}))  # noqa: S314 - our own bytes


FEEDS = ("notes.xml", "months.xml")


@pytest.mark.parametrize("address", [None, ADDRESS])
def test_the_grammar_allows_every_feed(address: str | None) -> None:
    """With an address and without, both feeds are what appendix B says a feed is."""
    feeds = all_feeds(replace(example_public(), address=address))
    assert [feed.path for feed in feeds] == list(FEEDS)
    assert [told for feed in feeds for told in breaches(feed_bytes(feed, {}))] == []


@pytest.mark.parametrize(("written", "fault"), FAULTS)
def test_the_grammar_bites(written: bytes, fault: bytes) -> None:
    """A feed with one fault planted is told, each time."""
    whole = feed_bytes(example_feeds()["notes.xml"], {})
    assert written in whole
    assert breaches(whole.replace(written, fault, 1))


@pytest.mark.parametrize("path", FEEDS)
def test_feed_and_entries_have_what_the_rfc_asks_for_just_once(path: str) -> None:
    """One id, title and updated each, at most one published; the feed has an author."""
    root = root_of(path)
    assert root.tag == f"{ATOM}feed"
    assert len(root.findall(f"{ATOM}author/{ATOM}name")) == 1
    entries = root.findall(f"{ATOM}entry")
    assert entries
    for element in (root, *entries):
        for name in ("id", "title", "updated"):
            assert len(element.findall(f"{ATOM}{name}")) == 1, name
        assert len(element.findall(f"{ATOM}published")) <= 1
        kinds = [link.get("rel") for link in element.findall(f"{ATOM}link")]
        assert kinds.count("alternate") == 1


@pytest.mark.parametrize("path", FEEDS)
def test_every_moment_is_one_of_rfc_3339_and_the_feed_is_as_new_as_its_newest(path: str) -> None:
    """Section 3.3: date and time with an offset; the feed's is the latest of its entries."""
    root = root_of(path)
    told = [element.text or "" for element in root.iter() if element.tag == f"{ATOM}updated"]
    moments = [datetime.fromisoformat(text) for text in told]
    assert all(moment.tzinfo for moment in moments)
    assert moments[0] == max(moments[1:])
    assert moments[1:] == sorted(moments[1:], reverse=True)


def test_every_id_is_a_tag_and_no_two_are_the_same() -> None:
    """Section 4.2.6: an id is a permanent IRI, never relative, of one entry alone."""
    ids = [
        element.text or ""
        for path in FEEDS
        for element in root_of(path).iter()
        if element.tag == f"{ATOM}id"
    ]
    assert [each for each in ids if not TAG.fullmatch(each) or not urlsplit(each).scheme] == []
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("path", FEEDS)
def test_an_independent_parser_reads_back_what_went_in(path: str) -> None:
    """Ids, titles and days come out as they went in; the words are HTML and not escaped twice."""
    feed = example_feeds()[path]
    read = feedparser.parse(feed_bytes(feed, {}))
    assert not read.bozo
    assert (read.version, read.feed.id, read.feed.title) == ("atom10", feed.id, feed.title)
    assert [(each.id, each.title) for each in read.entries] == [
        (entry.id, entry.title) for entry in feed.entries
    ]
    assert [each.updated[:10] for each in read.entries] == [
        entry.updated.isoformat() for entry in feed.entries
    ]
    assert all(each.content[0].type == "text/html" for each in read.entries)
    assert all("<p>" in each.content[0].value for each in read.entries)


@pytest.mark.parametrize("path", FEEDS)
def test_ids_come_back_the_same_from_a_site_that_was_renamed_and_moved(path: str) -> None:
    """As the parser reads them: another title and another address, and with a tag no id changes."""
    tagged = replace(example_public(), tag="tag:friends.example,2026:ostrel")
    moved = replace(tagged, title="Quite another name", address="https://elsewhere.example/x/")
    first, then = (ids_read(public, path) for public in (tagged, moved))
    assert first == then
    assert len(set(first)) == len(first) > 1
    assert ids_read(replace(moved, tag=None), path) != first


def ids_read(public: PublicLedger, path: str) -> list[str]:
    """The ids of a feed and of its entries, as a reader of feeds knows them."""
    feed = next(feed for feed in all_feeds(public) if feed.path == path)
    read = feedparser.parse(feed_bytes(feed, {}))
    return [read.feed.id, *(entry.id for entry in read.entries)]
