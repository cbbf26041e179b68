"""How a table of a bag differs from what its notes give: the first difference, in words."""

from __future__ import annotations

import json
from itertools import zip_longest

from builderlog.handover.fault import printable
from builderlog.handover.tables import TableError, read_table

LONGEST_SHOWN = 80  # characters

Row = tuple[str, ...]

_NOTHING = object()  # where one of two documents has no value at all


def table_difference(found: bytes, expected: bytes) -> str:
    """The first difference between two CSV tables that are not the same."""
    try:
        rows = read_table(found)
    except TableError as error:
        return f"it differs from what the notes give: {error}"
    return _difference(rows, read_table(expected))


def _difference(found: list[Row], expected: list[Row]) -> str:
    """Rows are counted as a spreadsheet counts them: the names of the columns are row 1."""
    if found[:1] != expected[:1]:
        return f"its columns are {_cells(found[:1])}; the notes give {_cells(expected[:1])}"
    pairs = zip_longest(found[1:], expected[1:])
    for number, (row, right) in enumerate(pairs, start=2):
        if row is None:
            return f"row {number} is missing: the notes give {_cells([right])}"
        if right is None:
            return f"row {number} is one too many: {_cells([row])}"
        if row != right:
            return f"row {number}, {_column(expected[0], row, right)}"
    return "it says the same as the notes, but in other bytes (quotes or line ends)"


def _column(header: Row, row: Row, right: Row) -> str:
    for name, says, is_right in zip(header, row, right, strict=False):
        if says != is_right:
            return f"column {name}: the table says {_cell(says)}, the notes say {_cell(is_right)}"
    return f"has {len(row)} cells, not {len(right)}"


def _cells(rows: list[Row]) -> str:
    return ", ".join(_cell(cell) for cell in rows[0]) if rows else "none"


def _cell(text: str) -> str:
    """A cell that may hold anything, short enough to be read."""
    return f"'{printable(text[:LONGEST_SHOWN])}{'…' if len(text) > LONGEST_SHOWN else ''}'"


def json_difference(found: bytes, expected: bytes) -> str:
    """The first difference between two JSON documents that are not the same."""
    try:
        place = _first(json.loads(found), json.loads(expected))
    except (ValueError, RecursionError) as error:
        return f"it differs from what the notes give: it is no JSON ({str(error)[:LONGEST_SHOWN]})"
    if place is None:
        return "it says the same as the notes, but in other bytes"
    where, says, right = place
    name = printable(where.removeprefix(".")) or "the whole"
    return f"{name}: the file says {says}, the notes say {right}"


def _first(found: object, expected: object) -> tuple[str, str, str] | None:
    """Where two values first differ, and what stands there; the nesting is that of `expected`."""
    if isinstance(found, dict) and isinstance(expected, dict):
        names = dict.fromkeys((*expected, *found))
        pairs = ((f".{name}", found.get(name, _NOTHING), expected.get(name, _NOTHING))
                 for name in names)  # fmt: skip
    elif isinstance(found, list) and isinstance(expected, list):
        both = zip_longest(found, expected, fillvalue=_NOTHING)
        pairs = ((f"[{number}]", one, other) for number, (one, other) in enumerate(both))
    else:
        is_same = type(found) is type(expected) and found == expected
        return None if is_same else ("", _value(found), _value(expected))
    inner = ((step, _first(one, other)) for step, one, other in pairs)
    return next(((step + at[0], *at[1:]) for step, at in inner if at is not None), None)


def _value(value: object) -> str:
    return "nothing" if value is _NOTHING else _cell(json.dumps(value, ensure_ascii=False))
