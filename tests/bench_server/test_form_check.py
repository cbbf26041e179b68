"""What would be a mistake in the note is found before the note is written."""

from __future__ import annotations

from datetime import date

from builderlog.bench.desk import Desk
from builderlog.bench.form_check import mistakes_in
from builderlog.noting.new_note import NewNote, NewTask


def test_a_mistake_is_told_at_the_row_that_makes_it(made_desk: Desk) -> None:
    """The second task exceeds what the first one left: its row is named, by the row's own name."""
    tasks = (NewTask("W15", "1h"), NewTask("W14", "1h30"))
    note = NewNote(date(2026, 3, 16), hours=(("", "2h"),), tasks=tasks)
    found = list(mistakes_in(note, made_desk.ledger, ["task-2", "task-5"]))
    assert [field for field, _ in found] == ["task-5"]


def test_doubts_do_not_hold_a_note_back(made_desk: Desk) -> None:
    """Time that no task takes is a doubt for afterwards, and what is fine tells nothing."""
    tasks = (NewTask("W15"), NewTask("W14"))
    note = NewNote(date(2026, 3, 16), hours=(("", "2h"),), tasks=tasks)
    assert list(mistakes_in(note, made_desk.ledger, ["task-1", "task-2"])) == []


def test_a_mistake_of_no_row_is_the_forms(made_desk: Desk) -> None:
    """What stands at no task's row is told over the form as a whole."""
    note = NewNote(date(2026, 3, 16), hours=(("Zed", "all day"),))
    assert [field for field, _ in mistakes_in(note, made_desk.ledger, [])] == [""]


def test_an_evening_that_another_note_has_already_is_told(made_desk: Desk) -> None:
    """Hours that would fill a day over its end together with a note of that day are held back."""
    note = NewNote(date(2026, 3, 14), hours=(("", "22h"),))
    found = [message for _, message in mistakes_in(note, made_desk.ledger, [])]
    assert len(found) == 1
    assert "24" in found[0]
    elsewhere = NewNote(date(2026, 3, 16), hours=(("", "22h"),))
    assert list(mistakes_in(elsewhere, made_desk.ledger, [])) == []
