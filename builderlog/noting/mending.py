"""Mistakes with one meaning only: the line as the builder wrote it, and the line mended.

What is wrong and the line to paste are told where the words are read; here each such line is
tried, and offered only if with it the note has fewer mistakes, none of another kind, and nothing
but quotes or a blank was put in.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builderlog.knowing.notes import note_of
from builderlog.reading.front_matter import read_note
from builderlog.reading.problem import Place, Problem
from builderlog.reading.source import Source, source_of

# "close it, or write: …" leaves a choice, and is no offer.
_LINE_TO_PASTE = re.compile(r"[;,] write: (.*)\Z", re.DOTALL)
_GLUED = re.compile(r"'(.*)' has no space after its colon; write (?!: )(.*)\Z", re.DOTALL)
_COLON = re.compile(r"a colon wants quotes here; write ([\"'])(.*)\1\Z", re.DOTALL)
_PUT_IN = frozenset("\"' ")


@dataclass(frozen=True, slots=True)
class Mending:
    """One line of a note: as it is and as it would be; neither has its line end."""

    place: Place  # of the first mistake in it
    line: int
    old: str
    new: str


def mendings(path: str, data: bytes) -> tuple[Mending, ...]:
    """Every line that can be mended in one way only, from the first to the last."""
    first, problems = _told(path, data)
    source, found = first, dict[int, Mending]()
    while mending := next(_tried(source, problems), None):
        old = first.line_text(mending.line)
        place = found[mending.line].place if mending.line in found else mending.place
        found[mending.line] = Mending(place, mending.line, old, mending.new)
        source, problems = _told(path, mended(source.data, [mending]))
    return tuple(found[line] for line in sorted(found))


def mended(data: bytes, chosen: Sequence[Mending]) -> bytes:
    """The note with these lines mended and every other byte as it was.

    A line that is no longer as the mending saw it stays as it is.
    """
    source, problems = source_of("", data)
    if any(problem.code == "not-utf8" for problem in problems):
        return data
    text = source.text
    for mending in sorted(chosen, key=lambda each: each.line, reverse=True):
        known = mending.line <= len(source.line_starts)
        if known and source.line_text(mending.line) == mending.old:
            start = source.line_starts[mending.line - 1]
            text = f"{text[:start]}{mending.new}{text[start + len(mending.old) :]}"
    return text.encode()


def _told(path: str, data: bytes) -> tuple[Source, tuple[Problem, ...]]:
    """The note's text, and its own mistakes and doubts."""
    raw, problems = read_note(path, data)
    _, more = note_of(raw, None)
    return raw.source, (*problems, *more)


def _tried(source: Source, problems: Sequence[Problem]) -> Iterator[Mending]:
    """Mendings with which the note has fewer mistakes; lazily, the first mistake first."""
    for problem in sorted(problems, key=lambda each: each.order):
        line = source.line_text(problem.place.line)
        new = _offered(problem, line)
        if new is None or not _only_put_in(line, new):
            continue
        mending = Mending(problem.place, problem.place.line, line, new)
        _, after = _told(source.path, mended(source.data, [mending]))
        if _codes(after) < _codes(problems):
            yield mending


def _codes(problems: Sequence[Problem]) -> Counter[str]:
    return Counter(problem.code for problem in problems)


def _offered(problem: Problem, line: str) -> str | None:
    """The line as the message would have it, or None where it offers none."""
    if found := _LINE_TO_PASTE.search(problem.message):
        left, right = len(line) - len(line.lstrip()), len(line.rstrip())
        return f"{line[:left]}{found[1]}{line[right:]}"
    if found := _GLUED.match(problem.message):
        return _put_at(problem.place, line, found[1], found[2])
    if found := _COLON.match(problem.message):
        return _put_at(problem.place, line, found[2], f"{found[1]}{found[2]}{found[1]}")
    return None


def _put_at(place: Place, line: str, old: str, new: str) -> str | None:
    head, rest = line[: place.column - 1], line[place.column - 1 :]
    return f"{head}{new}{rest.removeprefix(old)}" if rest.startswith(old) else None


def _only_put_in(old: str, new: str) -> bool:
    """True where the new line is the old one with quotes and blanks put in."""
    rest = iter(new)
    more = [sign for wanted in old for sign in _up_to(rest, wanted)]
    return None not in more and {*more, *rest} <= _PUT_IN


def _up_to(rest: Iterator[str], wanted: str) -> Iterator[str | None]:
    """The signs before the wanted one; None where it does not come."""
    for sign in rest:
        if sign == wanted:
            return
        yield sign
    yield None
