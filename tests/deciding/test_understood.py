"""What was understood of a note: three lines, exact sums, and the problems that are its own."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from builderlog.deciding.checks import judge
from builderlog.deciding.understood import Understood, understood, understood_lines
from tests.knowing.journals import ledger_of

NOTES = {
    "notes/a.md": "---\ndate: 2026-02-28\nhours: 2h\ntasks: [W14]\n---\n",
    "notes/b.md": "---\ndate: 2026-03-12\nhours: 1h30\ntasks: [W14]\n---\n",
    "notes/c.md": (
        "---\ndate: 2026-03-14\nhours: {Ines: 3h15, Tomas: 1h}\n"
        "tasks: [{task: W15, hours: 2.5}, {task: W14, hours: 0:15, who: [Tomas]}]\n"
        "closes: W14\n---\n"
    ),
    "notes/d.md": "---\ndate: 2026-03-14\nhours: soon\n---\n",
    "notes/e.md": "---\nhours: 1h\n---\nno date\n",
}


def found_in(root: Path, name: str) -> Understood:
    """What was understood of one of the notes."""
    ledger = ledger_of(root, NOTES)
    return understood(ledger, judge(ledger), f"notes/{name}.md")


def plain(lines: tuple[str, ...]) -> list[str]:
    """The lines with common blanks."""
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def test_three_lines(tmp_path: Path) -> None:
    """Tonight by person and task, the month with its days, and all of it."""
    found = found_in(tmp_path, "c")
    tonight, *others = plain(understood_lines(found, date(2026, 3, 14)))
    who, _, tasks = tonight.partition(": ")
    assert who == "4 h 15 min tonight (Ines 3 h 15 min and Tomas 1 h)"
    assert tasks == "W14 15 min, W15 2 h 30 min, no task 1 h 30 min"
    assert others == [
        "March 2026: 5 h 45 min on 2 days",
        "In all: 7 h 45 min",
    ]
    assert found.tonight == sum(found.by_task.values()) == sum(found.by_person.values())
    assert [one.subject for one in found.closing] == ["W14"]


def test_another_evening_is_named(tmp_path: Path) -> None:
    """A note that is written later says of which day it is; one person is but named."""
    lines = plain(understood_lines(found_in(tmp_path, "b"), date(2026, 3, 14)))
    assert lines[0] == "1 h 30 min on 12 March 2026 (Ines): W14 1 h 30 min"


def test_mistakes_are_the_notes_own(tmp_path: Path) -> None:
    """A mistake in the note is its own, those of other files are counted elsewhere."""
    found = found_in(tmp_path, "d")
    assert [(one.code, one.place.line) for one in found.mistakes] == [("unreadable", 3)]
    assert found.elsewhere == 1
    assert plain(understood_lines(found, date(2026, 3, 14)))[0] == "No time tonight"


def test_a_note_without_a_day_has_no_lines(tmp_path: Path) -> None:
    """What has no date counts nowhere, and three lines of it are never made."""
    found = found_in(tmp_path, "e")
    assert (found.day, found.tonight, [one.code for one in found.mistakes]) == (
        *(None, 0),
        ["no-date"],
    )
    with pytest.raises(ValueError, match="without a day"):
        understood_lines(found, date(2026, 3, 14))
