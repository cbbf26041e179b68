"""The registry of words: every key is read by its own example, and printed in the help."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from builderlog.knowing.forms import Key
from builderlog.knowing.letters import letter_of
from builderlog.knowing.settings_words import SETTINGS_KEYS, settings_of
from builderlog.knowing.vocabulary import SECTIONS, describe_words, inner_keys
from builderlog.knowing.worklist_words import worklist_of
from builderlog.reading.front_matter import as_table
from builderlog.reading.problem import Place, Problem
from builderlog.reading.source import source_of
from builderlog.reading.words import Table
from builderlog.reading.yaml_words import read_yaml
from tests.knowing.reading_notes import lines_of, read

NOTE, SETTINGS, AREA, TASK, LETTER = (title for title, _ in SECTIONS)
# What a row needs beside the key in question, by the key that holds the row.
NEEDED = {
    "tasks": "task: W14",
    "parts": "part: bolt",
    "photos": "photo: a.jpg",
    "measured": "what: gap",
    "snags": "snag: nick",
    "fixed": "no: '1'",
    "decided": "what: rivets",
    "visits": "who: A. Person",
    "away": "what: seats",
    "bulletins": "no: SB-1",
    "people": "role: builder",
    "exchange": "from: EUR, on: 2026-03-01, rate: 1.1",
    "answers": "gap: W14, because: lost",
    "holidays": "from: 2026-07-06",
    "own rulebook": "measure: points, limit: at least 0.51",
}
BY_NAME = {"people", "wrenches", "papers"}


def rows() -> Iterator[tuple[str, Key[Any], Key[Any] | None]]:
    """Every key of the registry, with the file it belongs to; inner keys with their outer one."""
    for title, keys in SECTIONS:
        for key in keys:
            yield title, key, None
            for inner in inner_keys(key.form):
                yield title, key, inner


def table_of(text: str) -> tuple[Table | None, list[Problem]]:
    """The words of a YAML file."""
    source, problems = source_of("x.yaml", text.encode())
    root, told = read_yaml(source, 0, len(source.text))
    table, more = as_table(root)
    return table, [*problems, *told, *more]


def mistakes_in(title: str, text: str) -> list[str]:
    """What is told about a line of a note, of journal.yaml, of an area or of a task."""
    if title == NOTE:
        return [each.message for each in read(f"---\n{text}\n---\n".encode())[1]]
    if title == LETTER:
        told_letter = letter_of("letters/2026-03.md", f"---\n{text}\n---\n".encode())[1]
        return [each.message for each in told_letter]
    if title == SETTINGS:
        table, told = table_of(f"{text}\n")
        told += settings_of(table, Place("journal.yaml"))[1]
        # What the other keys of journal.yaml would say is not asked here.
        return [each.message for each in told if "journal.yaml needs" not in each.message]
    inner = f"area: W\n    {text}" if title == AREA else f"area: W\n    tasks:\n      - {text}"
    table, told = table_of(f"areas:\n  - {inner}\n")
    return [each.message for each in (*told, *worklist_of(table, Place("worklist.yaml"))[1])]


def line_with(title: str, outer: Key[Any], inner: Key[Any] | None) -> str:
    """A line in which the key stands with its own example, and all that it needs beside it."""
    if inner is None:
        key = outer
        beside = {AREA: "area: W", TASK: "task: W14"}.get(title, "")
        # An area's or a task's own id is written once; its other keys stand in the next line.
        indent = {AREA: "\n    ", TASK: "\n        "}.get(title, "")
        line = f"{key.word}: {key.example.replace('[...]', '[W14]')}"
        if title == AREA:
            return "name: Wings" if key.word == "area" else line
        return line if not beside or key.word == "task" else f"{beside}{indent}{line}"
    needed = NEEDED.get(outer.word, "")
    words = [f"{inner.word}: {inner.example}"]
    words += [word for word in needed.split(", ") if word and not word.startswith(f"{inner.word}:")]
    row = f"{{{', '.join(words)}}}"
    row = f"{{A name: {row}}}" if outer.word in BY_NAME else row
    return {AREA: f"{outer.word}: [{row}]", TASK: f"task: W14\n        {outer.word}: {row}"}.get(
        title, f"{outer.word}: {row}"
    )


ALL = list(rows())


@pytest.mark.parametrize(
    ("title", "outer", "inner"),
    ALL,
    ids=[
        f"{title[:12]} {outer.word}{f'.{inner.word}' if inner else ''}"
        for title, outer, inner in ALL
    ],
)
def test_every_key_is_read_by_its_own_example(
    title: str, outer: Key[Any], inner: Key[Any] | None
) -> None:
    """The example that the help prints for a key is read without a mistake."""
    assert mistakes_in(title, line_with(title, outer, inner)) == []


@pytest.mark.parametrize("key", [key for title, key, inner in ALL if title == NOTE and not inner])
def test_every_example_of_a_note_leaves_a_value(key: Key[Any]) -> None:
    """A note that holds the example of a key says more than a note without it."""
    bare = list(lines_of(read(b"---\n---\n")[0]))
    note, _ = read(f"---\n{key.word}: {key.example}\n---\n".encode())
    said = list(lines_of(note))
    assert said != bare or key.word == "date"


def test_a_wrong_example_is_told() -> None:
    """The walk over the registry bites: an example with a fault in it is told."""
    assert mistakes_in(NOTE, "tasks: [{task: W14, hours: all day}]") != []
    assert mistakes_in(SETTINGS, "exchange: {from: EUR}") != []
    assert mistakes_in(TASK, "task: W14\n        credit: {maker: 2}") != []
    assert mistakes_in(AREA, "nmae: Wings") != []


def test_the_contract_has_every_word() -> None:
    """The keys of a note and of journal.yaml are those of the contract, and one of ours more."""
    note = {key.word for key in SECTIONS[0][1]}
    assert note == set(
        "date title hours tasks parts photos measured torqued process snags fixed decided visits "
        "away bulletins closes opens next place written private".split()
    )
    assert {key.word for key in SETTINGS_KEYS} == {
        *("title", "builder", "people", "primary", "aircraft", "kit evaluated", "kit hours"),
        *("place", "started", "certificated", "rulebook", "citation", "units", "currency"),
        *("exchange", "wrenches", "papers", "answers", "week starts", "site"),
        "dossier",  # the paper and the sender of what the inspector gets
        "day ends",  # till then a note belongs to the evening before
        "holidays",  # when no work is expected, for the pace
        "visit before closing",  # areas or tasks that somebody is to look at first
        "own rulebook",  # where a builder whose rulebook is `own` states measure and limit
    }


def test_the_help_has_every_word() -> None:
    """`check --words` prints every key with its meaning and its example."""
    printed = describe_words()
    for _, outer, inner in ALL:
        key = inner or outer
        assert f"{key.meaning}; for example {key.word}: {key.example}" in printed


def test_no_key_has_two_names_in_one_table() -> None:
    """No word and no other name for it stands twice in one table."""
    tables = [keys for _, keys in SECTIONS]
    tables += [inner_keys(key.form) for _, keys in SECTIONS for key in keys]
    for keys in tables:
        words = [word for key in keys for word in (key.word, *key.aliases)]
        assert len(words) == len(set(words))
