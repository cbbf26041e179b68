"""The numbers of the pictures over time: how many each month, and the best one of each."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.deciding.public import PublicMonth
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import Link, Photo
from builderlog.sheets.shots import best_photo, each_once

PRINTS = (1, 2, 5, 10, 20, 50, 100, 200, 500)  # pictures a print may stand for
HIGHEST = 15  # prints on one month


@dataclass(frozen=True, slots=True)
class PictureMonth:
    """The pictures of a month's public notes, and the best of them."""

    link: Link
    month: str  # "2026-03"
    short: str  # "Mar 2026"
    count: int
    words: str  # "6 pictures"
    best: Photo | None
    empty: bool


@dataclass(frozen=True, slots=True)
class PictureChart:
    """The pictures by month; `a_print` is how many pictures one print of the drawing stands for."""

    title: str
    description: str
    months: tuple[PictureMonth, ...]
    total: int
    a_print: int
    print_words: str  # "Every print is a picture."


def picture_chart(book: Book) -> PictureChart | None:
    """The pictures of the whole record; None where there are none."""
    months = tuple(_month(book, month) for month in book.public.months)
    total = sum(month.count for month in months)
    if not total:
        return None
    longest = max(month.count for month in months)
    each = next((number for number in PRINTS if longest <= number * HIGHEST), PRINTS[-1])
    return PictureChart(
        title="Pictures by month",
        description=_describe(months, total),
        months=months,
        total=total,
        a_print=each,
        print_words=_print_words(each),
    )


def _print_words(each: int) -> str:
    return "Every print is a picture." if each == 1 else f"Every print is {each} pictures."


def _month(book: Book, month: PublicMonth) -> PictureMonth:
    shots = tuple(shot for key in month.notes for shot in book.shots.get(key, ()))
    photos = each_once(shots)
    return PictureMonth(
        link=link_to_month(month.month),
        month=month.month,
        short=words.month_short(month.month),
        count=len(photos),
        words=words.counted(len(photos), "picture"),
        best=best_photo(shots),
        empty=month.evenings == 0,
    )


def _describe(months: tuple[PictureMonth, ...], total: int) -> str:
    most = max(months, key=lambda month: month.count)
    told = f" Most in {most.link.words}: {most.count}." if len(months) > 1 else ""
    return f"{words.counted(total, 'picture')} in all.{told}"
