"""The chapter of the notes: each note once, in order, with its people's whole time."""

from __future__ import annotations

from builderlog.deciding.words import duration_clock
from builderlog.knowing.entries import Privacy
from builderlog.sheets.chapter_notes import TIME_ONLY, notes
from tests import making
from tests.sheets.chapter_reader import example, made, none_made, plain, tables


def test_every_note_stands_once_in_order_of_its_day() -> None:
    """The days are those of all notes of the record, one row each."""
    held = example()
    chapter = made(notes, held)
    days = [row["Day"] for table in tables(chapter.blocks) for row in plain(table)]
    assert days == [str(note.day) for note in held.notes]


def test_a_notes_people_have_the_time_that_the_ledger_gives_them() -> None:
    """Every person's sum over a note stands beside the name."""
    held = example()
    chapter = made(notes, held)
    told = [row for table in tables(chapter.blocks) for row in plain(table)]
    for note, row in zip(held.notes, told, strict=True):
        worked = [each for each in held.work if each.note == note.path]
        for person in {each.person for each in worked}:
            seconds = sum(each.seconds for each in worked if each.person == person)
            assert f"{person} {duration_clock(seconds)}" in row["Who worked, hours and minutes"]


def test_a_note_of_which_only_the_time_goes_along_has_no_title() -> None:
    """It is named as what it is."""
    held = example()
    chapter = made(notes, held)
    told = [row["Note"] for table in tables(chapter.blocks) for row in plain(table)]
    hidden = [note.privacy is Privacy.HOURS_ONLY for note in held.notes]
    assert [words == TIME_ONLY for words in told] == hidden
    assert any(hidden)


def test_a_journal_without_a_note_has_no_such_chapter() -> None:
    """Nothing is made of nothing."""
    assert none_made(notes, making.ledger())
