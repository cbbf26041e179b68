"""Checks of evidence at their edges; the cases of them stand in tests/cases/journals.txt."""

from __future__ import annotations

from builderlog.deciding.checks_evidence import done_without_work, tasks_without_picture
from tests.making import ledger, picture, task, worked


def test_a_picture_of_any_note_shows_a_task() -> None:
    """A task with work has no gap if a picture of any day shows it."""
    work = [worked("2026-03-14", 3600, "W14"), worked("2026-03-15", 3600, "W15")]
    shown = picture("photos/a.jpg", ("2026-04-01", ("W14",)))
    found = tasks_without_picture(
        ledger(work=work, pictures=[shown], tasks=[task("W14"), task("W15"), task("W16")])
    )
    assert [each.message.partition(":")[0] for each in found] == ["W15"]


def test_a_task_is_done_by_work() -> None:
    """Of the tasks that are done only those without any time are gaps."""
    tasks = [task("W14", done=True), task("W15", done=True), task("W16")]
    found = done_without_work(ledger(work=[worked("2026-03-14", 60, "W14")], tasks=tasks))
    assert [each.message.partition(":")[0] for each in found] == ["W15"]
