"""The chapter of the notes: every note from the first to the last, so that none is overlooked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from builderlog.deciding.words import counted, duration_clock, month_long
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import FileLink

COLUMNS = (
    Column("Day", share=2),
    Column("Note", share=4),
    Column("Who worked, hours and minutes", share=4),
    Column("Tasks", share=3),
    Column("Written", share=2),
)
TIME_ONLY = "nothing but the time goes along"


def notes(held: Material) -> Iterator[Chapter]:
    """One row a note, by month; nothing where there is no note."""
    ledger = held.ledger
    if not ledger.notes:
        return
    lead = f"{counted(len(ledger.notes), 'note')}, each once, in order of its day."
    told = "A note is written on the evening of the work unless the last column says otherwise."
    time = _time_of(ledger)
    by_month = groupby(ledger.notes, key=lambda note: str(note.day)[:7])
    months = tuple(_month(month, tuple(group), time) for month, group in by_month)
    blocks: tuple[Block, ...] = (Paragraph(lead, "lead"), Paragraph(told, "quiet"), *months)
    yield Chapter("notes", "Notes from first to last", blocks)


def _time_of(ledger: Ledger) -> Mapping[str, Mapping[str, int]]:
    """Seconds by note and person, people in the order in which the note names them."""
    found: dict[str, dict[str, int]] = {}
    for row in ledger.work:
        people = found.setdefault(row.note, {})
        people[row.person] = people.get(row.person, 0) + row.seconds
    return found


def _month(month: str, group: Sequence[Note], time: Mapping[str, Mapping[str, int]]) -> Section:
    name = month_long(month)
    rows = tuple(_row(note, time.get(note.path, {})) for note in group)
    return Section(f"notes-{month}", name, (Rows(f"Notes of {name}", COLUMNS, rows),))


def _row(note: Note, people: Mapping[str, int]) -> tuple[Cell, ...]:
    hidden = note.privacy is Privacy.HOURS_ONLY
    tasks = dict.fromkeys(line.task.text for line in note.tasks)
    worked = ", ".join(f"{name} {duration_clock(seconds)}" for name, seconds in people.items())
    return (
        Cell(str(note.day)),
        Cell(TIME_ONLY, weak=True) if hidden else _title(note),
        Cell(worked) if worked else Cell("no time on record", weak=True),
        Cell(", ".join(tasks)),
        Cell(str(note.written.day) if note.written else ""),
    )


def _title(note: Note) -> Cell:
    return Cell("", (FileLink(str(note.title) if note.title else "without a title", note.path),))
