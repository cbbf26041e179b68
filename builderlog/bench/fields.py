"""Fields as a browser sends them: several values to a name, rows by their number in the name."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

Fields = Mapping[str, Sequence[str]]

HOURS = "hours:"  # before a person's name


def one(fields: Fields, name: str) -> str:
    """The first value without blanks around it, or nothing."""
    return next(iter(fields.get(name, ())), "").strip()


def many(fields: Fields, name: str) -> tuple[str, ...]:
    """Every value that says something, each once."""
    values = (value.strip() for value in fields.get(name, ()))
    return tuple(dict.fromkeys(value for value in values if value))


def split(fields: Fields, name: str) -> tuple[str, ...]:
    """The same, where one value may also hold several between commas."""
    parts = (part.strip() for value in fields.get(name, ()) for part in re.split(r"[,;\n]", value))
    return tuple(dict.fromkeys(part for part in parts if part))


def lines(fields: Fields, name: str) -> tuple[str, ...]:
    """Every line that says something."""
    found = (line.strip() for value in fields.get(name, ()) for line in value.splitlines())
    return tuple(dict.fromkeys(line for line in found if line))


def rows(fields: Fields, head: str) -> tuple[int, ...]:
    """The numbers of the rows that have a field `head-3` or `head-3-…`, in order."""
    pattern = re.compile(rf"{head}-(\d{{1,3}})(?:-.*)?")
    return tuple(sorted({int(found[1]) for name in fields if (found := pattern.fullmatch(name))}))


def filled(fields: Fields, head: str) -> tuple[int, ...]:
    """The rows in which something was written or ticked."""
    return tuple(number for number in rows(fields, head) if _says(fields, f"{head}-{number}"))


def _says(fields: Fields, row: str) -> bool:
    return any(many(fields, name) for name in fields if name == row or name.startswith(f"{row}-"))
