"""YAML text to a tree of words: libyaml's events, no guesses, nothing lost in silence.

Built from events, not from composed nodes, so that tags, anchors and aliases are seen before
anything is made of them and depth is bounded. Where one reading alone makes sense of a broken
line, the mistake is told and reading goes on with that reading (`yaml_mending`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

import yaml

from builderlog.reading.problem import Problem, mistake
from builderlog.reading.quoting import quoted_line
from builderlog.reading.source import Source
from builderlog.reading.words import Node, Pair, Series, Table, Word
from builderlog.reading.yaml_comments import Seen, lost_values, other_comments
from builderlog.reading.yaml_masks import readable, restore
from builderlog.reading.yaml_mending import (
    GLUED_KEY,
    Marker,
    Mend,
    mend_error,
    mend_markers,
)

MAX_DEPTH = 12  # journal files need 5; libyaml's time grows with the square of the depth
MAX_MENDS = 60  # a file with more broken lines than this is told up to here
_COLON = re.compile(r"\s*:")
_ITEM_IN_TEXT = re.compile(r"(?<=[\r\n])[ \t]*-[ \t]")


def _index(mark: Any) -> int:  # noqa: ANN401 - libyaml's mark has a type of its own
    """The mark's offset in characters; libyaml sets one on every event."""
    return int(mark.index)


@dataclass(slots=True)
class _Frame:
    """One open series or table while events come in."""

    start: int
    is_table: bool
    in_flow: bool = False
    items: list[Node] = field(default_factory=list)


class _StopReading(Exception):
    """Nothing more can be read; `problem` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


@dataclass(slots=True)
class _Builder:
    """Collects events into a tree; what was complete when an error came is kept."""

    source: Source
    chunk: str
    base: int
    roots: list[Node] = field(default_factory=list)
    frames: list[_Frame] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    markers: list[Marker] = field(default_factory=list)
    seen: list[Seen] = field(default_factory=list)

    @property
    def flow(self) -> str:
        """The bracket that the next event stands in, or nothing."""
        if not self.frames or not self.frames[-1].in_flow:
            return ""
        return "{" if self.frames[-1].is_table else "["

    @property
    def last_quote(self) -> int | None:
        """Where the last word begins, if it stands in quotes over several lines."""
        last = self.seen[-1] if self.seen else None
        if last is None or last.plain or self.chunk[last.start] not in "\"'":
            return None
        return last.start if re.search(r"[\r\n]", self.chunk[last.start : last.end]) else None

    def read(self) -> None:
        """Takes in all events; raises yaml.YAMLError where libyaml cannot go on."""
        for event in yaml.parse(self.chunk, Loader=yaml.CBaseLoader):
            self._take(event)

    def _take(self, event: yaml.Event) -> None:
        match event:
            case yaml.ScalarEvent() | yaml.AliasEvent():
                self._add(self._word(event))
            case yaml.MappingStartEvent() | yaml.SequenceStartEvent():
                self._open(event)
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self._close(_index(event.end_mark))
            case yaml.DocumentStartEvent() if self.roots:
                raise _StopReading(
                    mistake(
                        self.source.place(self.base + _index(event.start_mark)),
                        "second-document",
                        "a second part begins here with '---'; keep one part in this file",
                    )
                )

    def _word(self, event: yaml.ScalarEvent | yaml.AliasEvent) -> Word:
        start, end = _index(event.start_mark), _index(event.end_mark)
        place = self.source.place(self.base + start, self.base + end)
        if isinstance(event, yaml.AliasEvent):
            self.markers.append(Marker(start, self.flow))
            return Word("", place)
        self._note_marker(event)
        plain = not event.style
        if end > start:
            self.seen.append(Seen(start, end, plain, self.flow))
        if plain:
            self._refuse_items(start, end)
        return Word(restore(event.value), place, plain)

    def _refuse_items(self, start: int, end: int) -> None:
        """`- a` with ` - b` below it is one text to YAML; nobody means that."""
        for found in _ITEM_IN_TEXT.finditer(self.chunk, start, end):
            told = (
                "this line is set in further than the one above, so YAML reads it as part of that "
                "text; begin both in the same column"
            )
            at = self.source.place(self.base + found.end() - 2)
            self.problems.append(mistake(at, "indentation", told))

    def _open(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent) -> None:
        start = _index(event.start_mark)
        if len(self.frames) >= MAX_DEPTH:
            place = self.source.place(self.base + start)
            raise _StopReading(
                mistake(
                    place, "too-deep", f"more than {MAX_DEPTH} brackets or levels are open here"
                )
            )
        self._note_marker(event, of_text=False)
        is_table = isinstance(event, yaml.MappingStartEvent)
        self.frames.append(_Frame(start, is_table, bool(event.flow_style)))

    def _note_marker(self, event: yaml.NodeEvent, *, of_text: bool = True) -> None:
        tag = getattr(event, "tag", None)
        if event.anchor is not None or tag is not None:
            marker = Marker(_index(event.start_mark), self.flow, of_text=of_text)
            self.markers.append(marker)

    def _close(self, end: int) -> None:
        self._add(self._finished(self.frames.pop(), end))

    def _finished(self, frame: _Frame, end: int) -> Node:
        place = self.source.place(self.base + frame.start, self.base + end)
        if frame.is_table:
            pairs, problems = pairs_of(self.source, frame.items, in_braces=frame.in_flow)
            self.problems.extend(problems)
            return Table(pairs, place)
        return Series(tuple(frame.items), place)

    def _add(self, node: Node) -> None:
        (self.frames[-1].items if self.frames else self.roots).append(node)

    def root(self) -> Node | None:
        """The tree; after an error, what stood complete before it."""
        while self.frames:
            frame = self.frames.pop()
            if frame.is_table and len(frame.items) % 2:
                frame.items.pop()
            self._add(self._finished(frame, frame.start))
        return self.roots[0] if self.roots else None


@dataclass(slots=True)
class _Open:
    """A pair while its table is read; `lost` are the words that commas have cut from its value."""

    key: Word
    value: Node
    lost: list[Word] = field(default_factory=list)


def pairs_of(
    source: Source, items: list[Node], *, in_braces: bool
) -> tuple[tuple[Pair, ...], list[Problem]]:
    """Keys with values; a cut value, a repeated key and a key that is no word are told."""
    problems: list[Problem] = []
    pairs: list[_Open] = []
    for key, value in zip(items[::2], items[1::2], strict=True):
        if not isinstance(key, Word):
            told = "a list or table stands where a key should; write key: value"
            problems.append(mistake(key.place, "key-not-a-word", told))
        elif in_braces and not _has_colon(source, key):
            _add_bare(source, pairs, key, problems)
        else:
            pairs.append(_Open(key, value))
    whole = [_whole(source, pair, problems) for pair in pairs]
    return _without_repeats(whole, problems), problems


def _has_colon(source: Source, key: Word) -> bool:
    return _COLON.match(source.text, key.place.end) is not None


def _add_bare(source: Source, pairs: list[_Open], key: Word, problems: list[Problem]) -> None:
    """A word between commas without a colon: a glued key, part of the value before it, or lost."""
    last = pairs[-1].value if pairs else None
    if key.plain and GLUED_KEY.match(key.text):
        name, _, rest = key.text.partition(":")
        told = f"'{key.text}' has no space after its colon; write {name}: {rest}"
        problems.append(mistake(key.place, "no-space-after-colon", told))
        start, middle, end = key.place.start, key.place.start + len(name), key.place.end
        value = Word(rest, source.place(middle + 1, end))
        pairs.append(_Open(Word(name, source.place(start, middle)), value))
    elif isinstance(last, Word) and not last.empty:
        pairs[-1].lost.append(key)
    else:
        told = f"'{key.text}' has no value; write {key.text}: …"
        problems.append(mistake(key.place, "no-value", told))


def _whole(source: Source, pair: _Open, problems: list[Problem]) -> Pair:
    """`{who: Bo, hours: 3,5}`: YAML ends the value at the comma; the rest is joined on again."""
    if not pair.lost:
        return Pair(pair.key, pair.value)
    start, first, end = pair.value.place.start, pair.lost[0].place, pair.lost[-1].place.end
    told = (
        f"the comma ends the value of '{pair.key}' inside braces: "
        f"'{source.text[first.start : end]}' is lost; write: {quoted_line(source, start, end)}"
    )
    problems.append(mistake(first, "comma-cuts-value", told))
    return Pair(pair.key, Word(source.text[start:end], source.place(start, end), plain=False))


def _without_repeats(pairs: list[Pair], problems: list[Problem]) -> tuple[Pair, ...]:
    first: dict[str, Pair] = {}
    for pair in pairs:
        if pair.key.text in first:
            line = first[pair.key.text].key.place.line
            told = f"'{pair.key.text}' stands a second time (first in line {line}); keep one"
            problems.append(mistake(pair.key.place, "repeated-key", told))
        else:
            first[pair.key.text] = pair
    return tuple(first.values())


def read_yaml(source: Source, start: int, end: int) -> tuple[Node | None, list[Problem]]:
    """The tree of the characters from `start` to `end`, and every mistake found on the way."""
    chunk = readable(source.text[start:end])
    told: list[Problem] = []
    skip: set[int] = set()
    for _ in range(MAX_MENDS):
        builder = _Builder(source, chunk, start)
        mend = _attempt(builder)
        if mend is None:
            doubts = other_comments(source, chunk, start, builder.seen, skip)
            return builder.root(), [*told, *builder.problems, *doubts]
        told.extend(mend.problems)
        if mend.chunk is None:
            return builder.root(), told + builder.problems
        skip |= mend.skip
        chunk = mend.chunk
    return _given_up(_Builder(source, chunk, start), told)


def _given_up(builder: _Builder, told: list[Problem]) -> tuple[Node | None, list[Problem]]:
    mend = _attempt(builder)
    more = [] if mend is None else [_too_many(mend.problems[0])]
    return builder.root(), [*told, *more, *builder.problems]


def _too_many(problem: Problem) -> Problem:
    told = f"{MAX_MENDS} lines above cannot be read as they are; mend them first, then ask again"
    return mistake(problem.place, "too-many-mistakes", told)


def _attempt(builder: _Builder) -> Mend | None:
    """Reads once; what to mend first, or None where all was read."""
    source, chunk, base = builder.source, builder.chunk, builder.base
    try:
        builder.read()
    except _StopReading as stop:
        return Mend((stop.problem,), None)
    except yaml.MarkedYAMLError as fault:
        if builder.markers:
            return mend_markers(source, chunk, base, builder.markers)
        return mend_error(source, chunk, base, fault, builder.last_quote)
    if builder.markers:
        return mend_markers(source, chunk, base, builder.markers)
    return lost_values(source, chunk, base, builder.seen)
