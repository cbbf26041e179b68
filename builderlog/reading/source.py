"""The text of one file with exact places: bytes to characters, characters to line and column."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field

from builderlog.reading.problem import Place, Problem, mistake

BYTE_ORDER_MARK = "\ufeff"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_LINE_END = re.compile(r"\r\n|\n|\r")
# What YAML 1.2 section 5.1 does not allow in a stream, tab and line ends left out; and 256 signs
# for private use that have no meaning in any text and stand for masked signs while we read.
_CONTROL = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x84\x86-\x9f\ufeff\ufffe\uffff\U0010f700-\U0010f7ff]"
)


@dataclass(frozen=True, slots=True)
class Source:
    """One file: its exact bytes, its characters (a byte-order mark kept), and where lines begin."""

    path: str
    data: bytes = field(repr=False)
    text: str = field(repr=False)
    line_starts: tuple[int, ...] = field(repr=False)

    def place(self, start: int, end: int | None = None) -> Place:
        """The place of the characters from `start` to `end` (exclusive)."""
        line = bisect_right(self.line_starts, start)
        column = start - self.line_starts[line - 1] + 1
        if line == 1 and self.text.startswith(BYTE_ORDER_MARK) and column > 1:
            column -= 1  # an editor does not count the mark
        return Place(self.path, line, column, start, start if end is None else end)

    def byte_span(self, place: Place) -> tuple[int, int]:
        """Offsets in the file's bytes; only meaningful where the file is UTF-8."""
        start = len(self.text[: place.start].encode())
        return start, start + len(self.text[place.start : place.end].encode())

    def line_text(self, line: int) -> str:
        """The line without its end; line counts from 1."""
        end = self.line_starts[line] if line < len(self.line_starts) else len(self.text)
        return self.text[self.line_starts[line - 1] : end].rstrip("\r\n")


def source_of(path: str, data: bytes) -> tuple[Source, tuple[Problem, ...]]:
    """Decodes a file as UTF-8; what is not UTF-8 becomes U+FFFD and one mistake at its place.

    A file in UTF-16, which some editors call Unicode, is one mistake and read all the same.
    """
    if data.startswith(_UTF16_MARKS):
        return _from_utf16(path, data)
    text = data.decode("utf-8", errors="replace")
    starts = (0, *(found.end() for found in _LINE_END.finditer(text)))
    source = Source(path, data, text, starts)
    return source, (*_not_utf8(source), *_controls(source))


def _from_utf16(path: str, data: bytes) -> tuple[Source, tuple[Problem, ...]]:
    """As if the file were in UTF-8: its places are true, offsets in bytes are not."""
    source, problems = source_of(path, data.decode("utf-16", errors="replace").encode())
    told = "the file is saved as UTF-16; save it in the encoding UTF-8"
    utf16 = mistake(Place(path), "not-utf8", told)
    return Source(path, data, source.text, source.line_starts), (utf16, *problems)


def _not_utf8(source: Source) -> tuple[Problem, ...]:
    try:
        source.data.decode("utf-8")
    except UnicodeDecodeError as fault:
        at = source.place(len(source.data[: fault.start].decode("utf-8")))
        found = f"byte 0x{source.data[fault.start]:02X} is not UTF-8"
        return (mistake(at, "not-utf8", f"{found}; save the file in the encoding UTF-8"),)
    return ()


def _controls(source: Source) -> tuple[Problem, ...]:
    return tuple(
        mistake(
            source.place(found.start(), found.end()),
            "control-character",
            f"the invisible character U+{ord(found.group()):04X} stands here; delete it",
        )
        for found in _CONTROL.finditer(source.text, source.text.startswith(BYTE_ORDER_MARK))
    )


def without_controls(text: str) -> str:
    """The same text, as long, with U+FFFD for characters that YAML refuses."""
    return _CONTROL.sub("\ufffd", text)
