"""The pictures over time: counted once each, the best of each month, few prints for many."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.public import PublicPhotoUse
from builderlog.sheets.book import open_book
from builderlog.sheets.chart_pictures import HIGHEST, PictureChart, picture_chart
from tests.drawing.made_public import EMPTY, FIRST, PUBLIC, RIBS, SKINS


def test_pictures_are_counted_in_their_note_s_month() -> None:
    """Two in March; the one that May's note links again counts there too."""
    chart = picture_chart(open_book(PUBLIC))
    assert chart
    assert [(month.month, month.count) for month in chart.months] == [
        ("2026-03", 2),
        ("2026-04", 0),
        ("2026-05", 1),
    ]
    best = chart.months[0].best
    assert best
    assert best.digest in {SKINS, RIBS}
    assert chart.print_words == "Every print is a picture."


def test_without_pictures_there_is_no_chart() -> None:
    """A journal of words alone draws none."""
    assert picture_chart(open_book(EMPTY)) is None


def chart_of(pictures: int) -> PictureChart:
    """The chart of a journal with one note and this many pictures in it."""
    uses = tuple(
        PublicPhotoUse(f"{n:064x}", None, (), "2026-03-14", FIRST.day, FIRST.key)
        for n in range(pictures)
    )
    many = replace(FIRST, photos=uses)
    chart = picture_chart(open_book(replace(PUBLIC, notes=(many,), months=PUBLIC.months[:1])))
    assert chart
    return chart


def test_many_pictures_share_a_print() -> None:
    """The highest pile stays within what a board can hold."""
    assert [chart_of(number).a_print for number in (HIGHEST, HIGHEST + 1)] == [1, 2]
    chart = chart_of(40)
    assert (chart.total, chart.a_print) == (40, 5)
    assert chart.total <= chart.a_print * HIGHEST
    assert chart.print_words == "Every print is 5 pictures."
    assert chart.description == "40 pictures in all."
