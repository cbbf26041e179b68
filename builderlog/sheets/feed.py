"""The sheets of the feeds: the newest notes, and the months that are over, each with a lasting id.

An id is a tag URI (RFC 4151): it begins with the journal's own tag where it has one, else with the
host of its address, and neither the journal's title nor a theme goes into it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import quote, urlsplit

from builderlog.deciding import addresses
from builderlog.deciding.public import PublicLedger, PublicMonth, PublicNote
from builderlog.deciding.weeks import last_day_of
from builderlog.sheets.book import Book
from builderlog.sheets.month import MonthSheet, month_sheet
from builderlog.sheets.note import NoteSheet, note_sheet
from builderlog.sheets.rows import Link

MOST_NOTES, MOST_MONTHS = 40, 36
NOWHERE = "journal.invalid"  # a host that nobody can ever have (RFC 2606)
# What may stand in the last part of a tag unescaped, beside letters and digits: RFC 3986, pchar.
_IN_TAG = "/?:@!$&'()*+,;=-._~"


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One note or month: its id, its page, the days it was published and last written on."""

    id: str
    page: str  # site path
    title: str
    published: date
    updated: date
    sheet: NoteSheet | MonthSheet


@dataclass(frozen=True, slots=True)
class Feed:
    """One feed, newest entry first. `address` is the folder that the site stands in, or None."""

    path: str
    id: str
    title: str
    subtitle: str
    author: str
    updated: date
    page: str  # site path of the page that lists the same
    address: str | None
    entries: tuple[FeedEntry, ...]


def feeds(book: Book) -> tuple[Feed, ...]:
    """The feed of notes and that of months; none of what has no entry."""
    made = (_notes(book), _months(book))
    return tuple(feed for feed in made if feed.entries)


def feed_links(public: PublicLedger) -> tuple[Link, ...]:
    """The feeds that `feeds` makes, without their entries."""
    there = (
        (_title(public, "notes"), addresses.NOTES_FEED, bool(public.notes)),
        (_title(public, "months"), addresses.MONTHS_FEED, _any_over(public)),
    )
    return tuple(Link(title, path) for title, path, is_there in there if is_there)


def _title(public: PublicLedger, kind: str) -> str:
    return public.title if kind == "notes" else f"{public.title}, month by month"


def tag_of(public: PublicLedger) -> str:
    """What every id of the journal's feeds begins with.

    Without a tag of its own and without an address the journal cannot be told from all others in
    the world; its design's name then stands for it. A tag may be what ids began with before.
    """
    if public.tag:
        return public.tag if public.tag.endswith((":", "/")) else f"{public.tag}/"
    first = public.started or (public.notes[0].day if public.notes else public.record_date)
    year = first.year if first else date.min.year
    if public.address:
        parts = urlsplit(public.address)
        return f"tag:{parts.hostname},{year:04}:{parts.path.lstrip('/')}"
    return f"tag:{NOWHERE},{year:04}:{addresses.slug_of(public.design or public.title)}/"


def _notes(book: Book) -> Feed:
    public = book.public
    newest = range(len(public.notes))[-MOST_NOTES:]
    entries = tuple(_note_entry(book, position) for position in reversed(newest))
    return _feed(book, (addresses.NOTES_FEED, "notes", addresses.ARCHIVE), entries)


def _note_entry(book: Book, position: int) -> FeedEntry:
    note: PublicNote = book.public.notes[position]
    written = max(note.day, note.written_later or note.day)
    return FeedEntry(
        id=f"{tag_of(book.public)}note/{quote(note.key, safe=_IN_TAG)}",
        page=addresses.note_path(note.key),
        title=note.title,
        published=written,
        updated=written,
        sheet=note_sheet(book, position),
    )


def _months(book: Book) -> Feed:
    newest = _over(book.public)[-MOST_MONTHS:]
    entries = tuple(_month_entry(book, position) for position in reversed(newest))
    return _feed(book, (addresses.MONTHS_FEED, "months", addresses.FRONT), entries)


def _over(public: PublicLedger) -> tuple[int, ...]:
    """The months that are over by the record: one that still grows would be read half."""
    return tuple(
        position for position, month in enumerate(public.months) if _is_over(month, public)
    )


def _any_over(public: PublicLedger) -> bool:
    """Asked for by every page; the oldest month mostly settles it."""
    return any(_is_over(month, public) for month in public.months)


def _is_over(month: PublicMonth, public: PublicLedger) -> bool:
    end = last_day_of(month.month)
    return month.evenings > 0 and public.record_date is not None and public.record_date > end


def _month_entry(book: Book, position: int) -> FeedEntry:
    month = book.public.months[position]
    sheet = month_sheet(book, position)
    end = last_day_of(month.month)
    written = sheet.letter.written if sheet.letter else None
    return FeedEntry(
        id=f"{tag_of(book.public)}month/{month.month}",
        page=addresses.month_path(month.month),
        title=sheet.name,
        published=end,
        updated=max(end, date.fromisoformat(written.iso)) if written else end,
        sheet=sheet,
    )


def _feed(book: Book, where: tuple[str, str, str], entries: tuple[FeedEntry, ...]) -> Feed:
    public = book.public
    path, kind, page = where
    return Feed(
        path=path,
        id=f"{tag_of(public)}{kind}",
        title=_title(public, kind),
        subtitle=f"{public.design or 'An aircraft'}, built at home.",
        author=public.full_name or public.builder or "The builder",
        updated=max((entry.updated for entry in entries), default=date.min),
        page=page,
        address=public.address,
        entries=entries,
    )
