"""The schemas that editors complete by, held against jsonschema, a validator of others (PyPI).

The YAML is read by ruamel.yaml, in the two ways in which an editor may take its scalars: as text,
and by the guesses of YAML 1.2 (numbers, true and false; a date is given back as text, since JSON
has none). What either way refuses would be a false alarm under the builder's cursor.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft7Validator  # type: ignore[import-untyped]
from ruamel.yaml import YAML

from builderlog.knowing.forms import Day, Key, LastDay, Parsed, Text, Time
from builderlog.knowing.money import parse_currency, parse_money
from builderlog.knowing.note_rows import Cost
from builderlog.knowing.schema import DEFINITIONS, FORMS, of_form, schemas
from builderlog.knowing.settings_words import CURRENCY, X_RATE
from builderlog.knowing.units import (
    UnreadableError,
    parse_count,
    parse_date,
    parse_last_day,
    parse_length,
    parse_quantity,
)
from builderlog.knowing.worklist_words import TENTHS, parse_tenths
from builderlog.knowing.worklists import worklist_text
from tests.knowing.test_vocabulary import ALL, LETTER, NOTE, SETTINGS, TASK, line_with

EXAMPLE = Path(__file__).parents[2] / "example_journal"
WRITTEN = [each for each in ALL if each[0] != LETTER]  # a letter's few keys `letter` writes itself
VALIDATORS = {name: Draft7Validator(json.loads(text)) for name, text in schemas().items()}


def readings(text: str) -> list[Any]:
    """A YAML text as editors may take it in."""
    return [YAML(typ="base", pure=True).load(text), in_json(YAML(typ="safe", pure=True).load(text))]


def in_json(found: Any) -> Any:  # noqa: ANN401 - whatever YAML holds
    """The same with dates as text, and with text for keys, as JSON has them."""
    if isinstance(found, dict):
        return {str(key): in_json(value) for key, value in found.items()}
    if isinstance(found, list):
        return [in_json(item) for item in found]
    return found.isoformat() if isinstance(found, date) else found


def refused(name: str, text: str) -> list[str]:
    """What the validator says against a text, in either reading."""
    return [
        error.message for one in readings(text) for error in VALIDATORS[name].iter_errors(one or {})
    ]


def front_of(note: Path) -> str:
    """The words between the fences."""
    found = re.match(r"---\n(.*?)^---$", note.read_text("utf-8"), re.DOTALL | re.MULTILINE)
    return found[1] if found else ""


@pytest.mark.parametrize("name", sorted(VALIDATORS))
def test_the_schema_is_one(name: str) -> None:
    """By the draft that it names."""
    Draft7Validator.check_schema(json.loads(schemas()[name]))


@pytest.mark.parametrize("note", sorted(EXAMPLE.rglob("notes/**/*.md")), ids=lambda note: note.stem)
def test_every_note_of_the_example_is_taken(note: Path) -> None:
    """Nothing would be marked in it."""
    assert refused("note.json", front_of(note)) == []


def test_settings_and_work_lists_are_taken() -> None:
    """The example's, and one of the lists that come with the package."""
    assert refused("journal.json", (EXAMPLE / "journal.yaml").read_text("utf-8")) == []
    assert refused("worklist.json", (EXAMPLE / "worklist.yaml").read_text("utf-8")) == []
    assert refused("worklist.json", worklist_text("wood")) == []


@pytest.mark.parametrize(
    ("title", "outer", "inner"),
    WRITTEN,
    ids=[f"{title[:12]} {outer.word} {row.word if row else ''}" for title, outer, row in WRITTEN],
)
def test_every_key_is_taken_with_its_example(
    title: str, outer: Key[Any], inner: Key[Any] | None
) -> None:
    """As the help prints it, in a line of its file."""
    line = line_with(title, outer, inner)
    if title == NOTE:
        assert refused("note.json", line) == []
    elif title == SETTINGS:
        told = refused("journal.json", line)
        assert [one for one in told if "is a required property" not in one] == []
    else:
        row = f"tasks:\n      - {line}" if title == TASK else line
        assert refused("worklist.json", f"areas:\n  - area: W\n    {row}\n") == []


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("note.json", "titel: a"),
        ("note.json", "written: 14.3.2026"),
        ("note.json", "hours: all day"),
        ("note.json", "hours: {Ines: all day}"),
        ("note.json", "tasks: [{hours: 2h}]"),
        ("note.json", "tasks: [{task: W1, work: fabrikation}]"),
        ("note.json", "photos: [{photo: a.jpg, seen: {a: b}}]"),
        ("note.json", "photos: [{photo: a.jpg, private: perhaps}]"),
        ("note.json", "torqued: {where: hinge, nut: castle}"),
        ("note.json", "title: [a, b]"),
        ("journal.json", "title: a\nbuilder: B"),
        ("journal.json", "title: a\nbuilder: B\npeople: {B: {role: boss}}"),
        ("journal.json", "title: a\nbuilder: B\npeople: {B: builder}\nunits: feet"),
        ("worklist.json", "areas: [{area: W, tasks: [{task: W1, credit: {maker: 0.35}}]}]"),
        ("worklist.json", "areas: [{area: W, tasks: [{task: W1, marks: [1]}]}]"),
        ("worklist.json", "tasks: [W1]"),
    ],
)
def test_a_planted_mistake_is_refused(name: str, text: str) -> None:
    """A word that is no key, none of the words, no date, no length, or in the wrong form."""
    if name == "worklist.json" and "0.35" in text:
        text = text.replace("0.35", "'0.35'")  # patterns bind texts; numbers are left to `check`
    assert refused(name, text) != []


RATE: Parsed[Any] = cast("Parsed[Any]", X_RATE.form)
SPELLINGS = (
    *(
        "3.25",
        "3,25",
        "3h15",
        "3h 15m",
        "45m",
        "3:15",
        "19:10-22:25",
        "19.10 \u2013 22.25",
        ".5",
        "2 h",
    ),
    *(
        " 45 MIN",
        "2026-03-14",
        " 2026-11",
        "0.3",
        ",5",
        "1,",
        "12",
        "1.0837",
        "usd",
        "€",
        "2-1/2 in",
    ),
    *("17..19 mm", "<= 1 mm", "40 mm ± 0.5", "1'250.00 EUR", "€ 8,40", "USD .40", "1.250.000"),
)
READERS: list[tuple[Any, Callable[[str], object], str]] = [
    (Time(), parse_length, "0123456789:.,-\u2013hHmMiIn "),
    (Day(), parse_date, "0123456789- "),
    (LastDay(), parse_last_day, "0123456789- "),
    (TENTHS, parse_tenths, "01239,. "),
    (Parsed("a number", parse_count), parse_count, "0123456789,. "),
    (RATE, RATE.parse, "0123456789,. "),
    (CURRENCY, lambda text: parse_currency(text.strip()), "abzUSD€£ "),
    (Parsed("a value with its unit", parse_quantity), parse_quantity, "0123456789/.,-<>=±mi n"),
    (Cost(), lambda text: parse_money(text, "USD"), "0123456789.,' USDeur€"),
]


@pytest.mark.parametrize("place", range(len(READERS)))
def test_no_pattern_is_stricter_than_the_reader(place: int) -> None:
    """Whatever the reader understands is taken, however oddly it is written."""
    form, parse, signs = READERS[place]
    validator = validator_of(form)

    @settings(max_examples=60, deadline=None, derandomize=True)
    @given(st.text(signs, min_size=1, max_size=12) | st.sampled_from(SPELLINGS))
    def holds(text: str) -> None:
        try:
            parse(text)
        except UnreadableError:
            return
        assert [error.message for error in validator.iter_errors(text)] == []

    holds()


def test_every_form_of_the_vocabulary_is_known() -> None:
    """A form that the schema has not heard of would pass for any word."""
    forms = {type(key.form) for _, outer, inner in ALL for key in (outer, inner) if key}
    assert forms - set(FORMS) == {Text}


def validator_of(form: Any) -> Draft7Validator:  # noqa: ANN401 - a form of any value
    """A validator for one value of a form."""
    return Draft7Validator({**of_form(form), "definitions": DEFINITIONS})
