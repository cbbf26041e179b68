"""The forms a value can have, and how each is read from words: text, length of time, list, rows.

A form turns a node into a value or tells a mistake at the node's place; it never raises for
something the builder wrote. `Key` ties a word of the trade to its form, its meaning and an
example; the same keys feed the reader, the help and the documentation.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Generic, Protocol, TypeVar, cast

from builderlog.knowing.entries import DatedWord
from builderlog.knowing.units import (
    Length,
    UnreadableError,
    join_spans,
    parse_date,
    parse_last_day,
    parse_length,
)
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.quoting import in_braces, quote
from builderlog.reading.words import Node, Pair, Series, Table, Word

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)


@dataclass(slots=True)
class Desk:
    """Where one file is read: the problems so far, and the journal's currency for bare amounts."""

    problems: list[Problem] = field(default_factory=list)
    currency: str | None = None

    def tell(self, place: Place, code: str, message: str) -> None:
        """Adds a mistake."""
        self.problems.append(mistake(place, code, message))


class Form(Protocol[T_co]):
    """How a value is written."""

    @property
    def name(self) -> str:
        """What the help calls it, as in 'a date'."""

    def read(self, node: Node, desk: Desk) -> T_co | None:
        """The value; None where it cannot be read (told) or nothing is written."""


@dataclass(frozen=True)
class Key(Generic[T]):
    """One word of the vocabulary."""

    word: str
    form: Form[T]
    meaning: str
    example: str
    aliases: tuple[str, ...] = ()


@dataclass(slots=True)
class Row:
    """The values of one table by key, and where it stands."""

    place: Place
    values: dict[str, object]
    written: frozenset[str]  # keys that were there, readable or not

    def get(self, key: Key[T]) -> T | None:
        """The value of `key`, or None."""
        return cast("T | None", self.values.get(key.word))

    def need(self, key: Key[T]) -> T:
        """The value of a key that `Rows.needs` names, so that it is there."""
        return cast("T", self.values[key.word])

    def many(self, key: Key[tuple[T, ...]]) -> tuple[T, ...]:
        """The values of a list key, or none."""
        return self.get(key) or ()


def is_empty(node: Node) -> bool:
    """True for `key:` with nothing behind it."""
    return isinstance(node, Word) and node.empty


def nearest(word: str, known: Iterable[str]) -> str:
    """Ask `; did you mean 'hours'?` where a known word is near, else nothing."""
    names = {name.lower(): name for name in known}
    close = get_close_matches(word.lower(), names, 1, 0.6)
    return f"; did you mean '{names[close[0]]}'?" if close else ""


def read_row(table: Table, keys: tuple[Key[object], ...], desk: Desk, what: str) -> Row:
    """Reads every pair by its key; unknown keys and two names for one key are told."""
    by_word = {word: key for key in keys for word in (key.word, *key.aliases)}
    values: dict[str, object] = {}
    written: dict[str, Word] = {}
    for pair in table.pairs:
        key = by_word.get(pair.key.text)
        if key is None:
            _tell_unknown(pair, by_word, desk, what)
        elif key.word in written:
            told = f"'{pair.key.text}' and '{written[key.word].text}' are one key; keep one of them"
            desk.tell(pair.key.place, "repeated-key", told)
        else:
            written[key.word] = pair.key
            if not is_empty(pair.value):
                values[key.word] = key.form.read(pair.value, desk)
    return Row(table.place, values, frozenset(written))


def _tell_unknown(pair: Pair, known: dict[str, Key[object]], desk: Desk, what: str) -> None:
    hint = nearest(pair.key.text, known)
    if not hint:
        hint = f"; the keys here are {', '.join(dict.fromkeys(key.word for key in known.values()))}"
    desk.tell(pair.key.place, "unknown-key", f"'{pair.key.text}' is not a key of {what}{hint}")


def _word(node: Node, desk: Desk, wanted: str) -> Word | None:
    """The node as one word, else a mistake that says how to write a text that YAML took apart."""
    if isinstance(node, Word):
        return None if node.empty else node
    if isinstance(node, Table) and len(node.pairs) == 1 and isinstance(node.pairs[0].value, Word):
        pair = node.pairs[0]
        told = f"a colon wants quotes here; write {quote(f'{pair.key}: {pair.value}'.strip())}"
        desk.tell(node.place, "colon-in-value", told)
        return None
    kind = "a list" if isinstance(node, Series) else "a table"
    desk.tell(node.place, "wrong-form", f"{kind} stands where {wanted} should; write {wanted}")
    return None


@dataclass(frozen=True, slots=True)
class Text:
    """Words as written."""

    name: str = "a text"

    def read(self, node: Node, desk: Desk) -> Word | None:
        return _word(node, desk, self.name)


@dataclass(frozen=True)
class Parsed(Generic[T]):
    """One word that `parse` understands; parse raises UnreadableError."""

    name: str
    parse: Callable[[str], T]

    def read(self, node: Node, desk: Desk) -> T | None:
        word = _word(node, desk, self.name)
        if word is None:
            return None
        try:
            return self.parse(word.text)
        except UnreadableError as fault:
            desk.tell(word.place, "unreadable", str(fault))
            return None


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    words: tuple[str, ...]

    @property
    def name(self) -> str:
        return " | ".join(self.words)

    def read(self, node: Node, desk: Desk) -> str | None:
        word = _word(node, desk, self.name)
        if word is None or word.text in self.words:
            return word.text if word else None
        few = f"one of {', '.join(self.words)}" if len(self.words) > 1 else self.words[0]
        hint = nearest(word.text, self.words) or f"; write {few}"
        desk.tell(word.place, "unknown-word", f"'{word.text}' is none of the words for this{hint}")
        return None


@dataclass(frozen=True, slots=True)
class YesNo:
    """`yes` or `no`; `true` and `false` mean the same."""

    name: str = "yes | no"

    def read(self, node: Node, desk: Desk) -> bool | None:
        word = _word(node, desk, "yes or no")
        if word is None:
            return None
        if word.text.lower() not in {"yes", "no", "true", "false"}:
            desk.tell(word.place, "unknown-word", f"'{word.text}' is neither; write yes or no")
            return None
        return word.text.lower() in {"yes", "true"}


@dataclass(frozen=True, slots=True)
class Day:
    """A date, `2026-03-14`."""

    name: str = "a date"

    def read(self, node: Node, desk: Desk) -> DatedWord | None:
        word = _word(node, desk, "a date, as in 2026-03-14")
        day = Parsed("a date", parse_date).read(word, desk) if word else None
        return DatedWord(day, word.place) if word and day else None


@dataclass(frozen=True, slots=True)
class LastDay:
    """A date, or a month as labels print it, `2026-11`, which means its last day."""

    name: str = "a date or a month"

    def read(self, node: Node, desk: Desk) -> DatedWord | None:
        word = _word(node, desk, "a date, as in 2026-11-30")
        day = Parsed("a date", parse_last_day).read(word, desk) if word else None
        return DatedWord(day, word.place) if word and day else None


@dataclass(frozen=True, slots=True)
class Time:
    """A length of time, or a list of clock spans."""

    name: str = "a length of time"

    def read(self, node: Node, desk: Desk) -> Length | None:
        if not isinstance(node, Series):
            return Parsed(self.name, parse_length).read(node, desk)
        told = len(desk.problems)
        lengths = tuple(self.read(item, desk) for item in node.items)
        if len(desk.problems) > told:
            return None
        try:
            return join_spans(tuple(length for length in lengths if length))
        except UnreadableError as fault:
            desk.tell(node.place, "unreadable", str(fault))
            return None


@dataclass(frozen=True)
class Many(Generic[T]):
    """A list; one item needs no brackets. Items that cannot be read are left out and told."""

    form: Form[T]

    @property
    def name(self) -> str:
        return f"{self.form.name}, or a list of them"

    def read(self, node: Node, desk: Desk) -> tuple[T, ...]:
        items = node.items if isinstance(node, Series) else (node,)
        read = (self.form.read(item, desk) for item in items if not is_empty(item))
        return tuple(item for item in read if item is not None)


@dataclass(frozen=True)
class Rows(Generic[T]):
    """A table with keys of its own, made into an entry; a bare word stands for the key `short`."""

    what: str
    keys: tuple[Key[object], ...]
    make: Callable[[Row], T | None]
    needs: tuple[str, ...] = ()
    short: str | None = None

    @property
    def name(self) -> str:
        return "{" + ", ".join(key.word for key in self.keys) + "}"

    def read(self, node: Node, desk: Desk) -> T | None:
        if isinstance(node, Word) and node.plain and self.short and self._glued(node, desk):
            return None
        if self.short and self._stands_short(node):
            node = Table((Pair(Word(self.short, node.place), node),), node.place)
        if not isinstance(node, Table):
            found = "a list" if isinstance(node, Series) else f"'{node}'"
            desk.tell(
                node.place,
                "wrong-form",
                f"{found} stands where {self.what} should; write {self.name}",
            )
            return None
        row = read_row(node, self.keys, desk, self.what)
        missing = [word for word in self.needs if row.values.get(word) is None]
        for word in missing:
            if word not in row.written or _left_empty(node, word):
                desk.tell(
                    node.place, "missing-key", f"{self.what} needs '{word}:'; write {word}: …"
                )
        return None if missing else self.make(row)

    def _stands_short(self, node: Node) -> bool:
        """A word, or a list where the key `short` takes a list."""
        lists = any(isinstance(key.form, Many) for key in self.keys if key.word == self.short)
        return isinstance(node, Word) or (lists and isinstance(node, Series))

    def _glued(self, word: Word, desk: Desk) -> bool:
        """`- part:bolt`: to YAML one word, to the builder a key with its value."""
        key, colon, rest = word.text.partition(":")
        if not colon or key not in {key.word for key in self.keys}:
            return False
        told = f"'{word}' has no space after its colon; write {key}: {rest}"
        desk.tell(word.place, "no-space-after-colon", told)
        return True


def _left_empty(table: Table, word: str) -> bool:
    return any(pair.key.text == word and is_empty(pair.value) for pair in table.pairs)


@dataclass(frozen=True)
class ByName(Generic[T]):
    """A table from free names to values, as in people or wrenches; `make` gets name and value."""

    what: str
    form: Form[T]
    fill: str | None = None  # an example; None: a name alone says enough

    @property
    def name(self) -> str:
        return f"name: {self.form.name}"

    def read(self, node: Node, desk: Desk) -> tuple[tuple[Word, T | None], ...] | None:
        if not isinstance(node, Table):
            desk.tell(node.place, "wrong-form", f"{self.what} are written name: value, one a line")
            return None
        return tuple((pair.key, self._value(pair, desk)) for pair in node.pairs)

    def _value(self, pair: Pair, desk: Desk) -> T | None:
        if not is_empty(pair.value):
            return self.form.read(pair.value, desk)
        if self.fill is not None:
            told = f"'{pair.key}' has no value; write {in_braces(pair.key.text)}: {self.fill}"
            desk.tell(pair.key.place, "no-value", told)
        return None
