"""Holds the bars of estimates and money: one scale, the estimate a line, more than it apart."""

from __future__ import annotations

from builderlog.drawing.chart_bars import bar_hatches, bar_swatch, estimate_bar, length_bar
from builderlog.sheets.chart_estimates import EstimateRow
from builderlog.sheets.rows import time_of
from tests.drawing.chart_reader import boxes, read
from tests.drawing.made_public import HOUR


def row(hours: int, estimate: int | None) -> EstimateRow:
    """An area's hours and estimate."""
    aim = time_of(estimate * HOUR) if estimate else None
    return EstimateRow("W", "Wings", None, time_of(hours * HOUR), aim, "10 h of 20 h")


def test_a_bar_lies_in_the_outline_of_its_estimate() -> None:
    """Half the estimate is half the outline, and the words say both."""
    svg = read(estimate_bar(row(10, 20), 20 * HOUR, "b"))
    [outline], [bar] = boxes(svg, "stock"), boxes(svg, "bar")
    assert abs(outline.width - 2 * bar.width) < 0.2
    assert svg.attrib["aria-label"] == "Wings: 10 h of 20 h estimated"


def test_what_is_over_the_estimate_has_a_hatch_of_its_own() -> None:
    """The part beyond the line begins where the line stands."""
    svg = read(estimate_bar(row(30, 20), 30 * HOUR, "b"))
    worked, over = boxes(svg, "bar")
    assert worked.right == over.x
    assert worked.fill != over.fill
    aims = [line for line in svg.iter("line") if line.attrib["class"] == "aim"]
    assert [float(line.attrib["x1"].rstrip("%")) for line in aims] == [worked.right]


def test_without_estimate_there_is_neither_outline_nor_line() -> None:
    """Hours alone are one piece; no hours at all are none."""
    svg = read(estimate_bar(row(10, None), 20 * HOUR, "b"))
    assert boxes(svg, "stock") == []
    assert len(boxes(svg, "bar")) == 1
    assert boxes(read(estimate_bar(row(0, None), 0, "b")), "bar") == []


def test_every_hatch_of_the_bars_is_defined() -> None:
    """What bars and samples are filled with stands among the page's hatches."""
    defined = str(bar_hatches("b"))
    drawn = (
        estimate_bar(row(30, 20), 30 * HOUR, "b"),
        length_bar(1, 2, "b"),
        bar_swatch("worked", "b"),
        bar_swatch("over", "b"),
    )
    fills = {
        rect.attrib["fill"]
        for each in drawn
        for rect in read(each).iter("rect")
        if "fill" in rect.attrib
    }
    assert len(fills) == 3
    assert all(f'id="{fill[5:-1]}"' in defined for fill in fills)


def test_what_is_more_than_nothing_is_seen() -> None:
    """Four of twenty thousand are a sliver, none of them nothing."""
    assert boxes(read(length_bar(4, 20_000, "b")), "bar")[0].width > 0
    assert boxes(read(length_bar(0, 20_000, "b")), "bar") == []


def test_a_length_beside_words_is_not_read_out() -> None:
    """The words beside it say the same."""
    assert read(length_bar(1, 2, "b")).attrib["aria-hidden"] == "true"
