"""The words of a file as they were written: words, series and tables, each with its place.

No value is converted here: `010` stays "010", `No` stays "No", `3:15` stays "3:15".
"""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.reading.problem import Place


@dataclass(frozen=True, slots=True)
class Word:
    """One scalar as written, without its quotes; `plain` says that it had none."""

    text: str
    place: Place
    plain: bool = True

    @property
    def empty(self) -> bool:
        """True for `key:` with nothing after it; false for a quoted empty text."""
        return self.plain and not self.text

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Series:
    """A list, in brackets or with dashes."""

    items: tuple[Node, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Pair:
    """A key with its value."""

    key: Word
    value: Node


@dataclass(frozen=True, slots=True)
class Table:
    """Keys with values, in braces or one a line; keys are unique, in the file's order."""

    pairs: tuple[Pair, ...]
    place: Place


Node = Word | Series | Table
