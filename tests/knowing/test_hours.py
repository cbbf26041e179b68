"""Who gave how long to which task; the cases of it stand in tests/cases/journals.txt."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.knowing.hours import length_text
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from tests.examples import many
from tests.knowing.journals import JOURNAL, content

IDS = ("W14", "left wing", "W14: skins", "#5", "W, right", "No", "'a'", "[x]", "*y", "010", "é")


def ledger_of_note(words: str) -> Ledger:
    """A journal without a work list, of one note."""
    files = {"journal.yaml": JOURNAL, "notes/2026-03-14.md": f"---\n{words}\n---\n"}
    added = {path: content(text) for path, text in files.items()}
    return read_journal(Folder(Path("nowhere"), tuple(added), added=added))


def offered_split(ledger: Ledger) -> list[str]:
    """The lists of tasks that the doubts about time without a task offer."""
    messages = [each.message for each in ledger.problems if each.code == "time-without-task"]
    return [found[1] for each in messages if (found := re.search(r"they are: (\[.*\])$", each))]


@given(st.lists(st.sampled_from(IDS), min_size=2, max_size=5, unique=True), st.integers(1, 60_000))
@settings(max_examples=many(150), deadline=None)
def test_the_even_split_that_is_offered_can_be_pasted(tasks: list[str], seconds: int) -> None:
    """Pasted in place of the tasks, the split gives every second, evenly, and no doubt is left."""
    hours = f"hours: {length_text(seconds)}"
    quoted = [f'"{task}"' for task in tasks]
    ledger = ledger_of_note(f"{hours}\ntasks: [{', '.join(quoted)}]")
    (split,) = offered_split(ledger)
    after = ledger_of_note(f"{hours}\ntasks: {split}")
    assert after.problems == ()
    shares = [row.seconds for row in after.work]
    assert sum(shares) == seconds
    assert max(shares) - min(shares) <= 1 or len(shares) < len(tasks)
    assert [row.task for row in after.work] == tasks[: len(shares)]


def test_the_split_of_two_people_keeps_what_the_lines_say() -> None:
    """Each person's split names that person and keeps the kind of work and the page."""
    lines = "  - {task: W14, work: other, per: page 3}\n  - {task: W15, who: [Tomas, Ines]}"
    ledger = ledger_of_note(f"hours: {{Ines: 2h, Tomas: 1h}}\ntasks:\n{lines}")
    splits = offered_split(ledger)
    said = "work: other, per: page 3"
    assert splits == [
        f"[{{task: W14, hours: 1h, who: Ines, {said}}}, {{task: W15, hours: 1h, who: Ines}}]",
        f"[{{task: W14, hours: 30m, who: Tomas, {said}}}, {{task: W15, hours: 30m, who: Tomas}}]",
    ]
    both = ", ".join(split[1:-1] for split in splits)
    after = ledger_of_note(f"hours: {{Ines: 2h, Tomas: 1h}}\ntasks: [{both}]")
    assert after.problems == ()
    assert sorted((row.person, row.task, row.seconds) for row in after.work) == [
        ("Ines", "W14", 3600),
        ("Ines", "W15", 3600),
        ("Tomas", "W14", 1800),
        ("Tomas", "W15", 1800),
    ]


def test_the_mistake_stands_at_the_task_that_exceeds() -> None:
    """Of three tasks the second exceeds; the third still fits and counts."""
    ledger = ledger_of_note(
        "hours: 2h\ntasks:\n"
        "  - {task: a, hours: 1h}\n  - {task: b, hours: 90m}\n  - {task: c, hours: 1h}"
    )
    assert [(each.code, each.place.line) for each in ledger.problems] == [("task-exceeds-hours", 5)]
    assert [(row.task, row.seconds) for row in ledger.work] == [("a", 3600), ("c", 3600)]


def test_people_who_are_not_declared_have_no_time() -> None:
    """Time of a name that nobody declared counts nowhere, until the name is mended."""
    ledger = ledger_of_note("hours: {Ines: 1h, Tomsa: 2h}")
    assert [(row.person, row.seconds) for row in ledger.work] == [("Ines", 3600)]


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0, "0m"),
        (60, "1m"),
        (3600, "1h"),
        (11_700, "3h15"),
        (11_100, "3h05"),
        (1, "0.000278"),
        (9, "0.0025"),
        (3601, "1.000278"),
    ],
)
def test_lengths_are_printed_as_a_note_writes_them(seconds: int, text: str) -> None:
    """Hours and minutes, and decimal hours only where seconds remain."""
    assert length_text(seconds) == text
