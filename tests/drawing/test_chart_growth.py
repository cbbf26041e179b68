"""Holds the stair of the running total: it only climbs, and its words have room."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.drawing.chart_growth import growth_drawing
from builderlog.sheets.book import open_book
from builderlog.sheets.chart_growth import GrowthChart, growth_chart
from tests.drawing.chart_reader import boxes, read, told, words
from tests.drawing.made_public import HOUR, PUBLIC, month, task


def chart_of(seconds: list[int], estimate: int = 0) -> GrowthChart:
    """The running total of these seconds a month, from March 2026."""
    running = 0
    months = []
    for n, each in enumerate(seconds, start=2):
        running += each
        name = f"{2026 + n // 12}-{n % 12 + 1:02d}"
        months.append(replace(month(name, each, ("x",)), running_seconds=running))
    aim = replace(task("W1"), estimate_seconds=estimate or None)
    chart = growth_chart(open_book(replace(PUBLIC, months=tuple(months), tasks=(aim,))))
    assert chart
    return chart


@given(st.lists(st.integers(0, 10**6), min_size=2, max_size=40))
@settings(max_examples=20)
def test_the_stair_only_climbs(seconds: list[int]) -> None:
    """No month stands lower than the one before it, all on one line, side by side."""
    steps = boxes(read(growth_drawing(chart_of(seconds), "g")), "ground")
    assert [step.y for step in steps] == sorted((step.y for step in steps), reverse=True)
    assert len({step.y + step.height for step in steps}) <= 1
    assert [step.x for step in steps] == sorted(step.x for step in steps)
    assert all(step.right <= 100 for step in steps)


def test_the_total_and_round_hours_are_written() -> None:
    """The end tells the total; round hundreds stand where they were passed."""
    svg = read(growth_drawing(chart_of([30 * HOUR] * 8), "g"))
    assert words(svg, "total") == ["240\N{NO-BREAK SPACE}h"]
    assert "200\N{NO-BREAK SPACE}h, Sep 2026" in words(svg, "passed")
    assert told(svg)[0] == "How the hours grew"


def test_words_without_room_are_left_out() -> None:
    """What was passed in the first months would stand on the rule: the description tells it."""
    chart = chart_of([100 * HOUR, 0, 0, 0, 0, 0])
    svg = read(growth_drawing(chart, "g"))
    assert words(svg, "passed") == []
    assert "Passed 100\N{NO-BREAK SPACE}h in Mar 2026." in chart.description


def test_an_estimate_is_a_line_only_where_it_is_near() -> None:
    """Three times the total is drawn, more would flatten the stair and is told in words alone."""
    near, far = chart_of([10 * HOUR] * 2, 60 * HOUR), chart_of([10 * HOUR] * 2, 61 * HOUR)
    assert words(read(growth_drawing(near, "g")), "aim-words") == [
        "all tasks: 60\N{NO-BREAK SPACE}h"
    ]
    assert words(read(growth_drawing(far, "g")), "aim-words") == []
    assert "estimates of all tasks come to 61" in far.description


def test_a_long_record_tells_years_alone() -> None:
    """Beyond a year each January has its year, none so late that it would leave the drawing."""
    svg = read(growth_drawing(chart_of([HOUR] * 24), "g"))
    assert words(svg, "from") == ["2027"]
    assert words(svg, "month") == []
