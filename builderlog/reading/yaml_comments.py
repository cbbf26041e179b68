"""What YAML takes for a comment although the builder meant it: `#40 pilot holes`.

A comment begins with `#` and a space. `#` with a word right behind it, after a value, is a hole
number or a size, and YAML would lose it in silence.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from builderlog.reading.problem import Problem, doubt, mistake
from builderlog.reading.quoting import quoted_line, value_end
from builderlog.reading.source import Source
from builderlog.reading.yaml_masks import masked
from builderlog.reading.yaml_mending import Mend

_COMMENT = re.compile(r"#[^\r\n]*")
_MEANT = re.compile(r"#(?![ \t])")
_WORDS_IN_COMMENT = re.compile(r"#+[^\W_#]|#\S*[^\W_]")  # a letter or digit before any space
_HEADER = re.compile(r"[^\r\n]*")


@dataclass(frozen=True, slots=True)
class Seen:
    """A word that is not empty, as offsets in the chunk, and the bracket that it stands in."""

    start: int
    end: int
    plain: bool
    flow: str  # "{", "[" or ""


@dataclass(frozen=True, slots=True)
class _Comment:
    """What YAML takes for a comment, as offsets in the chunk; `before` is the word before it."""

    start: int
    end: int
    before: Seen | None
    prefix: str  # its line up to it
    gap: str  # the same, from the word before it on


def lost_values(source: Source, chunk: str, base: int, seen: Sequence[Seen]) -> Mend | None:
    """Comments that cut values short, and the chunk in which these values are whole."""
    problems: list[Problem] = []
    signs: list[int] = []
    for comment in _comments(chunk, seen):
        cut = _value_cut(comment)
        if cut is None or not _MEANT.match(chunk, comment.start):
            continue
        start, flow = cut
        end = value_end(source.text, base + comment.start, flow)
        signs.extend(at for at in range(comment.start, end - base) if chunk[at] == "#")
        found = source.text[base + comment.start : end]
        told = (
            f"YAML takes '{found}' for a comment and loses it; "
            f"write: {quoted_line(source, base + start, end)}"
        )
        place = source.place(base + comment.start, end)
        problems.append(mistake(place, "comment-cuts-value", told))
    return Mend(tuple(problems), masked(chunk, signs)) if problems else None


def other_comments(
    source: Source, chunk: str, base: int, seen: Sequence[Seen], skip: set[int]
) -> Iterator[Problem]:
    """Comments without a space that cut no value: perhaps switched off, perhaps lost."""
    for comment in _comments(chunk, seen):
        meant = _MEANT if comment.prefix.strip() else _WORDS_IN_COMMENT
        if comment.start not in skip and meant.match(chunk, comment.start, comment.end):
            found = source.text[base + comment.start : base + comment.end].rstrip()
            yield doubt(
                source.place(base + comment.start, base + comment.end),
                "comment-without-space",
                f"'{found}' is a comment and not read; "
                "write '# ' with a space if that is meant, else put the value in quotes",
            )


def _value_cut(comment: _Comment) -> tuple[int, str] | None:
    """Where the value begins that the comment cuts, and the bracket it stands in."""
    before, between = comment.before, comment.gap.strip()
    if before and before.plain and not between and comment.prefix.strip():
        return before.start, before.flow
    if between.endswith("-"):
        return comment.start, ""
    if between.endswith((":", ",")) and not re.search(r"[\]}]", between):
        opened = re.findall(r"[\[{]", between)
        return comment.start, opened[-1] if opened else before.flow if before else ""
    return (comment.start, between[-1]) if between.endswith(("[", "{")) else None


def _comments(chunk: str, seen: Iterable[Seen]) -> Iterator[_Comment]:
    """What begins with `#` between the words."""
    if "#" not in chunk:
        return
    for start, end, before in _gaps(chunk, seen):
        for found in _COMMENT.finditer(chunk, start, end):
            at = found.start()
            line = max(chunk.rfind("\n", 0, at), chunk.rfind("\r", 0, at)) + 1
            gap = chunk[max(line, before.end if before else 0) : at]
            yield _Comment(at, found.end(), before, chunk[line:at], gap)


def _gaps(chunk: str, seen: Iterable[Seen]) -> Iterator[tuple[int, int, Seen | None]]:
    position, before = 0, None
    for word in seen:
        yield position, word.start, before
        if chunk[word.start] in "|>" and not word.plain:
            header = _HEADER.match(chunk, word.start)
            yield word.start + 1, header.end() if header else word.end, before
        position, before = max(position, word.end), word
    yield position, len(chunk), before
