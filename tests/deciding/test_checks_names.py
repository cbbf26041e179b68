"""Checks of names at their edges; the cases of them stand in tests/cases/journals.txt."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.checks_names import empty_notes, repeated_people, unknown_tasks
from builderlog.knowing.entries import TaskLine
from builderlog.knowing.settings import Worklist
from builderlog.reading.problem import Place, mistake
from tests.making import NOWHERE, ledger, note, task, word


def test_without_a_work_list_no_id_is_unknown() -> None:
    """Task ids are free text where there is no work list."""
    made = ledger(notes=[note("2026-03-14", "anything", shows=["else"])])
    assert list(unknown_tasks(replace(made, worklist=Worklist()))) == []
    known = ledger(notes=[note("2026-03-14", "anything", shows=["else"])], tasks=[task("W14")])
    assert [each.code for each in unknown_tasks(known)] == ["unknown-task"] * 2


def test_a_thousand_names_in_one_list() -> None:
    """Each name that stands twice is told once for each time too many."""
    names = tuple(word("Ines") for _ in range(1_000))
    bare = note("2026-03-14")
    made = replace(bare, tasks=(TaskLine(word("W14"), NOWHERE, who=names),))
    assert len(list(repeated_people(ledger(notes=[made])))) == 999


def test_a_note_that_could_not_be_read_is_not_called_empty() -> None:
    """A note with a mistake in it is not told to be empty; nobody should delete it."""
    bare = note("2026-03-14")
    made = ledger(notes=[bare])
    assert [each.code for each in empty_notes(made)] == ["empty-note"]
    told = (mistake(Place(bare.path, 2), "yaml", "x"),)
    assert list(empty_notes(replace(made, problems=told))) == []
