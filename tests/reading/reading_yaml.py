"""Front matter read for tests: its words, what of its text they cover, and pasted lines."""

from __future__ import annotations

import re
from collections.abc import Iterator

from builderlog.reading.front_matter import RawNote, read_note
from builderlog.reading.problem import Problem
from builderlog.reading.words import Node, Series, Table, Word

PATH = "notes/2026-03-14.md"
OFFER = "write: "
_STRUCTURE = re.compile(r"[\s\[\]{},:?|>+0-9-]*")
_COMMENT = re.compile(r"#(?:[ \t][^\r\n]*|(?=[\r\n]|\Z))")


def front_matter(words: str) -> tuple[RawNote, tuple[Problem, ...]]:
    """A note with these words between its fences, read."""
    return read_note(PATH, f"---\n{words}\n---\nProse.\n".encode())


def words_of(node: Node | None) -> Iterator[Word]:
    """Every word of a tree, in the file's order."""
    match node:
        case Word():
            yield node
        case Series():
            for item in node.items:
                yield from words_of(item)
        case Table():
            for pair in node.pairs:
                yield pair.key
                yield from words_of(pair.value)


def uncovered(note: RawNote, words: str) -> str:
    """What of the front matter is no word, no comment with its space, and no sign of YAML."""
    start = len("---\n")
    text = list(note.source.text[start : start + len(words)])
    for word in words_of(note.table):
        text[word.place.start - start : word.place.end - start] = "\0" * (
            word.place.end - word.place.start
        )
    rest = "".join(text).replace("\0", "")
    return _STRUCTURE.sub("", _COMMENT.sub("", rest))


def offered(problem: Problem) -> str | None:
    """The line to paste that a problem carries, if it carries one."""
    before, offer, line = problem.message.rpartition(OFFER)
    if not offer or line.endswith("…"):
        return None
    return line if re.search("[\"']", line) and before else None


def pasted(words: str, problem: Problem, line: str) -> str:
    """The front matter with the problem's line replaced by the offered one."""
    lines = words.split("\n")
    at = problem.place.line - 2
    indent = lines[at][: len(lines[at]) - len(lines[at].lstrip())]
    lines[at] = indent + line
    return "\n".join(lines)
