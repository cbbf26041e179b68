"""The form holds what is known for tonight, or what came back, and says what is wrong where."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.bench.form import FormKept, Trouble, read_form
from builderlog.bench.form_view import FormRow, form_view, prefilled, small_url, taken_words
from builderlog.deciding.tonight import known_for
from builderlog.noting.clock import Clock, ClockSpan

INBOX = (
    InboxPicture("tonight.jpg", "2026-03-17T00:20:00+02:00"),  # the evening goes on till four
    InboxPicture("other.jpg", "2026-03-15T21:00:00"),
    InboxPicture("silent.jpg"),
    InboxPicture("odd.jpg", "yesterday"),
)


def ticked(rows: tuple[FormRow, ...]) -> list[tuple[str, bool]]:
    """Each picture, and whether it is to be attached."""
    return [(row.value, bool(row.values.get("attach"))) for row in rows]


def test_a_fresh_form_holds_what_is_known(made_desk: Desk) -> None:
    """The last session's tasks, its next steps unticked, the parts awaited, the area's snags."""
    view = form_view(made_desk)
    assert [(row.value, row.called, row.values["per"]) for row in view.tasks if row.value] == [
        ("W14", "Fit aileron skins", "sheet 27-3")
    ]
    assert [(tick.words, tick.on) for tick in view.still] == [
        ("dimple the nose skin", False),
        ("order clecos", False),
    ]
    assert [(row.values["part"], row.called) for row in view.came] == [
        ("Piano hinge", "ordered, late, due 10 March 2026")
    ]
    assert [(tick.value, tick.words, tick.on) for tick in view.fixed] == [
        ("2026-03-14.1", "2026-03-14.1 Gap at rib 4", False)
    ]
    assert (view.day, view.day_words) == ("2026-03-16", "Monday 16 March 2026")
    assert [(one.person, one.role, one.value) for one in view.hours] == [
        ("Ines", "builder", ""),
        ("Tomas", "builder", ""),
        ("Ada", "helper", ""),
    ]


def test_a_fresh_form_sent_as_it_is_writes_no_time(made_desk: Desk) -> None:
    """What is only remembered is not taken for done: no hours, pictures, parts or next steps."""
    fields = prefilled(made_desk, known_for(made_desk.ledger, made_desk.tonight))
    note = read_form(fields, made_desk).note
    assert (note.hours, note.photos, note.parts, note.next_steps) == ((), (), (), ())
    assert [(task.task, task.hours) for task in note.tasks] == [("W14", "")]
    assert "the form is empty" in read_form(fields, made_desk).told[0].message


def test_pictures_of_tonight_are_ticked_and_silent_ones_are_not(made_desk: Desk) -> None:
    """By the camera's own clock; those of other days are but counted."""
    view = form_view(replace(made_desk, inbox=INBOX))
    assert ticked(view.pictures) == [
        ("tonight.jpg", True),
        ("silent.jpg", False),
        ("odd.jpg", False),
    ]
    assert view.waiting == 1


def test_a_phone_is_shown_no_picture_that_it_did_not_send(made_desk: Desk) -> None:
    """The inbox belongs to the bench; what the phone sent comes back with its own form."""
    phone = replace(made_desk, inbox=INBOX, phone=True)
    assert (form_view(phone).pictures, form_view(phone).waiting) == ((), 0)
    kept = FormKept({"picture-1": ("silent.jpg",)})
    assert [row.value for row in form_view(phone, kept).pictures] == ["silent.jpg"]


def test_the_clock_is_offered_and_its_spans_are_filled_in(made_desk: Desk) -> None:
    """Tonight's spans that no note has stand at the builder's hours; a running clock is ticked."""
    spans = (
        ClockSpan(datetime(2026, 3, 15, 19, 0), datetime(2026, 3, 15, 20, 0)),  # noqa: DTZ001
        ClockSpan(datetime(2026, 3, 16, 18, 0), datetime(2026, 3, 16, 18, 30)),  # noqa: DTZ001
    )
    since = datetime(2026, 3, 16, 19, 10)  # noqa: DTZ001 - the shop's clock
    view = form_view(replace(made_desk, clock=Clock(spans, since)))
    assert (view.hours[0].value, view.clock, view.clock_on) == ("18:00-18:30", "19:10", True)
    assert (form_view(made_desk).clock, form_view(made_desk).clock_on) == ("", False)


def test_a_form_that_came_back_holds_what_came(made_desk: Desk) -> None:
    """Every word and tick stands where it stood, wrong ones too, and those of people gone."""
    fields = {
        "day": ("16.3.",),
        "hours:Ines": ("all day",),
        "task-3": ("W77",),
        "task-3-who": ("Ada", "Zed"),
        "picture-2": ("gone.jpg",),
        "picture-2-caption": ("<b>",),
        "snag-1": ("Dent",),
        "text": ("a\nb",),
        "still": ("order clecos",),
        "fixed": ("2026-03-14.1",),
        "closes": ("W14", "E"),
    }
    told = (Trouble("task-3", "no such task"), Trouble("task-3-who", "who?"), Trouble("", "all"))
    view = form_view(made_desk, FormKept(fields, told))
    task = next(row for row in view.tasks if row.value)
    assert (task.name, task.told) == ("task-3", {"": "no such task", "who": "who?"})
    assert [(tick.value, tick.on) for tick in task.ticks["who"]] == [
        ("Ines", False),
        ("Tomas", False),
        ("Ada", True),
        ("Zed", True),
    ]
    assert ticked(view.pictures) == [("gone.jpg", False)]
    assert view.pictures[0].values["caption"] == "<b>"
    assert (view.day, view.hours[0].value, view.text) == ("16.3.", "all day", "a\nb")
    assert [tick.on for tick in view.still] == [False, True]
    assert [tick.on for tick in view.fixed] == [True]
    assert (view.closes, view.kept, view.troubles) == ("W14, E", True, told)


def test_time_of_somebody_who_is_not_here_can_still_be_mended(made_desk: Desk) -> None:
    """A form that came back shows the field that is wrong, under an id without blanks."""
    told = (Trouble("hours:Osk & Sons", "who?"),)
    view = form_view(made_desk, FormKept({"hours:Osk & Sons": ("2h",), "hours:Zed": ("",)}, told))
    last = view.hours[-1]
    assert (last.id, last.person, last.value, last.told) == ("hours-4", "Osk & Sons", "2h", "who?")
    assert view.anchors["hours:Osk & Sons"] == "hours-4"


def test_two_troubles_of_one_field_are_one_sentence_after_the_other(made_desk: Desk) -> None:
    """Nothing that was told is lost where a field has it twice."""
    told = (Trouble("closes", "first"), Trouble("closes", "second"))
    assert form_view(made_desk, FormKept({}, told)).told["closes"] == "first. second"


def test_browsers_without_script_get_rows_to_spare(made_desk: Desk) -> None:
    """Behind the filled rows stand empty ones that a script takes away."""
    tasks = form_view(made_desk).tasks
    assert [(row.name, row.spare) for row in tasks] == [
        ("task-1", False),
        ("task-2", True),
        ("task-3", True),
        ("task-4", True),
    ]
    assert [row.spare for row in form_view(made_desk).snags] == [False, True]


@pytest.mark.parametrize(
    ("taken", "words"),
    [
        ("2026-03-14T21:05:33+01:00", "14 March 2026, 21:05"),
        ("2026-03-14", "14 March 2026"),
        ("", ""),
        ("yesterday", ""),
    ],
)
def test_when_a_picture_was_taken_is_told_to_the_minute(taken: str, words: str) -> None:
    """In words, and nothing where the picture does not say."""
    assert taken_words(taken) == words


def test_a_small_copy_has_an_address_of_its_own() -> None:
    """No sign of a picture's name can lead out of its address."""
    assert small_url("a b/../?x#ü.jpg") == "/inbox/a%20b%2F..%2F%3Fx%23%C3%BC.jpg/small"
