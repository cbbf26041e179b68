"""A shop note's file to a raw note: the fences, the words between them, the prose below.

Knows nothing of what a key means. Keeps the exact bytes, so that a later command can insert a
line without touching another byte.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.prose import Prose
from builderlog.reading.source import BYTE_ORDER_MARK, Source, source_of
from builderlog.reading.words import Node, Table, Word
from builderlog.reading.yaml_words import read_yaml

_OPENING = re.compile(r"(?:[ \t]*(?:\r\n|\n|\r))*(---)[ \t]*(?:\r\n|\n|\r|\Z)")
# What an editor or a phone makes of three hyphens, with a key below it.
_NEARLY_OPENING = re.compile(r"\s*([-\u2010-\u2015\u2212]+)[ \t]*(?:\r\n|\n|\r)[ \t]*[^\W_][\w ]*:")
_LINE_BREAK = re.compile(r"\r\n|\n|\r")
_LINE_BEGIN = re.compile(r"(?:(?<=\r\n)|(?<=\n)|(?<=\r)(?!\n))---[ \t]*(?=[\r\n]|\Z)")


@dataclass(frozen=True, slots=True)
class RawNote:
    """A note as written; `table` is None without front matter that can be read."""

    source: Source
    table: Table | None
    prose: Prose
    head: Place  # the opening fence, or the beginning of the file
    closing: int | None = None  # where the line of the closing fence begins, as an offset


def read_note(path: str, data: bytes) -> tuple[RawNote, tuple[Problem, ...]]:
    """Takes a note apart; with all mistakes of its YAML, and always with a raw note."""
    source, problems = source_of(path, data)
    begin = len(BYTE_ORDER_MARK) if source.text.startswith(BYTE_ORDER_MARK) else 0
    opening = _OPENING.match(source.text, begin)
    if opening is None:
        note = RawNote(source, None, _prose_from(source, begin), source.place(begin))
        return note, (*problems, *_nearly_opened(source, begin))
    head = source.place(opening.start(1), opening.end(1))
    closing = _LINE_BEGIN.search(source.text, opening.end() - 1)
    if closing is None:
        return _never_closed(source, head, opening.end(), problems)
    root, told = read_yaml(source, opening.end(), closing.start())
    table, more = as_table(root)
    prose = _prose_after(source, closing.end())
    note = RawNote(source, table, prose, head, closing.start())
    return note, (*problems, *told, *more)


def _nearly_opened(source: Source, begin: int) -> tuple[Problem, ...]:
    found = _NEARLY_OPENING.match(source.text, begin)
    if not found:
        return ()
    told = f"'{found[1]}' opens no front matter, so its keys are not read; write --- alone there"
    return (mistake(source.place(found.start(1), found.end(1)), "not-a-fence", told),)


def _never_closed(
    source: Source, head: Place, start: int, problems: tuple[Problem, ...]
) -> tuple[RawNote, tuple[Problem, ...]]:
    """The words up to the first empty line are still read, so that their hours count."""
    blank = re.compile(r"(?:\r\n|\n|\r)[ \t]*(?:\r\n|\n|\r)").search(source.text, start)
    end = blank.start() if blank else len(source.text)
    told = "the front matter that begins here is not closed; write a line of --- below its last key"
    root, more = read_yaml(source, start, end)
    table = root if isinstance(root, Table) else None
    note = RawNote(source, table, _prose_after(source, end), head)
    return note, (*problems, mistake(head, "not-closed", told), *more)


def _prose_after(source: Source, end: int) -> Prose:
    line_break = _LINE_BREAK.match(source.text, end)
    start = line_break.end() if line_break else end
    return _prose_from(source, start)


def _prose_from(source: Source, start: int) -> Prose:
    return Prose(source.text[start:], source.place(start))


def as_table(root: Node | None) -> tuple[Table | None, tuple[Problem, ...]]:
    """The tree as keys with values; anything else at the top is a mistake."""
    if root is None or (isinstance(root, Word) and root.empty):
        return None, ()
    if isinstance(root, Table):
        return root, ()
    told = "keys with values belong here, one a line; write key: value"
    return None, (mistake(root.place, "not-keys", told),)
