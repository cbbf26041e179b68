"""Changes to the builder's YAML at exact places: a value, a key, an item; no other byte moves.

Works on a text that was read without mistakes, with the places of its words. Every text that is
put in is given ready as YAML; quotes, line ends and indents follow what stands around it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from builderlog.reading.quoting import in_braces, quote
from builderlog.reading.source import Source
from builderlog.reading.words import Node, Pair, Series, Table, Word

_COLON = re.compile(r"\s*:")
_BREAK = re.compile(r"\r\n|\n|\r")
_BLANK_LINE = re.compile(r"(?:\r\n|\n|\r(?!\n))[ \t]*[\r\n]")
_DASH = re.compile(r"-[ ]+")
_ENDS_IN_BRACKETS = re.compile(r"[,\[\]{}\r\n]|:\Z")  # a plain word goes on past them elsewhere
_KEPT_LINES = re.compile(r"([|>]\d?\+.*?)(?:\r\n|\n|\r|\Z)", re.DOTALL)  # blank lines count in it
_COMMENT_LINE = re.compile(r"(?:\r\n|\n|\r(?!\n))([ ]*)#[^\r\n]*")
_LINE_BEGIN = re.compile(r"(?:\r\n|\n|\r(?!\n))(?=[^\r\n])")
_BLANK_TO_CLOSE = re.compile(r"[ \t]+(?=[,\]}])")
_SEPARATOR = re.compile(r",\s*")
STEP = 2  # columns by which a list that begins stands in from its key


class CannotEditError(ValueError):
    """What is written here cannot be changed in place; the message is for the builder."""


def pair_of(table: Table, key: str) -> Pair | None:
    """The pair of that key, or None."""
    return next((pair for pair in table.pairs if pair.key.text == key), None)


def is_empty(node: Node) -> bool:
    """True for `key:` with nothing behind it."""
    return isinstance(node, Word) and node.empty


@dataclass(slots=True)
class Edits:
    """What is to be changed in one file; `changed` applies it all."""

    source: Source
    pieces: list[tuple[int, int, str]] = field(default_factory=list)  # start, end, new text

    def changed(self) -> str:
        """The text with all changes; of two at one place the first asked for stands first."""
        text, done = self.source.text, 0
        parts: list[str] = []
        for start, end, new in sorted(self.pieces, key=lambda piece: piece[0]):
            parts += (text[done:start], new)
            done = max(done, end)
        return "".join((*parts, text[done:]))

    def is_flow(self, node: Node) -> bool:
        """True for a list in brackets or a table in braces."""
        return not isinstance(node, Word) and self.source.text[node.place.start] in "[{"

    def raw(self, node: Node) -> str:
        """The text as it stands."""
        return self.source.text[node.place.start : self.end_of(node)]

    def line_break(self, at: int = 0) -> str:
        """The line end behind an offset; at the end of the file that of the first line."""
        found = _BREAK.search(self.source.text, at) or _BREAK.search(self.source.text)
        return found.group() if found else "\n"

    def line_end(self, at: int) -> int:
        """Where the line ends that holds an offset, its line end left out."""
        found = _BREAK.search(self.source.text, at)
        return found.start() if found else len(self.source.text)

    def end_with_comments(self, at: int, column: int) -> int:
        """The same, or the end of the last comment line right below that begins past a column."""
        end = self.line_end(at)
        while (found := _COMMENT_LINE.match(self.source.text, end)) and len(found[1]) >= column:
            end = found.end()
        return end

    def end_of(self, node: Node) -> int:
        """Where the last word of a node ends: libyaml counts what follows to a node in lines."""
        place = node.place
        if isinstance(node, Word):
            raw = self.source.text[place.start : place.end]
            kept = None if node.plain else _KEPT_LINES.fullmatch(raw)
            return place.start + (kept.end(1) if kept else len(raw.rstrip()))
        if self.is_flow(node):
            return place.end
        if isinstance(node, Table):
            return self.end_of_pair(node.pairs[-1])
        return self.end_of(node.items[-1])

    def end_of_pair(self, pair: Pair) -> int:
        """The same for a key with its value; behind the colon where there is none."""
        return self.end_of_colon(pair) if is_empty(pair.value) else self.end_of(pair.value)

    def end_of_colon(self, pair: Pair) -> int:
        """Where the colon behind a key ends."""
        found = _COLON.match(self.source.text, pair.key.place.end)
        return found.end() if found else pair.key.place.end

    def replace(self, node: Node, new: str) -> None:
        """Other YAML in the place of a node."""
        self.pieces.append((node.place.start, self.end_of(node), new))

    def replace_text(self, word: Word, text: str) -> None:
        """Another text in the place of a word, in the quotes that it has now."""
        self.replace(word, _in_quotes_of(self.raw(word), text))

    def wrap(self, node: Node, before: str, after: str) -> None:
        """Text around a node, which is then in brackets: in quotes where it needs them there."""
        opening, closing = self._quotes_for(node)
        start, end = node.place.start, self.end_of(node)
        self.pieces.insert(0, (start, start, before + opening))
        if opening == "'":
            for found in re.finditer("'", self.source.text[start:end]):
                self.insert(start + found.start(), "'")
        self.insert(end, closing + after)

    def _quotes_for(self, node: Node) -> tuple[str, str]:
        """The quotes that a node wants within brackets. Raises CannotEditError."""
        raw = self.raw(node)
        if not self._stands_alone(node) or raw[:1] in ("|", ">"):
            raise CannotEditError(
                "what stands here over several lines cannot get brackets; put it in one line"
            )
        if not isinstance(node, Word) or not node.plain or not _ENDS_IN_BRACKETS.search(raw):
            return "", ""
        return ('"', '"') if quote(raw)[1:-1] == raw else ("'", "'")

    def insert(self, at: int, new: str) -> None:
        """More text at an offset."""
        self.pieces.append((at, at, new))

    def set_text(self, table: Table, key: str, text: str, order: Sequence[str]) -> None:
        """Gives a key a text, in the quotes that its value has now."""
        pair = pair_of(table, key)
        if pair and isinstance(pair.value, Word) and not pair.value.empty:
            self.replace_text(pair.value, text)
        else:
            self.set_yaml(table, key, in_braces(text), order)

    def set_yaml(self, table: Table, key: str, new: str, order: Sequence[str]) -> None:
        """Gives a key a value; a key that is not there comes where `order` has it."""
        pair = pair_of(table, key)
        if pair is None:
            self.insert_pair(table, key, f" {new}", order)
        elif self._stands_alone(pair.value):
            self.replace(pair.value, new)
        else:
            self._set_behind_colon(pair, new)

    def _stands_alone(self, node: Node) -> bool:
        """True for a word or what is in brackets: other YAML can take its very place."""
        return self.is_flow(node) or (isinstance(node, Word) and not node.empty)

    def _set_behind_colon(self, pair: Pair, new: str) -> None:
        """In the place of nothing, or of lines below the key; a comment behind the key stays."""
        end = self.end_of_colon(pair)
        blank = _BLANK_TO_CLOSE.match(self.source.text, end)
        self.pieces.append((end, blank.end() if blank else end, f" {new}"))
        if not is_empty(pair.value):
            self.pieces.append((self.line_end(end), self.end_of(pair.value), ""))

    def insert_pair(self, table: Table, key: str, value: str, order: Sequence[str]) -> None:
        """A key that is not there yet; `value` is what follows its colon, blank or line end too.

        It comes behind the last of those that `order` has before it; words that `order` does not
        have are passed over.
        """
        written, places = f"{key}:{value}", {word: place for place, word in enumerate(order)}
        after = len(places)
        before = [pair for pair in table.pairs if places.get(pair.key.text, after) < places[key]]
        if self.is_flow(table):
            if before:
                self.insert(self.end_of_pair(before[-1]), f", {written}")
            else:
                self.insert(table.place.start + 1, f"{written}, " if table.pairs else written)
            return
        indent = " " * (table.place.column - 1)
        if before:
            end = self.end_with_comments(self.end_of_pair(before[-1]), table.place.column)
            self.insert(end, f"{self.line_break(end)}{indent}{written}")
        else:
            at = table.pairs[0].key.place.start
            self.insert(at, f"{written}{self.line_break(at)}{indent}")

    def append(self, table: Table, key: str, items: Sequence[Item], order: Sequence[str]) -> None:
        """More items at the end of the list that a key holds, or a list where it holds none.

        A single item that stands without a list gets brackets; one over several lines of keys
        gets a dash, and its lines are set in.
        """
        pair = pair_of(table, key)
        if pair is None or is_empty(pair.value):
            self._begin_list(table, key, items, order)
        else:
            self.append_to(pair.value, items, table.place.column)

    def append_to(self, node: Node, items: Sequence[Item], column: int = 0) -> None:
        """More items behind what a key holds already; `column`, from 1, is where the key begins."""
        if isinstance(node, Series) and self.is_flow(node):
            self._append_in_flow(node, [item.flow for item in items])
        elif isinstance(node, Series):
            self._append_in_block(node, items, column)
        elif isinstance(node, Table) and not self.is_flow(node):
            self._append_below_lines(node, items)
        else:
            self.wrap(node, "[", "".join(f", {item.flow}" for item in items) + "]")

    def _append_below_lines(self, table: Table, items: Sequence[Item]) -> None:
        """The lines of keys become the first item of a list with dashes."""
        start, indent = table.place.start, table.place.column - 1
        end = self.end_with_comments(self.end_of(table), indent)
        self.insert(start, "- ")
        for found in _LINE_BEGIN.finditer(self.source.text, start, end):
            self.insert(found.end(), " " * STEP)
        self.insert(end, Frame(self.line_break(end), indent).lines_of(items))

    def _begin_list(
        self, table: Table, key: str, items: Sequence[Item], order: Sequence[str]
    ) -> None:
        if self.is_flow(table):
            self.set_yaml(table, key, f"[{', '.join(item.flow for item in items)}]", order)
            return
        pair = pair_of(table, key)
        frame = Frame(self.line_break(table.place.start), table.place.column - 1 + STEP)
        if pair is None:
            self.insert_pair(table, key, frame.lines_of(items), order)
        else:
            self.insert(self.line_end(self.end_of_pair(pair)), frame.lines_of(items))

    def _append_in_flow(self, series: Series, items: Sequence[str]) -> None:
        """More items in a list in brackets, parted as its last two are."""
        if not series.items:
            self.insert(series.place.start + 1, ", ".join(items))
            return
        separator = self._separator(series)
        new = "".join(f"{separator}{item}" for item in items)
        self.insert(self.end_of(series.items[-1]), new)

    def _separator(self, series: Series) -> str:
        if len(series.items) == 1:
            begin = self.source.text[series.place.start + 1 : series.items[0].place.start]
            return f",{begin}" if begin.isspace() else ", "
        between = self.source.text[self.end_of(series.items[-2]) : series.items[-1].place.start]
        return between if _SEPARATOR.fullmatch(between) else ", "

    def _append_in_block(self, series: Series, items: Sequence[Item], column: int) -> None:
        """More items below the last of a list with dashes, parted as its last two are.

        A comment right below the last stays with it, unless it may be the next key's.
        """
        text = self.source.text
        dash = text[series.place.start : series.items[0].place.start]
        last = series.items[-1]
        end = self.end_with_comments(self.end_of(last), max(series.place.column - 1, column))
        above = self.end_of(series.items[-2]) if len(series.items) > 1 else last.place.start
        frame = Frame(
            self.line_break(end),
            series.place.column - 1,
            dash if _DASH.fullmatch(dash) else "- ",
            parted=_BLANK_LINE.search(text[above : last.place.start]) is not None,
        )
        self.insert(end, frame.lines_of(items))


@dataclass(frozen=True, slots=True)
class Item:
    """An item to be put into a list: in one piece, and as the lines that it takes below a dash."""

    flow: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """How the items of a list with dashes stand: line end, indent in columns, dash, blank lines."""

    line_break: str
    indent: int = 0
    dash: str = "- "
    parted: bool = False

    def lines_of(self, items: Sequence[Item]) -> str:
        """The items, each on new lines; nothing behind the last."""
        begin = f"{self.line_break if self.parted else ''}{self.line_break}{' ' * self.indent}"
        below = f"{self.line_break}{' ' * (self.indent + len(self.dash))}"
        return "".join(f"{begin}{self.dash}{below.join(item.lines)}" for item in items)


def _in_quotes_of(old: str, text: str) -> str:
    """The text in the quotes of what it replaces, where these can hold it."""
    if old.startswith("'"):
        return "'" + text.replace("'", "''") + "'"
    if old.startswith('"') and not re.search(r'["\\]', text):
        return f'"{text}"'
    return in_braces(text)
