"""Tables of hours typed for tests: a table's text to what it says, and what is told about it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from builderlog.noting.hours_table import Asked, HoursTable, hours_table
from builderlog.noting.hours_table_days import Order
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.problem import Problem, Weight

TODAY = date(2026, 11, 27)
BUILDER = "Ines"


def read(
    text: str,
    people: Mapping[str, str] | None = None,
    tasks: Mapping[str, str] | None = None,
    order: Order | None = None,
) -> HoursTable:
    """A table that is well written as CSV, read on TODAY."""
    table, problems = read_csv("hours.csv", text.encode())
    assert problems == ()
    return hours_table(table, Asked(BUILDER, TODAY, people or {}, tasks, order))


def times(text: str, people: Mapping[str, str] | None = None) -> list[str]:
    """`2026-03-14 Ines 2h30` for each time of each row; no mistake may be told."""
    found = read(text, people)
    assert mistakes(found) == []
    return [
        f"{session.day} {person} {time.words}"
        for session in found.sessions
        for person, time in session.times
    ]


def told(found: HoursTable) -> list[str]:
    """`line:column code (weight)` of all that is told, by place."""
    ordered = sorted(found.problems, key=lambda each: each.order)
    return [f"{p.place.line}:{p.place.column} {p.code} ({p.weight})" for p in ordered]


def mistakes(found: HoursTable) -> list[Problem]:
    """What must be mended."""
    return [each for each in found.problems if each.weight is Weight.MISTAKE]


def message(found: HoursTable, code: str) -> str:
    """The sentence of the one problem of that code."""
    (one,) = (each for each in found.problems if each.code == code)
    return one.message
