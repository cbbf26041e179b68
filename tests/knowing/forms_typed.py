"""Forms typed for tests: a table's text to what it says, and what is told about it."""

from __future__ import annotations

from collections.abc import Sequence

from builderlog.handover.tables import unguard
from builderlog.knowing.form_merge import Merge, merge_form
from builderlog.knowing.form_row import FormRow
from builderlog.knowing.form_table import Form, form_of
from builderlog.knowing.worklist_edit import WorklistText, read_worklist
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.problem import Problem

PATH = "form.csv"
LIST = "worklist.yaml"


def typed(text: str) -> tuple[Form, tuple[Problem, ...]]:
    """The form that a table's text holds."""
    table, problems = read_csv(PATH, text.encode())
    assert problems == ()
    return form_of(table, unguard)


def rows(text: str) -> tuple[FormRow, ...]:
    """Its rows; nothing but doubts may be told about it."""
    form, problems = typed(text)
    assert [each for each in problems if each.weight == "mistake"] == []
    return form.rows


def told(problems: Sequence[Problem]) -> list[tuple[str, str]]:
    """`line:column` and code, in the order of places."""
    ordered = sorted(problems, key=lambda each: each.order)
    return [(f"{each.place.line}:{each.place.column}", each.code) for each in ordered]


def listed(text: str) -> WorklistText:
    """A work list without mistakes."""
    found = read_worklist(LIST, text.encode())
    assert found.mistakes == ()
    return found


def merged(text: str, table: str) -> tuple[Merge, tuple[Problem, ...]]:
    """A table taken into a work list; an empty text is no list."""
    return merge_form(rows(table), listed(text).worklist)
