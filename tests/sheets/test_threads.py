"""Holds the ways to read on from a note: along an area, along a task, from the beginning."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from builderlog.deciding.public import PublicArea, PublicLedger, PublicPhotoUse, PublicTaskTime
from builderlog.sheets.book import open_book
from builderlog.sheets.note import note_sheet
from builderlog.sheets.threads import Thread, threads_of
from tests.drawing.made_public import EMPTY, SECOND, SKINS, task

DAY = date(2026, 3, 1)


def ledger_of(*tasks: tuple[str, ...]) -> PublicLedger:
    """A note for each group of tasks, in the order of days; all tasks stand in area W."""
    notes = tuple(
        replace(
            SECOND,
            key=f"n{number}",
            title=f"Note {number}",
            day=DAY + timedelta(days=number),
            tasks=tuple(PublicTaskTime(name, 0) for name in names),
            links=(),
        )
        for number, names in enumerate(tasks, start=1)
    )
    ids = ("W1", "W2")
    area = PublicArea("W", "Wings", ids, 0, 0, 2)
    return replace(EMPTY, notes=notes, areas=(area,), tasks=tuple(map(task, ids)))


def told(public: PublicLedger, number: int) -> list[tuple[str, ...]]:
    """The threads through a note as words: what, where in it, before, after."""
    return [_words(thread) for thread in threads_of(open_book(public), public.notes[number - 1])]


def _words(thread: Thread) -> tuple[str, ...]:
    ends = (link.words if link else "" for link in (thread.earlier, thread.later))
    return (thread.kind, thread.name, thread.place, *ends)


def test_a_note_leads_on_along_its_area_and_its_task() -> None:
    """Each thread tells its notes' count, this one's place, and the next in both directions."""
    public = ledger_of(("W1",), ("W2",), ("W1",), (), ("W1",))
    assert told(public, 3) == [
        ("area", "Wings", "3 of 4", "Note 2", "Note 5"),
        ("task", "Task W1", "2 of 3", "Note 1", "Note 5"),
    ]


def test_the_first_and_the_last_lead_one_way() -> None:
    """Nothing stands before the first note of a thread, and nothing after the last."""
    public = ledger_of(("W1",), ("W2",), ("W1",))
    assert told(public, 1)[0] == ("area", "Wings", "1 of 3", "", "Note 2")
    assert told(public, 3)[0] == ("area", "Wings", "3 of 3", "Note 2", "")


def test_a_task_that_is_all_of_its_area_is_told_once() -> None:
    """Where a task's notes are the area's notes, the area's thread stands for both."""
    assert [row[0] for row in told(ledger_of(("W1",), ("W1",)), 1)] == ["area"]


def test_one_note_alone_is_no_thread() -> None:
    """Work that one note alone speaks of leads nowhere, nor does a note without work."""
    public = ledger_of(("W1",), ("W2",), ())
    assert [row[0] for row in told(public, 1)] == ["area"]
    assert told(public, 3) == []


def test_a_picture_ties_its_note_to_the_work_it_shows() -> None:
    """A note that names no task and shows one in a picture stands in that task's thread."""
    public = ledger_of(("W1",), (), ("W2",))
    use = PublicPhotoUse(SKINS, None, ("W1", "unknown"), "", DAY, "n2")
    notes = (public.notes[0], replace(public.notes[1], photos=(use,)), public.notes[2])
    rows = told(replace(public, notes=notes), 2)
    assert rows[1] == ("task", "Task W1", "2 of 2", "Note 1", "")


def test_reading_begins_at_the_first_note() -> None:
    """A note leads to the first one, unless that is itself or already the one before."""
    book = open_book(ledger_of((), (), ()))
    firsts = [note_sheet(book, position).first for position in range(3)]
    assert [link and link.words for link in firsts] == [None, None, "Note 1"]
