"""The sheet of a month's letter to friends: the builder's words, and the month in figures below."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from builderlog.deciding import addresses, words
from builderlog.deciding.addresses import relative_url
from builderlog.deciding.letter_facts import areas_by_time
from builderlog.deciding.public import PublicLetter, PublicMonth
from builderlog.deciding.sums import NO_AREA_NAME
from builderlog.reading.markdown import parse, spoken
from builderlog.sheets.book import Book
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Day, Photo, day_of

LETTER_CAUTION = (
    "One builder's letter: told as it happened, with its mistakes. It is no instruction, and "
    "nobody has approved it; the kit's manual and the authority have the last word."
)


@dataclass(frozen=True, slots=True)
class LetterWords:
    """The builder's words on a month, as its page shows them."""

    title: str
    written: Day | None
    prose: ProseText


@dataclass(frozen=True, slots=True)
class LetterSheet:
    """One letter as it is sent; `page` is the whole address of the month's page, or None."""

    title: str
    month: str  # "March 2026"
    site_title: str
    aircraft: str | None
    builder: str | None
    written: Day | None
    prose: ProseText
    figures: tuple[tuple[str, str], ...]  # label, words
    page: str | None
    caution: str
    address: str | None = None  # of the site's folder


def letter_of_month(book: Book, month: str) -> LetterWords | None:
    """The builder's words on a month; None where there is no letter, or but an untouched draft."""
    found = next((each for each in book.public.letters if each.month == month), None)
    return letter_words(book, found) if found else None


def letter_words(book: Book, letter: PublicLetter) -> LetterWords:
    """A letter with what its links are on the site."""
    photos = _photos(book)
    links = tuple(
        ProseLink(
            target,
            photo=photos.get(value) if kind == "picture" else None,
            page=book.note_link(value) if kind == "note" else None,
        )
        for target, kind, value in letter.links
    )
    return LetterWords(
        letter.title,
        day_of(letter.written) if letter.written else None,
        ProseText(letter.prose, links, has_heading=False),
    )


def opened_by(letter: LetterWords) -> tuple[Photo | None, LetterWords]:
    """The first picture that stands alone in a paragraph, and the letter without it.

    For a page that it opens. The letter as it is where there is no such picture.
    """
    photos = {link.target: link.photo for link in letter.prose.links if link.photo}
    for opening, inline in pairwise(parse(letter.prose.text)):
        found = inline.children or []
        if (
            opening.type != "paragraph_open"
            or opening.level
            or [t.type for t in found] != ["image"]
        ):
            continue
        photo = photos.get(str(found[0].attrs["src"]))
        if photo and opening.map:
            said = spoken(found[0])
            shown = replace(photo, caption=said or photo.caption, alt=said or photo.alt)
            return shown, replace(letter, prose=_without(letter.prose, *opening.map))
    return None, letter


def _without(prose: ProseText, first: int, end: int) -> ProseText:
    lines = prose.text.split("\n")  # as CommonMark counts them
    return replace(prose, text="\n".join((*lines[:first], *lines[end:])))


def _photos(book: Book) -> dict[str, Photo]:
    """Every picture once, as the oldest note has it."""
    photos: dict[str, Photo] = {}
    for shot in book.all_shots:
        photos.setdefault(shot.photo.digest, shot.photo)
    return photos


def letter_sheet(book: Book, letter: PublicLetter) -> LetterSheet:
    """A letter to be sent. Links to notes stay only where the site's address is known."""
    public = book.public
    shown = letter_words(book, letter)
    address = public.address
    prose = shown.prose
    if address is None:
        links = tuple(replace(link, page=None) for link in prose.links)
        prose = replace(prose, links=links)
    month = book.months.get(letter.month)
    page = addresses.month_path(letter.month)
    return LetterSheet(
        title=letter.title,
        month=words.month_long(letter.month),
        site_title=public.title,
        aircraft=public.design,
        builder=public.full_name or public.builder,
        written=shown.written,
        prose=prose,
        figures=tuple(_figures(book, month)) if month else (),
        page=address + relative_url("", page) if address and month else None,
        caution=LETTER_CAUTION,
        address=address,
    )


def _figures(book: Book, month: PublicMonth) -> Iterator[tuple[str, str]]:
    """The month in figures, the same sums as on its page."""
    if month.seconds:
        days = words.counted(month.days, "day")
        yield "In the shop", f"{words.duration(month.seconds)} on {days}"
    for area, seconds in areas_by_time(month):
        link = book.area_link(area) if area else None
        yield (link.words if link else area or NO_AREA_NAME), words.duration(seconds)
    if month.tasks_done:
        yield "Tasks done", "; ".join(link.words for link in book.links_of(month.tasks_done))
    yield "Since the start", words.duration(month.running_seconds)
    for amount in month.spent:
        yield "Spent", amount
