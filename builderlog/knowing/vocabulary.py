"""The one registry of words: what notes, journal.yaml, worklist.yaml and letters may say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from builderlog.knowing.forms import Form, Key, Rows
from builderlog.knowing.letters import LETTER_KEYS
from builderlog.knowing.note_words import NOTE_KEYS
from builderlog.knowing.settings_words import SETTINGS_KEYS
from builderlog.knowing.worklist_words import AREA_KEYS, TASK_KEYS

SECTIONS: tuple[tuple[str, tuple[Key[Any], ...]], ...] = (
    ("A shop note, between its two --- lines", NOTE_KEYS),
    ("journal.yaml", SETTINGS_KEYS),
    ("worklist.yaml: an area", AREA_KEYS),
    ("worklist.yaml: a task", TASK_KEYS),
    ("A month's letter, between its two --- lines", LETTER_KEYS),
)


def inner_keys(form: Form[Any]) -> tuple[Key[Any], ...]:
    """The keys of the tables that a form takes, or none."""
    if isinstance(form, Rows):
        return form.keys
    inner = getattr(form, "form", None)
    return inner_keys(inner) if inner is not None else ()


def _lines(keys: tuple[Key[Any], ...], indent: str) -> Iterator[str]:
    for key in keys:
        names = " or ".join((key.word, *key.aliases))
        yield f"{indent}{names}: {key.meaning}; for example {key.word}: {key.example}"
        inner = inner_keys(key.form)
        if inner and indent == "  ":
            yield from _lines(inner, indent + "    ")


def describe_words() -> str:
    """Every word with its meaning and an example, one a line, by file."""
    sections = ("\n".join((title, *_lines(keys, "  "))) for title, keys in SECTIONS)
    return "\n\n".join(sections)
