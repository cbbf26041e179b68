"""The draft for an editor: what is known stands ready, and none of it counts by itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from builderlog.deciding.tonight import PartExpected, SnagOpen, TaskBefore, Tonight
from builderlog.noting.new_note import NewNote, NewPhoto, NewTask
from builderlog.noting.new_note_draft import ROWS, WIDTH, draft_text, first_line
from builderlog.noting.new_note_tidy import without_leftovers
from tests.knowing.reading_notes import read

DAY = date(2026, 3, 14)
KNOWN = Tonight(
    day=DAY,
    tasks=(
        TaskBefore("W14", "Skins", "fabrication", "manual 27-3"),
        TaskBefore("W15", "The hinges of both ailerons and their many brackets in a long row"),
    ),
    next_steps=("dimple the nose: skin", "order rivets"),
    parts=(PartExpected("Counterweight", "C-8", "ordered", date(2026, 3, 1), late=True),),
    snags=(SnagOpen("2026-03-02.1", "nick in the skin", date(2026, 3, 2)),),
    people=("Ines", "Tomas"),
)
DRAFT = """\
---
# Lines with # vanish if left alone. Take the # away, and they count.
date: 2026-03-14
title:\x20
hours:\x20
# hours: {Ines: , Tomas: }
tasks:\x20
  # - {task: W14, hours: , work: fabrication, per: manual 27-3}  # Skins
  # - {task: W15, hours: }  # The hinges of both ailerons and their many…
parts:\x20
  # - {part: Counterweight, ref: C-8, status: received}  # ordered, due…
photos:
  - photo: photos/2026/a.jpg
    caption:\x20
    shows: []
    seen: []
snags:\x20
fixed:\x20
  # - {no: 2026-03-02.1, how: }  # nick in the skin
next:\x20
  # - "dimple the nose: skin"
  # - order rivets
---

"""


def test_what_is_known_stands_ready() -> None:
    """Tasks, parts, snags and next steps stand as comments within 80 columns, pictures as rows."""
    draft = draft_text(NewNote(DAY, photos=(NewPhoto("photos/2026/a.jpg"),)), KNOWN)
    assert draft == DRAFT
    assert max(map(len, draft.splitlines())) <= WIDTH
    assert first_line(draft) == 4


def test_a_draft_counts_nothing_by_itself() -> None:
    """Read as it is, it has its day and its pictures, no problem, and no task, part or time."""
    draft = draft_text(NewNote(DAY, photos=(NewPhoto("photos/2026/a.jpg"),)), KNOWN).encode()
    note, told = read(draft)
    assert told == ()
    assert (note.hours, note.tasks, note.parts, note.fixed, note.next_steps) == ((),) * 5
    assert (note.day, len(note.photos)) == (DAY, 1)
    assert without_leftovers(draft, draft) == (
        b"---\ndate: 2026-03-14\nphotos:\n  - photo: photos/2026/a.jpg\n---\n\n"
    )


def test_every_row_counts_once_its_sign_is_away() -> None:
    """With all signs taken away each row is read without a problem, as what it says."""
    lines = draft_text(NewNote(DAY), replace(KNOWN, people=())).splitlines(keepends=True)
    opened = "".join([*lines[:2], *(line.replace("# - ", "- ", 1) for line in lines[2:])])
    note, told = read(opened.encode())
    assert told == ()
    assert [str(line.task) for line in note.tasks] == ["W14", "W15"]
    assert [str(line.part) for line in note.parts] == ["Counterweight"]
    assert [str(line.number) for line in note.fixed] == ["2026-03-02.1"]
    assert [str(step) for step in note.next_steps] == ["dimple the nose: skin", "order rivets"]


def test_what_was_said_already_is_not_offered_again() -> None:
    """What the command line or the clock says counts, and its task is not offered once more."""
    note = NewNote(DAY, "Skins", (("", "19:10-22:25"),), (NewTask("W14", "2h"),), text="On.")
    draft = draft_text(note, KNOWN)
    assert "title: Skins\nhours: 19:10-22:25\ntasks:\n  - {task: W14, hours: 2h}\n" in draft
    assert draft.count("W14") == 1
    assert "# hours" not in draft
    assert draft.endswith("---\nOn.\n")


def test_a_long_list_is_cut_and_counted() -> None:
    """Of many parts on their way the first few are offered, the rest are counted."""
    part = KNOWN.parts[0]
    many = tuple(replace(part, part=f"Rib {number}") for number in range(ROWS + 3))
    draft = draft_text(NewNote(DAY), replace(KNOWN, parts=many))
    assert draft.count("status: received") == ROWS
    assert "  # and 3 more: builderlog check --open\n" in draft
