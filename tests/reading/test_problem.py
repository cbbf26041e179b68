"""The record of a problem: its order, and the worst first."""

from __future__ import annotations

from builderlog.reading.problem import Place, doubt, gap, mistake, sort_worst_first


def test_line_9_stands_before_line_10() -> None:
    """Problems of one weight are in order of path, line and column as one triple."""
    places = [Place("b", 1), Place("a", 10), Place("a", 9, 12), Place("a", 9, 2)]
    told = sort_worst_first([mistake(place, "x", "y") for place in places])
    assert [(each.place.path, each.place.line, each.place.column) for each in told] == [
        ("a", 9, 2),
        ("a", 9, 12),
        ("a", 10, 1),
        ("b", 1, 1),
    ]


def test_the_worst_is_told_first_and_once() -> None:
    """Mistakes stand before doubts before gaps; the same problem is told once."""
    place = Place("a")
    problems = [gap(place, "g", "y"), doubt(place, "d", "y"), mistake(place, "m", "y")]
    assert [each.code for each in sort_worst_first(problems * 2)] == ["m", "d", "g"]
