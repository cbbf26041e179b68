"""One note to an entry: every key of the contract, and what is told of a value without meaning."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.knowing.entries import Privacy
from builderlog.knowing.note_words import NOTE_KEYS
from builderlog.knowing.vocabulary import inner_keys
from tests.examples import many
from tests.knowing.reading_notes import lines_of, read
from tests.reading.case_file import Case, each_case, told

WORDS = sorted({word for key in NOTE_KEYS for word in (key.word, *key.aliases)})
INNER = sorted({key.word for outer in NOTE_KEYS for key in inner_keys(outer.form)})
VALUES = (
    *("3h15", "19:10-22:25", "W14", "yes", "hours only", "2026-03-14", "fitted", "8.40 EUR", "12"),
    *("18 mm", "~", '""', "", "[]", "{}", "[W14, W15]", "[[x]]", "{Ines: 2}", "[{}]", "x: y"),
)


@each_case("notes.txt")
def test_case(case: Case) -> None:
    """The note and its mistakes are those that the case writes; its day is 2026-03-14."""
    note, problems = read(case.data)
    assert told(problems) == case.problems
    lines = [
        line for line in lines_of(note) if not line.startswith(("path =", "day =", "privacy = no"))
    ]
    assert lines == case.values


@pytest.mark.parametrize(
    ("path", "words", "day", "codes"),
    [
        ("notes/2026-03-14.md", "title: x", date(2026, 3, 14), []),
        ("notes/deep/er/2026-03-14-skins.md", "title: x", date(2026, 3, 14), []),
        ("notes/2026-03-14skins.md", "title: x", date(2026, 3, 14), []),
        ("notes/skins.md", "date: 2026-03-14", date(2026, 3, 14), []),
        ("notes/2026-03-14.md", "date: 2026-03-14", date(2026, 3, 14), []),
        ("notes/2026-03-14.md", "date: 2026-03-15", date(2026, 3, 15), ["dates-differ"]),
        ("notes/2026-03-14.md", "date: 15.3.2026", date(2026, 3, 14), ["unreadable"]),
        ("notes/2026-03-14.md", "date:", date(2026, 3, 14), []),
        ("notes/skins.md", "title: x", None, ["no-date"]),
        ("notes/skins.md", "date:", None, ["no-date"]),
        ("notes/skins.md", "date: 2026-02-30", None, ["unreadable"]),
        ("notes/2026-02-30.md", "title: x", None, ["unreadable", "no-date"]),
        ("notes/2026-02-30.md", "date: 2026-03-01", date(2026, 3, 1), ["unreadable"]),
        ("notes/2026-03-145.md", "title: x", None, ["no-date"]),
        ("notes/x-2026-03-14.md", "title: x", None, ["no-date"]),
        ("2026-03-14/notes.md", "title: x", None, ["no-date"]),
    ],
)
def test_the_day_is_the_keys_or_the_names(
    path: str, words: str, day: date | None, codes: list[str]
) -> None:
    """The date stands as a key or at the start of the file's name; where they differ it is told."""
    note, problems = read(f"---\n{words}\n---\n".encode(), path)
    assert (note.day, [each.code for each in problems]) == (day, codes)


def test_a_dated_name_and_words_are_a_note() -> None:
    """A file with a date in its name and no front matter at all is a note."""
    note, problems = read(b"Riveted the left skin.\n")
    assert (note.day, note.prose.text, problems) == (
        date(2026, 3, 14),
        "Riveted the left skin.\n",
        (),
    )


@pytest.mark.parametrize(
    ("written", "privacy"),
    [
        ("yes", Privacy.PRIVATE),
        ("true", Privacy.PRIVATE),
        ("Yes", Privacy.PRIVATE),
        ("hours only", Privacy.HOURS_ONLY),
        ("no", Privacy.OPEN),
        ("false", Privacy.OPEN),
        ("", Privacy.OPEN),
        ("perhaps", Privacy.PRIVATE),
        ("[yes]", Privacy.PRIVATE),
    ],
)
def test_what_cannot_be_read_keeps_a_note_private(written: str, privacy: Privacy) -> None:
    """`private` that is neither yes, no nor hours only keeps the note private, and is told."""
    note, problems = read(f"---\nprivate: {written}\n---\n".encode())
    assert note.privacy is privacy
    assert [each.code for each in problems] == {
        "perhaps": ["unreadable"],
        "[yes]": ["wrong-form"],
    }.get(written, [])


@given(
    st.binary(max_size=60).map(lambda data: b"---\n" + data + b"\n---\n") | st.binary(max_size=60)
)
@settings(max_examples=many(200), deadline=None)
def test_any_bytes_give_a_note(data: bytes) -> None:
    """No bytes make reading a note fail."""
    note, _ = read(data)
    assert note.day == date(2026, 3, 14)


PAIRS = st.tuples(st.sampled_from(WORDS), st.sampled_from(VALUES))
ROWS = st.tuples(
    st.sampled_from(WORDS), st.lists(st.tuples(st.sampled_from(INNER), st.sampled_from(VALUES)))
)


@given(st.lists(PAIRS, max_size=4), st.lists(ROWS, max_size=3))
@settings(max_examples=many(300), deadline=None)
def test_any_value_under_any_key_gives_a_note(
    pairs: list[tuple[str, str]], rows: list[tuple[str, list[tuple[str, str]]]]
) -> None:
    """Keys with values of every kind, right or wrong, are read or told; nothing fails."""
    lines = [f"{key}: {value}" for key, value in pairs]
    for key, row in rows:
        lines += [f"{key}:", *(f"    {inner}: {value}" for inner, value in row)]
    read("\n".join(["---", *lines, "---", ""]).encode())
