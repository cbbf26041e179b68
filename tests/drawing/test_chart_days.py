"""Holds the days in the shop: a rule a month, a shim an hour begun, and only public days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from builderlog.drawing.chart_days import days_drawing, days_swatch
from builderlog.sheets.book import open_book
from builderlog.sheets.chart_days import DaysYear, days_chart
from tests.drawing.chart_reader import boxes, read, told, words
from tests.drawing.made_public import FIRST, HOUR, PUBLIC, month


def year_of(*days: tuple[str, int], hidden: int = 0) -> DaysYear:
    """March 2026 with these days and seconds, and so many days more that are not shown."""
    notes = tuple(
        replace(FIRST, key=day, day=date.fromisoformat(day), seconds=seconds)
        for day, seconds in days
    )
    march = month("2026-03", 1, tuple(note.key for note in notes))
    march = replace(march, days=len(days) + hidden)
    chart = days_chart(open_book(replace(PUBLIC, notes=notes, months=(march,))))
    assert chart
    return chart.years[0]


def test_every_hour_begun_is_a_shim_on_its_day() -> None:
    """Three hours and a minute are four shims, on the day's place on the rule."""
    svg = read(days_drawing(year_of(("2026-03-01", 3 * HOUR + 60), ("2026-03-31", 1)), "Days", "d"))
    shims = boxes(svg, "shim")
    assert [round(shim.x) for shim in shims] == [11] * 4 + [89]
    assert len({shim.y for shim in shims}) == 4
    groups = [group.findtext("title") or "" for group in svg.iter("g")]
    assert groups[0].startswith("Sunday 1 March 2026: 3")


def test_the_year_is_named_and_counted() -> None:
    """Whoever does not see it hears which year, and how many days."""
    title, description = told(read(days_drawing(year_of(("2026-03-02", 1)), "Days", "d")))
    assert (title, description) == ("Days, 2026", "1 day.")


def test_days_not_shown_are_a_number_beside_the_rule() -> None:
    """Their place on it is not told."""
    svg = read(days_drawing(year_of(("2026-03-02", HOUR), hidden=2), "Days", "d"))
    assert words(svg, "not-shown") == ["+2"]
    assert len(boxes(svg, "shim")) == 1


def test_a_rule_is_as_long_as_its_month_and_shows_its_weekends() -> None:
    """March 2026 has nine Saturdays and Sundays, the first of them its first day."""
    svg = read(days_drawing(year_of(("2026-03-02", HOUR)), "Days", "d"))
    weekends = boxes(svg, "weekend")
    assert len(weekends) == 9
    assert weekends[0].x == 10.4
    ticks = [line for line in svg.iter("line") if line.attrib["class"] == "tick"]
    assert len(ticks) == 32


def test_the_samples_are_drawn_as_in_the_chart() -> None:
    """A shim and a weekend in the legend are boxes of the same kind."""
    assert boxes(read(days_swatch("shim")), "shim")
    assert boxes(read(days_swatch("weekend")), "weekend")
