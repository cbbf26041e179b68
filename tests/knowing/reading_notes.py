"""Values of the knowing room as lines `name[0].field = text`, for cases and comparisons."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any

from builderlog.knowing.entries import DatedWord, Money, Note
from builderlog.knowing.hours import length_text
from builderlog.knowing.notes import note_of
from builderlog.knowing.units import Length, Quantity
from builderlog.reading.front_matter import read_note
from builderlog.reading.problem import Place, Problem
from builderlog.reading.prose import Prose
from builderlog.reading.words import Word
from tests.reading.case_file import shown
from tests.reading.reading_yaml import PATH


def _length(value: Length) -> str:
    spans = "".join(f" [{span.start}-{span.end}]" for span in value.spans)
    return length_text(value.seconds) + spans


WRITERS: dict[type, Callable[[Any], str]] = {
    Word: lambda word: str(word.text),
    DatedWord: lambda word: str(word.day),
    Length: _length,
    Quantity: lambda it: f"{it.low} to {it.high} {it.unit}, written {it.written}",
    Money: lambda money: f"{money.amount} {money.currency}",
    bool: lambda _: "yes",
    Enum: lambda kind: str(kind.value),
    str: str,
    int: str,
    Decimal: str,
    date: str,
}


def read(data: bytes, path: str = PATH) -> tuple[Note, tuple[Problem, ...]]:
    """A note with all its own mistakes, in a journal whose currency is the US dollar."""
    raw, problems = read_note(path, data)
    note, more = note_of(raw, "USD")
    return note, (*problems, *more)


def lines_of(value: object, name: str = "") -> Iterator[str]:
    """What stands in a record, field by field; places, prose and what is empty left out."""
    match value:
        case None | False | () | Place() | Prose():
            return
        case tuple():
            for index, item in enumerate(value):
                yield from lines_of(item, f"{name}[{index}]")
        case _ if (text := _text(value)) is not None:
            yield shown(f"{name} = {text}".rstrip(" "))
        case _ if is_dataclass(value):
            for field in fields(value):
                inner = field.name if not name else f"{name}.{field.name}"
                yield from lines_of(getattr(value, field.name), inner)
        case _:
            raise AssertionError(f"{name} is a {type(value)}")


def _text(value: object) -> str | None:
    writers = (writer for kind, writer in WRITERS.items() if isinstance(value, kind))
    writer = next(writers, None)
    return writer(value) if writer else None
