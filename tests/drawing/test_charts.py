"""Holds what the chart of hours draws; its numbers are held where they are summed."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # our own SVG
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from builderlog.drawing.charts import HATCHES, hours_chart, swatch
from builderlog.sheets.book import open_book
from builderlog.sheets.chart import hours_chart as numbers
from builderlog.sheets.rows import HoursChart
from tests.drawing.made_public import HOUR, PUBLIC, month


def chart_of(*seconds: int) -> HoursChart:
    """A chart of one area with these seconds a month, from March 2026."""
    months = [month(f"2026-{n:02d}", each, ("x",)) for n, each in enumerate(seconds, start=3)]
    return numbers(open_book(PUBLIC), months, "Hours")


def drawn(chart: HoursChart) -> ET.Element:
    """The chart's SVG, read."""
    return ET.fromstring(str(hours_chart(chart, "hours")))  # noqa: S314 - our own SVG


def bars(svg: ET.Element) -> list[tuple[str, float, float]]:
    """(fill, start, width) of each part of a bar, in percent of the chart."""
    return [
        (
            rect.attrib["fill"],
            float(rect.attrib["x"].rstrip("%")),
            float(rect.attrib["width"].rstrip("%")),
        )
        for rect in svg.iter("rect")
    ]


def test_the_chart_is_named_and_described() -> None:
    """A reader who does not see it hears its title and one sentence that tells what it shows."""
    svg = drawn(chart_of(HOUR, 3 * HOUR))
    names = svg.attrib["aria-labelledby"].split()
    texts = {node.attrib["id"]: node.text for node in svg if "id" in node.attrib}
    assert texts[names[0]] == "Hours"
    assert "Most in April 2026" in str(texts[names[1]])


def test_bars_are_as_long_as_their_hours() -> None:
    """Twice the hours is twice the length, and a sum stands beside each bar."""
    svg = drawn(chart_of(HOUR, 2 * HOUR))
    (_, _, short), (_, _, long) = bars(svg)
    assert long == 2 * short
    assert [text.text for text in svg.iter("text") if text.get("class") == "sum"] == [
        "1:00",
        "2:00",
    ]


def test_a_month_without_notes_keeps_its_row() -> None:
    """A hole is drawn as a break line with words, between its neighbours."""
    chart = numbers(open_book(PUBLIC), PUBLIC.months, "Hours")
    svg = drawn(chart)
    words = [text.text for text in svg.iter("text") if text.get("class") != "sum"]
    assert words[:2] == ["Mar 2026", "W"]
    assert words[words.index("Apr 2026") + 1] == "no notes"
    assert len([line for line in svg.iter("line") if line.get("class") == "break"]) == 1


def test_areas_are_told_apart_without_colour() -> None:
    """Each area has a hatch of its own, its id on its part, and the same hatch in the legend."""
    two = replace(
        PUBLIC,
        areas=(*PUBLIC.areas, replace(PUBLIC.areas[0], id="T", name="Tail", tasks=())),
        months=(replace(PUBLIC.months[0], by_area=(("W", HOUR), ("T", HOUR), ("", HOUR))),),
    )
    svg = drawn(numbers(open_book(two), two.months, "Hours"))
    fills = [fill for fill, _, _ in bars(svg)]
    assert fills == ["url(#hours-hatch-0)", "url(#hours-hatch-1)", "url(#hours-hatch-2)"]
    assert {f"url(#{node.attrib['id']})" for node in svg.iter("pattern")} == set(fills)
    assert [text.text for text in svg.iter("text") if text.get("class") == "id"] == ["W", "T"]
    assert "url(#hours-hatch-1)" in str(swatch("hours", 1))


def test_more_areas_than_hatches_begin_anew() -> None:
    """The hatch after the last is the first again, so that every part has one."""
    assert "url(#hours-hatch-0)" in str(swatch("hours", len(HATCHES)))


def test_a_chart_without_hours_is_drawn() -> None:
    """Months with notes and no hours have no bar and divide by nothing."""
    assert bars(drawn(chart_of(0, 0))) == []


def test_a_name_in_a_chart_is_words() -> None:
    """An area's name with angle brackets does not become markup."""
    odd = replace(PUBLIC, areas=(replace(PUBLIC.areas[0], name="<b>&"),))
    svg = drawn(numbers(open_book(odd), odd.months, "Hours"))
    assert [node.text for node in svg.iter("title")][1] == "<b>&, March 2026: 3 h 15 min".replace(
        "3 h 15 min", "3\xa0h\xa015\xa0min"
    )


@given(st.lists(st.integers(0, 10**6), min_size=1, max_size=9))
def test_no_bar_leaves_the_chart(seconds: list[int]) -> None:
    """Every bar begins and ends within the chart, with room for its sum."""
    for _, start, width in bars(drawn(chart_of(*seconds))):
        assert 0 <= start <= start + width <= 90
