"""A line of the builder's file with quotes put in, ready to paste; and where a value ends."""

from __future__ import annotations

import re

import yaml

from builderlog.reading.source import Source

_END_IN_LINE = re.compile(r"[ \t]#[ \t]|[\r\n]|\Z")
_END_IN_BRACES = re.compile(r",[ \t]*(?:[^\W_][\w -]*:\s|[\r\n]|\Z)|[}\]\r\n]|[ \t]#[ \t]|\Z")
_END_IN_BRACKETS = re.compile(r"[,\]}\r\n]|[ \t]#[ \t]|\Z")
_ENDS = {"": _END_IN_LINE, "{": _END_IN_BRACES, "[": _END_IN_BRACKETS}


def quoted_line(source: Source, start: int, end: int) -> str:
    """The source line with the characters from `start` to `end` in quotes, ready to paste.

    Of a value over several lines only the value itself, in one line.
    """
    place = source.place(start)
    line = source.line_text(place.line)
    offset = source.line_starts[place.line - 1]
    if end > offset + len(line):
        return quote(" ".join(source.text[start:end].split()))
    head, tail = line[: start - offset], line[end - offset :]
    return (head + quote(source.text[start:end]) + tail).strip()


def quote(text: str) -> str:
    """The text in YAML quotes: double ones, or single ones where it holds `"` or a backslash."""
    if '"' in text or "\\" in text:
        return "'" + text.replace("'", "''") + "'"
    return f'"{text}"'


_PLAIN_ANYWHERE = re.compile(r"\w(?:[\w .+/()-]*[\w.+)/-])?")


def in_braces(text: str) -> str:
    """The text as it can stand inside braces: in quotes where it needs them."""
    return text if _PLAIN_ANYWHERE.fullmatch(text) else quote(text)


def value_end(text: str, start: int, flow: str) -> int:
    """Where the value that holds `start` ends in its line, a comment left out.

    `flow` is the bracket that the value stands in, as `open_bracket` tells it: inside braces a
    comma ends a value only where another key or the line's end follows.
    """
    found = _ENDS[flow].search(text, start)
    return start + len(text[start : found.start() if found else None].rstrip())


def open_bracket(chunk: str, index: int) -> int | None:
    """Where the innermost bracket begins that is open before `index`; None outside of brackets."""
    while True:
        try:
            for _ in yaml.parse(chunk[:index] + "x", Loader=yaml.CBaseLoader):
                pass
        except yaml.MarkedYAMLError as fault:
            at = fault.context_mark.index if fault.context_mark else index
            if str(fault.context).endswith(("flow mapping", "flow sequence")):
                return int(at)
            if str(fault.context).endswith("flow node") and at < index:
                index = int(at)  # what stands there is no value: ask for the bracket before it
                continue
        return None
