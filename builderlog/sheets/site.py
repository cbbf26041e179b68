"""All pages of the friends' site as sheets: each with its path, its kind and the page's chrome.

Pure: public ledger in, frozen pages of ready words and numbers out. No HTML, no files, no clock.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding import addresses, words
from builderlog.deciding.addresses import relative_url
from builderlog.deciding.public import PublicLedger, PublicNote
from builderlog.sheets.book import Book, open_book
from builderlog.sheets.claim import ClaimSheet, claim_sheet
from builderlog.sheets.feed import Feed, feed_links, feeds
from builderlog.sheets.figures import FiguresSheet, figures_sheet, has_figures
from builderlog.sheets.front import FrontSheet, front_sheet
from builderlog.sheets.lists import (
    NextSheet,
    PartsSheet,
    PhotoSheet,
    next_sheet,
    parts_sheet,
    photos_by_area,
    photos_by_month,
    photos_by_task,
)
from builderlog.sheets.lost import LostSheet, lost_sheet
from builderlog.sheets.milestones import MilestonesSheet, has_milestones, milestones_sheet
from builderlog.sheets.month import MonthSheet, month_sheet, notes_not_shown
from builderlog.sheets.note import ArchiveSheet, NoteSheet, archive_sheet, note_sheet
from builderlog.sheets.rows import Link, Photo
from builderlog.sheets.search import SearchSheet, search_sheet
from builderlog.sheets.work import AreaSheet, TaskSheet, area_sheet, task_sheet

PageSheet = (
    FrontSheet
    | NoteSheet
    | ArchiveSheet
    | MonthSheet
    | MilestonesSheet
    | AreaSheet
    | TaskSheet
    | PartsSheet
    | PhotoSheet
    | NextSheet
    | ClaimSheet
    | FiguresSheet
    | SearchSheet
    | LostSheet
)

CAUTION = (
    "One builder's journal: told as it happened, with its mistakes. "
    "It is no instruction, and nobody has approved it."
)


@dataclass(frozen=True, slots=True)
class NavLink:
    """One entry of the list of pages that every page carries."""

    words: str
    path: str
    here: bool  # the page itself, or the list it belongs to


@dataclass(frozen=True, slots=True)
class Chrome:
    """What every page carries round its sheet."""

    path: str
    title: str  # of the page
    site_title: str
    description: str
    nav: tuple[NavLink, ...]
    trail: tuple[Link, ...]  # from the front page to the page above this one
    block: tuple[tuple[str, str], ...]  # the title block: label, words
    sheet_name: str  # what kind of page, as the title block names it: "Note 12"
    reckoned: str | None
    not_shown: str | None
    caution: str
    findable: bool
    feeds: tuple[Link, ...] = ()
    canonical: str | None = None  # the page's whole address, only where it may be found there
    address: str | None = None  # of the site's folder, on the same terms
    card: Photo | None = None  # the picture that stands for the page where it is shared


@dataclass(frozen=True, slots=True)
class Page:
    """One page: `kind` names its template ("note" is drawn by note.html)."""

    path: str
    kind: str
    chrome: Chrome
    sheet: PageSheet


def all_pages(public: PublicLedger) -> Iterator[Page]:
    """Every page of the site, each once; the front page first."""
    book = open_book(public)
    yield _front(book)
    yield _page(book, _Head(addresses.ARCHIVE, "archive", "Notes"), archive_sheet(book))
    yield from _note_pages(book)
    yield from _month_pages(book)
    yield from _milestones_page(book)
    yield from _area_pages(book)
    yield from _task_pages(book)
    yield from _claim_page(book)
    yield from _list_pages(book)
    yield from _figures_page(book)
    yield from _search_page(book)
    yield _lost_page(book)


def all_feeds(public: PublicLedger) -> tuple[Feed, ...]:
    """The feeds of the site, which no page shows but to programs."""
    return feeds(open_book(public))


@dataclass(frozen=True, slots=True)
class _Head:
    """Where a page stands, what it is, and how it is called."""

    path: str
    kind: str
    title: str
    description: str = ""
    name: str = ""
    trail: tuple[Link, ...] = ()


def _front(book: Book) -> Page:
    public = book.public
    about = f"{public.design or 'An aircraft'}, built at home. The builder's own journal."
    return _page(
        book, _Head(addresses.FRONT, "front", public.title, about, "The build"), front_sheet(book)
    )


def _note_pages(book: Book) -> Iterator[Page]:
    for position, note in enumerate(book.public.notes):
        row = book.rows[note.key]
        head = _Head(
            row.link.path,
            "note",
            note.title,
            row.opening or row.day.long,
            f"Note {row.number}",
            _note_trail(book, note),
        )
        yield _page(book, head, note_sheet(book, position))


def _note_trail(book: Book, note: PublicNote) -> tuple[Link, ...]:
    month = book.month_link(words.month_of(note.day))
    return (Link("Notes", addresses.ARCHIVE), *((month,) if month else ()))


def _month_pages(book: Book) -> Iterator[Page]:
    trail = (Link("Notes", addresses.ARCHIVE),)
    for position, month in enumerate(book.public.months):
        sheet = month_sheet(book, position)
        about = f"{sheet.time.words} in {sheet.span}."
        head = _Head(addresses.month_path(month.month), "month", sheet.name, about, "Month", trail)
        yield _page(book, head, sheet)


def _milestones_page(book: Book) -> Iterator[Page]:
    """The time line; the front page and the archive lead there."""
    if has_milestones(book):
        sheet = milestones_sheet(book)
        trail = (Link("Notes", addresses.ARCHIVE),)
        head = _Head(
            addresses.MILESTONES, "milestones", "Milestones", f"{sheet.count}.", trail=trail
        )
        yield _page(book, head, sheet)


def _area_pages(book: Book) -> Iterator[Page]:
    for area in book.areas.values():
        sheet = area_sheet(book, area.id)
        about = f"{sheet.row.standing}, {sheet.row.time.words}."
        path = addresses.area_path(book.area_slugs[area.id])
        yield _page(book, _Head(path, "area", area.name, about, "Area"), sheet)


def _task_pages(book: Book) -> Iterator[Page]:
    for task in book.tasks.values():
        sheet = task_sheet(book, task.id)
        about = f"{words.first_upper(sheet.state)}, {sheet.time.words}."
        path = addresses.task_path(book.task_slugs[task.id])
        trail = (sheet.area,) if sheet.area else ()
        yield _page(book, _Head(path, "task", task.name, about, f"Task {task.id}", trail), sheet)


def _claim_page(book: Book) -> Iterator[Page]:
    """The claim, only where the journal shows it; the front page leads there."""
    if book.public.claim:
        sheet = claim_sheet(book, book.public.claim)
        head = _Head(addresses.CLAIM, "claim", "The claim", sheet.verdict)
        yield _page(book, head, sheet)


def _list_pages(book: Book) -> Iterator[Page]:
    """The lists; one that would be empty has no page, and nothing leads to it."""
    if has_parts(book):
        yield _page(book, _Head(addresses.PARTS, "parts", "Parts"), parts_sheet(book))
    if has_photos(book):
        for order in (photos_by_month, photos_by_area, photos_by_task):
            yield _photo_page(book, order(book))
    if has_next(book):
        yield _page(book, _Head(addresses.NEXT, "next", "Next"), next_sheet(book))


def _search_page(book: Book) -> Iterator[Page]:
    """The search, where there is a note to be found."""
    if book.public.notes:
        sheet = search_sheet(book)
        about = f"{words.first_upper(sheet.count)}."
        yield _page(book, _Head(addresses.SEARCH, "search", "Search", about), sheet)


def _lost_page(book: Book) -> Page:
    """What a host shows where nothing stands; no page leads there."""
    sheet = lost_sheet(book.public)
    return _page(book, _Head(addresses.NOT_FOUND, "lost", sheet.title), sheet)


def _figures_page(book: Book) -> Iterator[Page]:
    """The charts, where there are hours to draw."""
    if has_figures(book):
        sheet = figures_sheet(book)
        about = f"{sheet.total.words} {sheet.span}."
        yield _page(book, _Head(addresses.FIGURES, "figures", "Figures", about), sheet)


def _photo_page(book: Book, sheet: PhotoSheet) -> Page:
    path = next(link.path for link in sheet.orders if link.words == sheet.order)
    return _page(book, _Head(path, "photos", f"Pictures {sheet.order}", sheet.count), sheet)


def has_parts(book: Book) -> bool:
    """Whether any public note names a part."""
    return bool(book.public.parts)


def has_photos(book: Book) -> bool:
    """Whether any public note shows a picture."""
    return any(book.shots.values())


def has_next(book: Book) -> bool:
    """Whether there is a next step, or a snag where the journal shows them."""
    public = book.public
    return bool(public.next_steps) or (public.shows_snags and bool(public.snags))


def _page(book: Book, head: _Head, sheet: PageSheet) -> Page:
    public = book.public
    front = () if head.kind == "front" else (Link("The build", addresses.FRONT),)
    chrome = Chrome(
        path=head.path,
        title=head.title,
        site_title=public.title,
        description=head.description or f"{head.title}. {public.title}.",
        nav=_nav(book, head),
        trail=(*front, *head.trail),
        block=_block(public),
        sheet_name=head.name or head.title,
        reckoned=_reckoned(public),
        not_shown=notes_not_shown(public.not_shown),
        caution=CAUTION,
        findable=public.findable,
        feeds=feed_links(public),
        canonical=canonical(public, head.path),
        address=public.address if public.findable else None,
        card=_card(sheet),
    )
    return Page(head.path, head.kind, chrome, sheet)


def canonical(public: PublicLedger, path: str) -> str | None:
    """The whole address of a page; None where there is none, or nobody is to find it."""
    if public.address is None or not public.findable or path == addresses.NOT_FOUND:
        return None
    return public.address + ("" if path == addresses.FRONT else relative_url("", path))


def _card(sheet: PageSheet) -> Photo | None:
    """The picture that opens the page, of the front page that of its newest note."""
    if isinstance(sheet, MonthSheet):
        return sheet.card
    if isinstance(sheet, NoteSheet):
        return sheet.cover
    return sheet.lead.cover if isinstance(sheet, FrontSheet) and sheet.lead else None


def _nav(book: Book, head: _Head) -> tuple[NavLink, ...]:
    entries = (
        ("The build", addresses.FRONT, ("front", "area", "task", "claim"), True),
        ("Notes", addresses.ARCHIVE, ("archive", "note", "month", "milestones"), True),
        ("Pictures", addresses.PHOTOS, ("photos",), has_photos(book)),
        ("Parts", addresses.PARTS, ("parts",), has_parts(book)),
        ("Next", addresses.NEXT, ("next",), has_next(book)),
        ("Figures", addresses.FIGURES, ("figures",), has_figures(book)),
        ("Search", addresses.SEARCH, ("search",), bool(book.public.notes)),
    )
    return tuple(
        NavLink(label, path, head.kind in kinds) for label, path, kinds, there in entries if there
    )


def _block(public: PublicLedger) -> tuple[tuple[str, str], ...]:
    record = words.day_plain(public.record_date) if public.record_date else None
    cells = (
        ("Aircraft", public.design),
        ("Registration", public.registration),
        ("Built by", public.full_name or public.builder),
        ("Record of", record),
    )
    return tuple((label, value) for label, value in cells if value)


def _reckoned(public: PublicLedger) -> str | None:
    if public.record_date is None:
        return None
    return f"As it stood on {words.day_plain(public.record_date)}."
