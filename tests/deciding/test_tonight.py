"""What tonight's note can begin with: the last session, parts on their way, snags of its areas."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path

import pytest

from builderlog.deciding.tonight import Tonight, known_for, night_of
from tests.knowing.journals import ledger_of

FOUR = time(4)
NOTES = {
    "notes/a.md": (
        "---\ndate: 2026-03-10\nhours: 1h\ntasks: [F1]\n"
        "snags: [{snag: burr, area: F}, {snag: loose bolt, task: W16}, odd one]\n"
        "parts: [{part: Rod, status: ordered, due: 2026-03-20},"
        " {part: Pin, status: back-ordered, ref: P-1}, {part: Bolt, status: received}]\n---\n"
    ),
    "notes/b.md": (
        "---\ndate: 2026-03-12\nhours: {Tomas: 1h, Ines: 2h}\n"
        "tasks: [{task: W14, hours: 1h, who: Ines, work: assembly, per: page 3}, W15]\n"
        "next: [dimple, order rivets]\nsnags: [{snag: nick, area: W}]\n---\n"
    ),
    "notes/c.md": (
        "---\ndate: 2026-03-12\nhours: 0:30\ntasks: [{task: W14, who: Ines}]\nnext: dimple\n---\n"
    ),
    "notes/d.md": "---\ndate: 2026-03-13\nfixed: 2026-03-12.1\n---\nOnly looked.\n",
    "notes/e.md": "---\ndate: 2026-03-20\ntasks: [F1]\nhours: 1h\n---\n",
}


def known(root: Path, on: str, **more: str) -> Tonight:
    """What is known for a day."""
    ledger = ledger_of(root, {**NOTES, **more})
    return known_for(ledger, date.fromisoformat(on), ["photos/x.jpg"])


@pytest.mark.parametrize(
    ("now", "day"),
    [
        ("2026-03-14 22:30", "2026-03-14"),
        ("2026-03-15 03:59:59", "2026-03-14"),
        ("2026-03-15 04:00", "2026-03-15"),
        ("2026-01-01 00:00", "2025-12-31"),
    ],
)
def test_before_four_it_is_still_yesterday(now: str, day: str) -> None:
    """An evening goes on past midnight till the day ends."""
    assert night_of(datetime.fromisoformat(now), FOUR) == date.fromisoformat(day)


def test_a_day_may_end_at_midnight() -> None:
    """With `day ends: 0:00` the calendar counts, and the first day of all has none before it."""
    assert night_of(datetime(2026, 3, 15, 0, 0), time(0)) == date(2026, 3, 15)  # noqa: DTZ001
    assert night_of(datetime(1, 1, 1, 1, 0), FOUR) == date(1, 1, 1)  # noqa: DTZ001


def test_the_last_session_is_all_notes_of_its_day(tmp_path: Path) -> None:
    """Its tasks, once each as last written, what it left to do, and who was there."""
    found = known(tmp_path, "2026-03-14")
    assert found.last_day == date(2026, 3, 12)
    assert [(task.task, task.name, task.work, task.per) for task in found.tasks] == [
        ("W14", "Skins", "assembly", "page 3"),
        ("W15", "Hinges", "", ""),
    ]
    assert found.next_steps == ("dimple", "order rivets")
    assert found.people == ("Ines", "Tomas")
    assert (found.pictures, found.written) == (("photos/x.jpg",), ())


def test_later_notes_are_not_known_yet(tmp_path: Path) -> None:
    """For a note of an earlier evening nothing counts that was done after it."""
    found = known(tmp_path, "2026-03-12")
    assert found.written == ("notes/b.md", "notes/c.md")
    assert known(tmp_path, "2026-03-11").last_day == date(2026, 3, 10)
    assert known(tmp_path, "2026-03-01") == Tonight(
        date(2026, 3, 1), pictures=("photos/x.jpg",), parts=found.parts
    )


def test_parts_on_their_way_stand_by_due_date(tmp_path: Path) -> None:
    """What is ordered, back-ordered or short waits; what was due before the day is late."""
    found = known(tmp_path, "2026-03-21")
    assert [(part.part, part.ref, part.status, part.late) for part in found.parts] == [
        ("Rod", "", "ordered", True),
        ("Pin", "P-1", "back-ordered", False),
    ]
    assert not known(tmp_path, "2026-03-20").parts[0].late


def test_open_snags_of_the_same_areas(tmp_path: Path) -> None:
    """Open snags of the last session's areas stand there, by area or by their task's; no others."""
    numbers = [snag.number for snag in known(tmp_path, "2026-03-14").snags]
    assert numbers == ["2026-03-10.2"]
    assert [snag.snag for snag in known(tmp_path, "2026-03-20").snags] == ["burr"]


def test_done_tasks_are_not_offered(tmp_path: Path) -> None:
    """A task that is done, or does not apply, is not continued."""
    worklist = (
        "areas:\n  - {area: W, name: Wings, tasks: [{task: W14, name: W14, state: done}, W15]}\n"
    )
    found = known(tmp_path, "2026-03-14", **{"worklist.yaml": worklist})
    assert [(task.task, task.name) for task in found.tasks] == [("W15", "")]
