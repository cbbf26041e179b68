"""Holds what the charts of columns draw; their numbers are held where they are summed."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.drawing.charts import hours_chart, money_drawing, pictures_drawing
from builderlog.sheets.book import link_to_month, open_book
from builderlog.sheets.chart import hours_chart as numbers
from builderlog.sheets.chart_money import MoneyChart, MoneyMonth
from builderlog.sheets.chart_pictures import PictureChart, PictureMonth
from builderlog.sheets.rows import HoursChart
from tests.drawing.chart_reader import boxes, read, told, words
from tests.drawing.made_public import HOUR, PUBLIC, month


def chart_of(*seconds: int) -> HoursChart:
    """A chart of one area with these seconds a month, from March 2026."""
    months = [
        month(f"{2026 + n // 12}-{n % 12 + 1:02d}", each, ("x",))
        for n, each in enumerate(seconds, start=2)
    ]
    return numbers(open_book(PUBLIC), months, "Hours")


def two_areas() -> HoursChart:
    """One month with an hour in each of two areas and one in none."""
    two = replace(
        PUBLIC,
        areas=(*PUBLIC.areas, replace(PUBLIC.areas[0], id="T", name="Tail", tasks=())),
        months=(replace(PUBLIC.months[0], by_area=(("W", HOUR), ("T", HOUR), ("", HOUR))),),
    )
    return numbers(open_book(two), two.months, "Hours")


def test_the_chart_is_named_and_described() -> None:
    """A reader who does not see it hears its title and one sentence that tells what it shows."""
    title, description = told(read(hours_chart(chart_of(HOUR, 3 * HOUR), "hours")))
    assert title == "Hours"
    assert "Most in April 2026" in description


def test_columns_are_as_high_as_their_hours() -> None:
    """Twice the hours is twice the height, and the hours stand above each column."""
    svg = read(hours_chart(chart_of(2 * HOUR, 4 * HOUR), "hours"))
    low, high = boxes(svg, "bar")
    assert high.height == 2 * low.height
    assert words(svg, "sum") == ["2", "4"]


def test_a_month_without_notes_keeps_its_place() -> None:
    """A hole is drawn as a break between its neighbours, and no sum stands over it."""
    chart = numbers(open_book(PUBLIC), PUBLIC.months, "Hours")
    svg = read(hours_chart(chart, "hours"))
    assert words(svg, "month") == ["Mar", "Apr", "May"]
    assert len([path for path in svg.iter("path") if path.get("class") == "break"]) == 1
    assert words(svg, "sum") == ["3.3", "0"]


def test_areas_are_told_apart_without_colour() -> None:
    """Each area has a hatch and its id; time of no area is blank paper, on top of the others."""
    svg = read(hours_chart(two_areas(), "hours"))
    bars = boxes(svg, "bar")
    assert [bar.fill for bar in bars] == ["url(#hours-hatch-0)", "url(#hours-hatch-1)", "none"]
    assert [bar.y for bar in bars[:2]] == [bar.y + bar.height for bar in bars[1:]]
    drawn = {f"url(#{node.attrib['id']})" for node in svg.iter("pattern")}
    assert drawn == {bar.fill for bar in bars[:2]}
    assert words(svg, "id") == ["W", "T"]


def test_a_chart_without_hours_is_drawn() -> None:
    """Months with notes and no hours have no column and divide by nothing."""
    assert boxes(read(hours_chart(chart_of(0, 0), "hours")), "bar") == []


def test_a_name_in_a_chart_is_words() -> None:
    """An area's name with angle brackets does not become markup."""
    odd = replace(PUBLIC, areas=(replace(PUBLIC.areas[0], name="<b>&"),))
    svg = read(hours_chart(numbers(open_book(odd), odd.months, "Hours"), "hours"))
    assert boxes(svg, "bar")[0].said.startswith("<b>&, March 2026: 3")


@given(st.lists(st.integers(0, 10**6), min_size=1, max_size=40))
@settings(max_examples=20)
def test_no_column_leaves_the_chart(seconds: list[int]) -> None:
    """However many months and however long, every column stands on its board inside the chart."""
    svg = read(hours_chart(chart_of(*seconds), "hours"))
    for bar in boxes(svg, "bar"):
        assert 10 <= bar.x <= bar.right <= 100
        assert 20 <= bar.y <= bar.y + bar.height <= int(svg.attrib["height"])


def money_of(*units: int) -> MoneyChart:
    """A chart of money with these whole units a month, from January 2026."""
    months = tuple(
        MoneyMonth(link_to_month(name), name, "x", str(each), each, empty=False)
        for n, each in enumerate(units, start=1)
        for name in [f"2026-{n:02d}"]
    )
    return MoneyChart("Money", "All of it.", "USD", "9", (), (), months)


def test_money_stands_in_columns_with_short_sums() -> None:
    """A sum of four digits is written in thousands, so that neighbours do not touch."""
    svg = read(money_drawing(money_of(804, 3445, 0), "money"))
    assert words(svg, "sum") == ["804", "3.4k"]
    assert [bar.said for bar in boxes(svg, "bar")] == ["January 2026: 804", "February 2026: 3445"]
    assert told(svg) == ("Money by month", "All of it.")


def prints_of(each: int, *counts: int) -> PictureChart:
    """A chart of pictures, so many a month, so many a print."""
    months = tuple(
        PictureMonth(link_to_month(name), name, "x", count, "", None, empty=False)
        for n, count in enumerate(counts, start=1)
        for name in [f"2026-{n:02d}"]
    )
    return PictureChart("Pictures", "Many.", months, sum(counts), each, "")


def test_every_picture_is_a_print() -> None:
    """As many prints lie on one another as there are pictures, the last one cut where it must."""
    svg = read(pictures_drawing(prints_of(1, 3, 0, 5), "pictures"))
    assert len(boxes(svg, "print")) == 8
    assert words(svg, "sum") == ["3", "5"]
    last = boxes(read(pictures_drawing(prints_of(10, 25), "pictures")), "print")
    assert len(last) == 3
    assert last[2].height < last[1].height
