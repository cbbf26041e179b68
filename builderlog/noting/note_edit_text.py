"""A note opened for changes: its words with their places, and the proof that nothing else moved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from builderlog.knowing.note_words import NOTE_KEYS
from builderlog.reading.front_matter import RawNote, read_note
from builderlog.reading.problem import Problem, Weight
from builderlog.reading.source import BYTE_ORDER_MARK, source_of
from builderlog.reading.words import Node, Series, Table, Word
from builderlog.reading.yaml_edits import CannotEditError, Edits
from builderlog.reading.yaml_words import read_yaml

NOTE_ORDER = tuple(word for key in NOTE_KEYS for word in (key.word, *key.aliases))
Said: TypeAlias = "str | tuple[Said, ...] | dict[str, Said] | None"


@dataclass(frozen=True, slots=True)
class OpenNote:
    """A note without mistakes in its YAML, and what is to be changed in it."""

    raw: RawNote
    problems: tuple[Problem, ...]
    edits: Edits

    @property
    def said(self) -> dict[str, Said]:
        """What its front matter says now."""
        found = said(self.raw.table)
        return found if isinstance(found, dict) else {}

    def begin(self, written: str) -> None:
        """The first key of a note that has none; with the fences where it has none of these."""
        line_break, at = self.edits.line_break(), self.raw.closing
        if at is not None:
            self.edits.insert(at, f"{written}{self.edits.line_break(at)}")
            return
        at = len(BYTE_ORDER_MARK) if self.raw.source.text.startswith(BYTE_ORDER_MARK) else 0
        self.edits.insert(at, f"---{line_break}{written}{line_break}---{line_break}")


def open_note(path: str, data: bytes) -> OpenNote:
    """Opens a note. Raises CannotEditError where its words cannot be read as they are."""
    raw, problems = read_note(path, data)
    for problem in problems:
        if problem.weight is Weight.MISTAKE:
            told = f"line {problem.place.line} is to be mended first: {problem.message}"
            raise CannotEditError(told)
    return OpenNote(raw, problems, Edits(raw.source))


def finished(note: OpenNote, wanted: Mapping[str, Said], by_hand: str) -> bytes:
    """The bytes with all changes, read again: they say what is wanted and the same prose.

    Else raises CannotEditError, which offers `by_hand`.
    """
    data = note.edits.changed().encode()
    raw, problems = read_note(note.raw.source.path, data)
    same = [one.code for one in problems] == [one.code for one in note.problems]
    if not same or raw.prose.text != note.raw.prose.text or said(raw.table) != wanted:
        raise CannotEditError(
            "the front matter is written in a way that cannot be changed in place without harm, "
            f"so nothing was changed; write this into it yourself: {by_hand}"
        )
    return data


def said(node: Node | None) -> Said:
    """What words say, without their places: texts, lists and tables; None for nothing."""
    match node:
        case Word():
            return None if node.empty else node.text
        case Series():
            return tuple(said(item) for item in node.items)
        case Table():
            return {pair.key.text: said(pair.value) for pair in node.pairs}
    return None


def as_items(found: Said) -> tuple[Said, ...]:
    """The items of a list; one item needs no list."""
    return found if isinstance(found, tuple) else () if found is None else (found,)


def parsed(written: str) -> tuple[Edits, Node | None]:
    """Ready YAML in one line, read where an item of a list stands."""
    text = f"- {written}"
    source, _ = source_of("", text.encode())
    root, _ = read_yaml(source, 0, len(text))
    return Edits(source), root.items[0] if isinstance(root, Series) else None
