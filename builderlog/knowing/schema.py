"""The vocabulary as JSON Schema (draft 7), with which an editor completes and checks.

An editor reads YAML with guesses of its own, so every scalar may be text, number or true/false;
patterns apply to text alone, and are never stricter than the reader. What a schema cannot say
(who is declared, which file is there) `check` says.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Any

from builderlog.knowing.forms import (
    ByName,
    Choice,
    Day,
    Form,
    Key,
    LastDay,
    Many,
    Parsed,
    Rows,
    Time,
    YesNo,
)
from builderlog.knowing.note_rows import Cost
from builderlog.knowing.note_words import NOTE_KEYS, Hours
from builderlog.knowing.settings_words import NEEDED, SETTINGS_KEYS
from builderlog.knowing.worklist_words import CREDIT_KEYS, WORKLIST_KEYS, CreditForm, Marks

Schema = dict[str, Any]
DRAFT = "http://json-schema.org/draft-07/schema#"
NOTHING = {"type": "null"}  # a key with nothing behind it
SCALAR = ["string", "number", "boolean", "null"]
_DATE = r"\d{4}-\d{2}-\d{2}"
_BLANKS = r"^\s*{}\s*$"
_CLOCK = r"\d{1,2}[:.]\d{2}"
_LENGTH = "|".join(
    (
        r"\d{1,6}([.,]\d{1,9})?\s*[hH]?",
        r"[.,]\d{1,9}\s*[hH]?",
        r"\d{1,4}\s*[hH]\s*\d{1,4}\s*([mM]|[mM][iI][nN])?",
        r"\d{1,4}\s*([mM]|[mM][iI][nN])",
        r"\d{1,4}:\d{2}",
        rf"{_CLOCK}\s*[-\u2013]\s*{_CLOCK}",
    )
)
PATTERNS = {  # by the name of the form, with what to write; what is not here takes any text
    "a number": (r"^\s*\d{1,9}([.,]\d{1,12})?\s*$", "a number, as in 12 or 0.5"),
    "three letters": (r"^\s*([A-Za-z]{3}|[€£])\s*$", "three letters, as in USD"),
    "a value with its unit": (r"\d", "a value with its unit, as in 0.8 mm"),
    "a length with its unit": (r"\d", "a length with its unit, as in 240 mm"),
    "tenths of a point": (r"^\s*[01]?([.,]\d0*)?\s*$", "0 to 1 in tenths, as in 0.3"),
}
_YES_NO = r"^([Yy][Ee][Ss]|[Nn][Oo]|[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])$"


def schemas() -> dict[str, str]:
    """The schemas as JSON texts by file name."""
    written = {
        "note.json": ("The front matter of a shop note", NOTE_KEYS, ()),
        "journal.json": ("journal.yaml", SETTINGS_KEYS, NEEDED),
        "worklist.json": ("worklist.yaml", WORKLIST_KEYS, ()),
    }
    return {
        name: json.dumps(
            {
                "$schema": DRAFT,
                "title": title,
                **_table(keys, needs),
                "definitions": DEFINITIONS,
            },
            ensure_ascii=False,
            indent=1,
        )
        + "\n"
        for name, (title, keys, needs) in written.items()
    }


def _table(keys: Iterable[Key[Any]], needs: Iterable[str] = ()) -> Schema:
    """Keys with values, and no others."""
    properties = {word: _of_key(key) for key in keys for word in (key.word, *key.aliases)}
    schema: Schema = {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }
    return {**schema, "required": list(needs)} if needs else schema


def _of_key(key: Key[Any]) -> Schema:
    told = f"{key.meaning}\nfor example {key.word}: {key.example}"
    value = _any_of(of_form(key.form), NOTHING)
    if "$ref" in value:
        value = {"anyOf": [value]}  # beside a bare $ref the description would not count
    return {"description": told, **value}


def of_form(form: Form[Any]) -> Schema:
    """What a form takes; one that is not among `FORMS` takes any word."""
    made = FORMS.get(type(form))
    return made(form) if made else _ref("word")


def _ref(name: str) -> Schema:
    return {"$ref": f"#/definitions/{name}"}


def _word(pattern: str, write: str) -> Schema:
    """Any word, a text by a pattern; what to write instead is shown by editors that can."""
    return {"type": SCALAR, "pattern": pattern, "patternErrorMessage": f"write {write}"}


def _of_many(form: Many[Any]) -> Schema:
    item = _any_of(of_form(form.form), NOTHING)
    return _any_of(item, {"type": "array", "items": item})


def _of_by_name(form: ByName[Any]) -> Schema:
    return {"type": "object", "additionalProperties": _any_of(of_form(form.form), NOTHING)}


def _of_hours(_: Hours) -> Schema:
    return _any_of(_ref("time"), {"type": "object", "additionalProperties": _ref("time")})


def _of_parsed(form: Parsed[Any]) -> Schema:
    """By the name of the form; a few words are offered, and the reader may take others."""
    if " | " in form.name:
        return _any_of({"enum": form.name.split(" | ")}, _ref("word"))
    return _word(*PATTERNS[form.name]) if form.name in PATTERNS else _ref("word")


def _of_rows(form: Rows[Any]) -> Schema:
    """A table, or the bare word that stands for one."""
    table = _table(form.keys, form.needs)
    short = next((key for key in form.keys if key.word == form.short), None)
    return table if short is None else _any_of(table, of_form(short.form))


def _any_of(*choices: Schema) -> Schema:
    """One of several; what is a choice itself is taken apart, and the same one stands once."""
    flat: list[Schema] = []
    for choice in choices:
        flat += [one for one in choice.get("anyOf", [choice]) if one not in flat]
    if any(one.get("type") == SCALAR or "$ref" in one for one in flat):
        flat = [one for one in flat if one != NOTHING]  # these take nothing anyhow
    return flat[0] if len(flat) == 1 else {"anyOf": flat}


_LENGTH_WORD = _word(_BLANKS.format(f"({_LENGTH})"), "3.25, 3h15, 45m, 3:15 or 19:10-22:25")
DEFINITIONS: Schema = {
    "word": {"type": SCALAR},
    "yes-or-no": _any_of({"enum": ["yes", "no"]}, _word(_YES_NO, "yes or no")),
    "day": _word(_BLANKS.format(_DATE), "year-month-day, as in 2026-03-14"),
    "last-day": _word(
        _BLANKS.format(rf"({_DATE}|\d{{4}}-\d{{2}})"), "2026-03-14, or a month: 2026-11"
    ),
    "time": _any_of(_LENGTH_WORD, {"type": "array", "items": _LENGTH_WORD}),
}
FORMS: dict[type, Callable[[Any], Schema]] = {
    Many: _of_many,
    Rows: _of_rows,
    ByName: _of_by_name,
    Hours: _of_hours,
    Parsed: _of_parsed,
    Choice: lambda form: {"enum": [*form.words]},
    YesNo: lambda _: _ref("yes-or-no"),
    Day: lambda _: _ref("day"),
    LastDay: lambda _: _ref("last-day"),
    Time: lambda _: _ref("time"),
    Cost: lambda _: _word(r"\d", "an amount and its currency, as in 8.40 USD"),
    CreditForm: lambda _: _table(CREDIT_KEYS),
    Marks: lambda _: {
        "type": "array",
        "items": _word(r"^\s*[0-9]{1,4}\s*$", "a whole number"),
        "minItems": 2,
        "maxItems": 2,
    },
}
