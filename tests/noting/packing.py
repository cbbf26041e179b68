"""Packing lists typed for tests: a table's text to its parts, and what is told about it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from builderlog.noting.packing_list import PackingList, packing_list
from builderlog.reading.csv_rows import read_csv

TODAY = date(2026, 11, 27)


def read(
    text: str, tasks: Mapping[str, str] | None = None, currency: str | None = "USD"
) -> PackingList:
    """A list that is well written as CSV."""
    table, problems = read_csv("list.csv", text.encode())
    assert problems == ()
    return packing_list(table, tasks, currency, TODAY)


def parts(text: str) -> list[str]:
    """`Rib 2 received` of each part; no mistake may be told."""
    found = read(text)
    assert not found.has_mistakes
    return [" ".join(filter(None, (p.part, p.count, p.status, p.cost))) for p in found.parts]


def told(found: PackingList) -> list[str]:
    """`line:column code (weight)` of all that is told, by place."""
    ordered = sorted(found.problems, key=lambda each: each.order)
    return [f"{p.place.line}:{p.place.column} {p.code} ({p.weight})" for p in ordered]
