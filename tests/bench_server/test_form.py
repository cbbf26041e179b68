"""The form becomes the note that it asks for, or says by field what is wrong; no guesses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime

import pytest

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.bench.form import FormRead, read_form, with_pictures
from builderlog.noting.clock import Clock
from builderlog.noting.new_note import NewFixed, NewNote, NewPart, NewPhoto, NewSnag, NewTask

DAY = date(2026, 3, 16)


def read(desk: Desk, fields: Mapping[str, str | Sequence[str]]) -> FormRead:
    """The form read; a bare text is the only value of its field."""
    given = {name: (words,) if isinstance(words, str) else words for name, words in fields.items()}
    return read_form(given, desk)


def test_a_whole_form_becomes_a_whole_note(made_desk: Desk) -> None:
    """Every field of the form has its place in the note."""
    desk = replace(made_desk, inbox=(InboxPicture("a.jpg"), InboxPicture("b.jpg")))
    fields = {
        "token": "x",
        "day": "2026-03-15",
        "title": "Skins",
        "hours:Ines": "2h30",
        "hours:Ada": "1h",
        "hours:Tomas": "",
        "task-1": "fit aileron skins",
        "task-1-hours": "1h",
        "task-1-who": ["Ines", "Ada"],
        "task-1-work": "assembly",
        "task-1-per": "sheet 3",
        "task-7": "W15",
        "picture-1": "a.jpg",
        "picture-1-attach": "yes",
        "picture-1-shows": ["w14", "Counterweights, left"],
        "picture-1-seen": ["Ada"],
        "picture-1-caption": "Held with clecos",
        "picture-2": "b.jpg",
        "picture-2-page": "yes",
        "text": "First line\r\nsecond",
        "still": ["order clecos"],
        "next": "dimple\norder clecos",
        "came-1": "yes",
        "came-1-part": "Piano hinge",
        "came-1-ref": "H-7",
        "came-2-part": "Bolt",
        "part-1": "Rivets",
        "part-1-count": "2",
        "part-1-cost": "8.40",
        "part-1-status": "wanted",
        "part-1-from": "Larch",
        "part-1-due": "2026-04-01",
        "part-1-ref": "R-4",
        "part-1-task": "W14",
        "snag-1": "Scratch",
        "snag-1-at": "wings",
        "snag-2": "Dent",
        "snag-2-at": "W14",
        "fixed": ["2026-03-14.1"],
        "closes": "tail, W14",
        "private": "hours only",
    }
    found = read(desk, fields)
    assert found.told == ()
    assert found.note == NewNote(
        day=date(2026, 3, 15),
        title="Skins",
        hours=(("Ines", "2h30"), ("Ada", "1h")),
        tasks=(
            NewTask("W14", "1h", ("Ines", "Ada"), "assembly", "sheet 3"),
            NewTask("W15"),
        ),
        photos=(NewPhoto("a.jpg", ("W14", "W15"), ("Ada",), "Held with clecos"),),
        parts=(
            NewPart("Piano hinge", status="received", ref="H-7"),
            NewPart("Rivets", "2", "8.40", "Larch", "wanted", "2026-04-01", "R-4", "W14"),
        ),
        snags=(NewSnag("Scratch", area="W"), NewSnag("Dent", task="W14")),
        fixed=(NewFixed("2026-03-14.1"),),
        text="First line\r\nsecond",
        next_steps=("order clecos", "dimple"),
        closes=("E", "W14"),
        private="hours only",
    )


def test_the_builder_alone_goes_without_a_name(made_desk: Desk) -> None:
    """Where only the journal's builder has hours they stand as one would write them."""
    assert read(made_desk, {"hours:Ines": "19:10-20:00, 21:00-22:00"}).note.hours == (
        ("", "19:10-20:00"),
        ("", "21:00-22:00"),
    )


def test_without_a_day_it_is_tonight(made_desk: Desk) -> None:
    """Before the day ends it is still yesterday's evening."""
    after = replace(made_desk, now=datetime(2026, 3, 17, 1, 30))  # noqa: DTZ001 - the shop's clock
    assert read(after, {"text": "x"}).note.day == DAY


def test_the_running_clock_is_taken_where_it_is_ticked(made_desk: Desk) -> None:
    """Its span is the builder's, beside what is written; unticked it is left alone."""
    since = datetime(2026, 3, 16, 19, 10)  # noqa: DTZ001 - the shop's clock
    desk = replace(made_desk, clock=Clock(since=since))
    assert read(desk, {"clock": "yes"}).note.hours == (("", "19:10-22:30"),)
    assert read(desk, {"text": "x"}).note.hours == ()
    late = read(desk, {"clock": "yes", "hours:Ines": "2h"})
    assert [trouble.field for trouble in late.told] == ["clock"]


@pytest.mark.parametrize(
    ("fields", "where", "told"),
    [
        ({"day": "16.3.2026"}, "day", "'16.3.2026' is not a date"),
        ({"day": "2026-03-17"}, "day", "2026-03-17 is still to come"),
        ({"hours:Ines": "all day"}, "hours:Ines", "'all day' is not a length of time"),
        ({"hours:Zed": "2h"}, "hours:Zed", "'Zed' is not among the people"),
        ({"task-3": "W77"}, "task-3", "'W77' is no task of the work list"),
        ({"task-3-hours": "2h"}, "task-3", "says something, but not a task"),
        ({"task-3": "W14", "task-3-hours": "2x"}, "task-3-hours", "'2x' is not a length"),
        ({"task-3": "W14", "task-3-who": "Zed"}, "task-3-who", "'Zed' is not among"),
        ({"task-3": "W14", "task-3-work": "fun"}, "task-3-work", "'fun' is not among"),
        ({"part-1-cost": "8 USD"}, "part-1", "says something, but not a part"),
        ({"part-1": "Bolt", "part-1-count": "x"}, "part-1-count", "'x' is not a number"),
        ({"part-1": "Bolt", "part-1-cost": "1.250"}, "part-1-cost", "read in two ways"),
        ({"part-1": "Bolt", "part-1-due": "soon"}, "part-1-due", "'soon' is not a date"),
        ({"snag-1-at": "W14"}, "snag-1", "says something, but not a snag"),
        ({"snag-1": "Dent", "snag-1-at": "nose"}, "snag-1-at", "'nose' is no area and no task"),
        ({"closes": "W14, nose"}, "closes", "'nose' is no area"),
        ({"private": "maybe"}, "private", "'maybe' is not among"),
        (
            {"picture-1": "gone.jpg", "picture-1-attach": "yes"},
            "picture-1",
            "'gone.jpg' is not in the inbox any more",
        ),
        ({}, "", "the form is empty"),
        ({"task-1-who": "Ada", "day": "2026-03-16"}, "", "the form is empty"),
        ({"private": "yes"}, "", "the form is empty"),
        ({"task-1": "W14", "task-1-per": "sheet 3"}, "", "the form is empty"),
    ],
)
def test_what_cannot_be_taken_is_told_at_its_field(
    made_desk: Desk, fields: dict[str, str], where: str, told: str
) -> None:
    """One sentence at the one field that is wrong, with the words that were found."""
    found = read(made_desk, fields).told
    assert [trouble.field for trouble in found] == [where]
    assert told in found[0].message


def test_what_would_be_a_mistake_in_the_note_is_told_before_it_is_written(made_desk: Desk) -> None:
    """A task that exceeds the person's hours is told at its row, in the words of `check`."""
    fields = {"hours:Ines": "2h", "task-1": "W15", "task-4": "W14", "task-4-hours": "3h"}
    found = read(made_desk, fields).told
    assert [trouble.field for trouble in found] == ["task-4"]
    assert "3h on W14 are more than Ines has left" in found[0].message


def test_all_troubles_are_told_at_once(made_desk: Desk) -> None:
    """Nobody mends one field to learn of the next."""
    fields = {"hours:Ines": "x", "task-1": "W77", "closes": "nose"}
    fields_told = [trouble.field for trouble in read(made_desk, fields).told]
    assert fields_told == ["hours:Ines", "task-1", "closes"]


def test_a_picture_is_attached_once(made_desk: Desk) -> None:
    """Two rows of one picture are one entry, and a row that is not ticked is none."""
    desk = replace(made_desk, inbox=(InboxPicture("a.jpg"),))
    rows = {f"picture-{n}": "a.jpg" for n in (1, 2, 3)}
    ticks = {f"picture-{n}-attach": "yes" for n in (2, 3)}
    assert read(desk, {**rows, **ticks}).note.photos == (NewPhoto("a.jpg"),)


def test_pictures_that_came_with_the_form_get_rows_of_their_own() -> None:
    """New rows follow those there are, ticked, and no other field changes."""
    fields = {"picture-4": ("a.jpg",), "text": ("x",)}
    assert with_pictures(fields, ["b.jpg", "c.jpg"]) == {
        **fields,
        "picture-5": ("b.jpg",),
        "picture-5-attach": ("yes",),
        "picture-6": ("c.jpg",),
        "picture-6-attach": ("yes",),
    }
