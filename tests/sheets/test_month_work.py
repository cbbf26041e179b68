"""Holds what a month's page tells of the work: by area, closed up, and what was next then."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.public import PublicTaskTime
from builderlog.sheets.month import MonthSheet
from tests.drawing.made_public import FIRST, HOUR, PUBLIC, SECOND, month, task
from tests.sheets.test_site import sheet_at

MARCH = "months/2026-03.html"


def test_the_work_of_a_month_stands_by_area() -> None:
    """Each area's tasks say how far they came: done, begun, or worked on and neither."""
    worked = replace(FIRST, tasks=(*FIRST.tasks, PublicTaskTime("W17", 60)))
    public = replace(
        PUBLIC,
        notes=(worked, SECOND),
        tasks=(*PUBLIC.tasks, task("W17", seconds=120)),
    )
    (wings,) = sheet_at(MonthSheet, MARCH, public).work
    assert wings.area.name == "Wings"
    assert [(mark.link.words, mark.state) for mark in wings.tasks] == [
        ("Task W14", "done"),
        ("Task W15", "begun"),
        ("Task W17", "worked on"),
    ]


def test_time_given_to_no_area_has_no_tasks() -> None:
    """What no task was given is told as an area without tasks."""
    untold = replace(month("2026-03", HOUR, (FIRST.key,)), by_area=(("", HOUR),))
    (row,) = sheet_at(MonthSheet, MARCH, replace(PUBLIC, months=(untold,))).work
    assert (row.area.name, row.tasks) == ("Other work", ())


def test_what_was_closed_up_is_told_by_name() -> None:
    """A closing stands with its note and day; an id that is neither task nor area stays."""
    closing = replace(FIRST, closes=("W14", "the tunnel"))
    (row,) = sheet_at(MonthSheet, MARCH, replace(PUBLIC, notes=(closing, SECOND))).closed
    assert (row.name, row.day.iso) == ("Task W14 and the tunnel", "2026-03-14")


def test_what_was_next_is_as_last_written_in_that_month() -> None:
    """An older month tells what was next then, even where a later one wrote other steps."""
    later = replace(SECOND, tasks=FIRST.tasks, next_steps=("Paint",))
    public = replace(PUBLIC, notes=(FIRST, later))
    march = sheet_at(MonthSheet, MARCH, public)
    may = sheet_at(MonthSheet, "months/2026-05.html", public)
    assert [step.text for step in march.next_steps] == ["Dimple the lower row"]
    assert [link.words for link in march.next_steps[0].areas] == ["Wings"]
    assert (march.next_heading, may.next_heading) == ("What was next then", "Next")
    assert [step.text for step in may.next_steps] == ["Paint"]
