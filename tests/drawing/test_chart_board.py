"""Holds how columns are laid on boards: a year or less on one, longer records a year a board."""

from __future__ import annotations

from builderlog.drawing.chart_board import Boards, Column, Part, boards
from builderlog.drawing.chart_ink import scale_of
from tests.drawing.chart_reader import boxes, read, words


def columns(first: int, count: int) -> tuple[Column, ...]:
    """Columns of one part each, from a month of 2024 on, counted from January."""
    names = [(2024 + n // 12, n % 12 + 1) for n in range(first - 1, first - 1 + count)]
    return tuple(
        Column(f"{year}-{n:02d}", f"m{n}", (Part(5, 0, "x"),), "5", empty=False)
        for year, n in names
    )


def drawn(first: int, count: int) -> list[tuple[float, int]]:
    """Where the columns stand: percent from the left, pixels from the top."""
    scale = scale_of(5, 1)
    svg = read(boards(Boards("x", ("a", "b"), columns(first, count), scale, ""), "name"))
    return [(bar.x, bar.y) for bar in boxes(svg, "bar")]


def test_a_year_or_less_is_one_board() -> None:
    """Twelve months over the turn of the year stand side by side."""
    places = drawn(6, 12)
    assert len({y for _, y in places}) == 1
    assert [x for x, _ in places] == sorted({x for x, _ in places})


def test_a_first_month_is_no_wider_than_a_sixth() -> None:
    """One month alone leaves room for those to come."""
    scale = scale_of(5, 1)
    [bar] = boxes(read(boards(Boards("x", ("a", "b"), columns(1, 1), scale, ""), "n")), "bar")
    assert bar.width < 15


def test_a_longer_record_is_a_board_a_year() -> None:
    """The same months of all years stand under one another, each year under its number."""
    places = drawn(3, 24)
    assert len({y for _, y in places}) == 3
    assert places[0][0] == places[12][0]  # March
    assert places[10][0] == places[22][0]  # January
    svg = read(boards(Boards("x", ("a", "b"), columns(3, 24), scale_of(5, 1), ""), "n"))
    assert words(svg, "year") == ["2024", "2025", "2026"]


def test_years_are_told_where_they_begin() -> None:
    """On one board the year stands under its first month, and under January."""
    svg = read(boards(Boards("x", ("a", "b"), columns(11, 4), scale_of(5, 1), ""), "n"))
    assert words(svg, "month year-of") == ["2024", "2025"]


def test_no_month_at_all_is_an_empty_chart() -> None:
    """Nothing to tell draws nothing and divides by nothing."""
    svg = read(boards(Boards("x", ("a", "b"), (), scale_of(0, 1), ""), "n"))
    assert boxes(svg, "bar") == []
