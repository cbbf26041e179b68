"""A CSV table to rows of cells with their places: quotes by RFC 4180, as spreadsheets save it.

UTF-8 or UTF-16 with its mark; commas, semicolons or tabs; any line ends. Knows nothing of what a
column means.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.source import BYTE_ORDER_MARK, Source, source_of

DELIMITERS = (",", ";", "\t")
_SAVE_AS = "save the table as CSV in the encoding UTF-8"
# How files begin that are no text at all, and what they are.
_OTHER_FILES = (
    (b"PK\x03\x04", "a spreadsheet's own file, or another packed one"),
    (b"\xd0\xcf\x11\xe0", "a spreadsheet's own file"),
    (b"%PDF", "a PDF"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x89PNG", "a picture"),
)
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_EMPTY_LINES = re.compile(r"(?:[ \t,;]*(?:\r\n|\n|\r))*")
_SEPARATOR_LINE = re.compile(r"sep=([,;\t])[ \t]*(?:\r\n|\n|\r)", re.IGNORECASE)
_QUOTED = re.compile(r'"[^"]*(?:""[^"]*)*"')
_END = {sign: rf"({sign}|\r\n|\n|\r|\Z)" for sign in DELIMITERS}
# A quoted cell, else a bare one, and what ends it.
_CELL = {
    sign: re.compile(rf' *(?:"([^"]*(?:""[^"]*)*+)" *|([^{sign}\r\n]*)){end}')
    for sign, end in _END.items()
}
_REST = {sign: re.compile(rf"()()[^{sign}\r\n]*{end}") for sign, end in _END.items()}


class Cell(NamedTuple):
    """One cell: its text without quotes and without blanks around it, and its offsets."""

    text: str
    start: int
    end: int


Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class CsvTable:
    """The rows of a file that are not wholly empty; the first holds the names of the columns."""

    source: Source = field(repr=False)
    delimiter: str
    rows: tuple[Row, ...]

    def place(self, cell: Cell) -> Place:
        """Where the cell begins: its quote, if it has one."""
        return self.source.place(cell.start, cell.end)


def read_csv(path: str, data: bytes) -> tuple[CsvTable, tuple[Problem, ...]]:
    """The table of a file, with every mistake of its writing; without rows where it is no text."""
    source, problems = _decoded(path, data)
    if problems:
        return CsvTable(source, DELIMITERS[0], ()), problems
    begin = len(BYTE_ORDER_MARK) if source.text.startswith(BYTE_ORDER_MARK) else 0
    named = _SEPARATOR_LINE.match(source.text, begin)
    empty = _EMPTY_LINES.match(source.text, named.end() if named else begin)
    start = empty.end() if empty else begin
    reader = _Reader(source, named[1] if named else _delimiter(source.text, start))
    rows = tuple(row for row in reader.rows(start) if _holds(row))
    if not rows and not reader.problems:
        told = "the table is empty; its first row names the columns, a task a row follows"
        reader.problems.append(mistake(Place(path), "table-empty", told))
    return CsvTable(source, reader.delimiter, rows), tuple(reader.problems)


def _holds(row: Row) -> bool:
    return any(cell.text for cell in row)


def _decoded(path: str, data: bytes) -> tuple[Source, tuple[Problem, ...]]:
    """The text; of bytes that are no text only the first mistake: the rest follows from it."""
    for begin, what in _OTHER_FILES:
        if data.startswith(begin):
            told = f"this is {what}, no CSV table; {_SAVE_AS} and name that file"
            return source_of(path, b"")[0], (mistake(Place(path), "not-a-table", told),)
    if data.startswith(_UTF16_MARKS):
        return _from_utf16(path, data)
    return _judged(*source_of(path, data))


def _from_utf16(path: str, data: bytes) -> tuple[Source, tuple[Problem, ...]]:
    try:
        return _judged(*source_of(path, data.decode("utf-16").encode()))
    except UnicodeDecodeError as fault:
        before = data[: fault.start].decode("utf-16")
        source, _ = source_of(path, before.encode())
        told = f"byte 0x{data[fault.start]:02X} is not UTF-16 as the file begins; {_SAVE_AS}"
        return source, (mistake(source.place(len(before)), "not-utf16", told),)


def _judged(source: Source, problems: tuple[Problem, ...]) -> tuple[Source, tuple[Problem, ...]]:
    null = source.text.find("\0")
    if problems and problems[0].code != "not-utf8" and null >= 0:
        told = f"a null byte stands here, so this is no text; {_SAVE_AS}"
        return source, (mistake(source.place(null), "not-a-table", told),)
    return source, problems[:1] if problems and problems[0].code == "not-utf8" else problems


def _delimiter(text: str, start: int) -> str:
    """What parts the row at `start` into the most cells; a comma among equals."""
    return max(DELIMITERS, key=lambda sign: _cells_in_line(text, start, _CELL[sign]))


def _cells_in_line(text: str, start: int, pattern: re.Pattern[str]) -> int:
    """How many cells the first row has; none where a quote does not close before a delimiter."""
    cells = 0
    while found := pattern.match(text, start):
        if (found[2] or "").startswith('"'):
            return 0
        cells, start = cells + 1, found.end()
        if found[3] in {"", "\r\n", "\n", "\r"}:
            break
    return cells


@dataclass(slots=True)
class _Reader:
    """Goes through the text once, cell by cell."""

    source: Source
    delimiter: str
    problems: list[Problem] = field(default_factory=list)

    def rows(self, at: int) -> Iterator[Row]:
        """Every row from the offset `at` on; none after a quote that is never closed."""
        text, pattern, row = self.source.text, _CELL[self.delimiter], list[Cell]()
        while at < len(text) or row:
            found = pattern.match(text, at)
            if found and (found[2] or "").startswith('"'):
                found = self._behind_quote(found.start(2))
            if found is None:
                return
            row.append(_cell_of(found))
            at = found.end()
            if found[3] != self.delimiter:
                yield tuple(row)
                row = []

    def _behind_quote(self, start: int) -> re.Match[str] | None:
        """Tells what is wrong with the quotes of a cell; its rest, or None where it has no end."""
        closed = _QUOTED.match(self.source.text, start)
        if closed is None:
            told = "the quote that begins here is never closed; close it, or write two for one"
            self.problems.append(mistake(self.source.place(start), "quote-not-closed", told))
            return None
        told = (
            "the cell goes on behind its closing quote; end it there, and write two quotes for "
            "one that belongs to the text"
        )
        self.problems.append(mistake(self.source.place(closed.end()), "text-after-quote", told))
        return _REST[self.delimiter].match(self.source.text, closed.end())


def _cell_of(found: re.Match[str]) -> Cell:
    quoted, bare, _ = found.groups()
    if quoted is not None:
        text = quoted.replace('""', '"') if '"' in quoted else quoted
        return Cell(text.strip(), found.start(1) - 1, found.end(1) + 1)
    start = found.start(2) + len(bare) - len(bare.lstrip())
    return Cell(bare.strip(), start, start + len(bare.strip()))
