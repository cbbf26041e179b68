"""The chapters of the pictures: the index of all, and contact sheets of those no task shows.

A journal may hold tens of thousands, so that every picture is looked at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from builderlog.deciding.states import sentence
from builderlog.deciding.words import counted, first_upper, month_long
from builderlog.knowing.ledger import Picture
from builderlog.sheets.cells import Names, names_of
from builderlog.sheets.chapter import (
    Cell,
    Chapter,
    Column,
    Paragraph,
    Pictures,
    Rows,
    Section,
    ShownPicture,
)
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import Shelf

DIGITS = 8  # of the digest, enough to tell one picture from another by eye
DAY, MONTH = len("2026-03-14"), len("2026-03")
UNDATED = "Without a day"
COLUMNS = (
    Column("No.", number=True),
    Column("Taken", share=3),
    Column("Filed as", share=5),
    Column("Shows", share=4),
    Column("Seen", share=3),
    Column("Note", share=2),
    Column("Digest", share=2),
)
DIGESTS = (
    "Pictures are numbered by when they were taken: by the camera's clock, else the day of the "
    f"first note that names them. The digest is the first {DIGITS} digits of the SHA-256 of the "
    "original file; the whole of it, with captions, is in data/tables/photos.csv."
)
INTRO = "that no task's sheet shows, by month, with their numbers in the photo index."


def photos(held: Material) -> Iterator[Chapter]:
    """Every picture by number, month by month; left out where there is none."""
    numbers = held.choice.numbers
    pictures = sorted(held.ledger.pictures, key=lambda each: numbers[each.path])
    if not pictures:
        return
    lost = sum(not _can_be_shown(each) for each in pictures)
    told = f"{counted(len(pictures), 'picture')}, each once."
    if lost:
        told += f" Of {counted(lost, 'file')} no picture could be made; it is said where it stands."
    names = names_of(held.found)
    sections = (
        Section(
            f"photos-{month or 'undated'}",
            month_long(month) if month else UNDATED,
            (_index(month, group, held, names),),
        )
        for month, group in _by_month(pictures, held.shelf)
    )
    opening = (Paragraph(told, "lead"), Paragraph(DIGESTS, "quiet"))
    yield Chapter("photos", "Photo index", (*opening, *sections))


def _by_month(pictures: Iterable[Picture], shelf: Shelf) -> list[tuple[str, list[Picture]]]:
    """2026-03 and its pictures in their order; "", at the end, where nothing says when."""
    found: dict[str, list[Picture]] = {}
    for picture in pictures:
        found.setdefault(_taken(picture, shelf)[:MONTH], []).append(picture)
    return sorted(found.items(), key=lambda each: (not each[0], each[0]))


def _taken(picture: Picture, shelf: Shelf) -> str:
    """By the camera's clock, else the day of the first note that names it, or links it at least."""
    linked = (shelf.dated[path].words for path in picture.linked_from)
    return picture.taken or min(linked, default="")


def _can_be_shown(picture: Picture) -> bool:
    return not picture.file.fault and picture.file.width_px > 0 < picture.file.height_px


def _index(month: str, pictures: Iterable[Picture], held: Material, names: Names) -> Rows:
    rows = tuple(_row(each, held, names) for each in pictures)
    return Rows(f"Pictures of {month_long(month) if month else 'no known day'}", COLUMNS, rows)


def _row(each: Picture, held: Material, names: Names) -> tuple[Cell, ...]:
    seen = dict.fromkeys(name for use in each.uses for name in use.seen)
    page = ", a page of a notebook" if _is_page(each) else ""
    return (
        Cell(str(held.choice.numbers[each.path])),
        Cell(_taken(each, held.shelf)[: DAY + len(" 12:00")].replace("T", " ")),
        Cell(f"{each.path}{page}{_fault(each)}"),
        names.cells(name for use in each.uses for name in use.shows),
        Cell(names.persons(seen)),
        Cell(links=held.shelf.notes(_notes(each))),
        Cell(each.file.digest[:DIGITS]),
    )


def _is_page(picture: Picture) -> bool:
    return any(use.page for use in picture.uses)


def _notes(picture: Picture) -> Iterable[str]:
    """Those that list it, then those that only link it in their words; each once."""
    return dict.fromkeys((*(use.note for use in picture.uses), *picture.linked_from))


def _fault(picture: Picture) -> str:
    return "" if _can_be_shown(picture) else " (cannot be shown: no picture could be made of it)"


def contact(held: Material) -> Iterator[Chapter]:
    """The rest in small, month by month, and pages of a paper notebook under their own heading."""
    rest = [each for each in held.choice.rest if _can_be_shown(each)]
    if not rest:
        return
    names = names_of(held.found)
    pages = [each for each in rest if _is_page(each)]
    views = [each for each in rest if not _is_page(each)]
    sections = [
        Section(
            f"contact-{month or 'undated'}",
            month_long(month) if month else UNDATED,
            (_sheet(group, held, names),),
        )
        for month, group in _by_month(views, held.shelf)
    ]
    if pages:
        title = "Pages of a paper notebook"
        sections.append(Section("contact-pages", title, (_sheet(pages, held, names),)))
    told = first_upper(counted(len(rest), "picture"))
    yield Chapter("contact", "Contact sheets", (Paragraph(f"{told} {INTRO}", "lead"), *sections))


def _sheet(pictures: Iterable[Picture], held: Material, names: Names) -> Pictures:
    return Pictures(tuple(_shown(each, held, names) for each in pictures), small=True)


def _shown(each: Picture, held: Material, names: Names) -> ShownPicture:
    caption = next((use.caption for use in each.uses if use.caption), None)
    shows = dict.fromkeys(names.title(name) for use in each.uses for name in use.shows)
    seen = names.persons(dict.fromkeys(name for use in each.uses for name in use.seen))
    day = _taken(each, held.shelf)[:DAY]
    told = (day, caption, f"Seen: {seen}" if seen else "")
    return ShownPicture(
        number=held.choice.numbers[each.path],
        path=each.path,
        digest=each.file.digest,
        alt=caption or _alt(tuple(shows), day) or each.path,
        told=" ".join(sentence(words) for words in told if words),
    )


def _alt(shows: Sequence[str], day: str) -> str:
    """Words for who cannot see it: the tasks and the day, "" where neither is known."""
    if not shows:
        return f"Picture of {day}" if day else ""
    return ", ".join(word for word in (*shows, day) if word)
