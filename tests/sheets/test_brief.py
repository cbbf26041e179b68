"""Front page and months in three lines: what is new, how far it is, what is next."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from builderlog.deciding.public import PublicLedger, PublicPart, PublicPartEvent
from builderlog.sheets.book import open_book
from builderlog.sheets.brief import some
from builderlog.sheets.front import front_sheet
from builderlog.sheets.month import month_sheet
from builderlog.sheets.rows import Link
from tests.drawing.made_public import EMPTY, FIRST, HOUR, PUBLIC, SECOND, SKINS, month, task

NBSP = "\N{NO-BREAK SPACE}"
MAY = month("2026-05", 2 * HOUR, (SECOND.key,))
MAY_ALONE = replace(PUBLIC, months=(MAY,), parts=(), notes=(SECOND,))


def front(public: PublicLedger = PUBLIC) -> list[tuple[str, str, str]]:
    """The lines of the front page."""
    return [(line.label, line.words, line.anchor) for line in front_sheet(open_book(public)).brief]


def of_month(public: PublicLedger, at: int = 0) -> list[tuple[str, str]]:
    """The lines of a month."""
    return [(line.label, line.words) for line in month_sheet(open_book(public), at).brief]


def test_the_front_page_in_three_lines() -> None:
    """What is new, how far the build is, what is next; each leads to its section."""
    steps = tuple(replace(PUBLIC.next_steps[0], text=text) for text in ("Dimple it", "Rivet it"))
    assert front(replace(PUBLIC, next_steps=steps)) == [
        (
            "New since March 2026",
            "1 note, 1 task done, after a month without a note; done: Task W14",
            "news",
        ),
        ("How far", "1 of 2 tasks done", "standing"),
        ("Next", "Dimple it (and 1 more)", "next"),
    ]


def test_a_build_that_is_finished_says_so() -> None:
    """All tasks are done, and nothing is next."""
    done = replace(PUBLIC, tasks=(task("W14", done=True), task("W15", done=True)), next_steps=())
    areas = (replace(PUBLIC.areas[0], done=2),)
    assert front(replace(done, areas=areas))[1:] == [("How far", "All 2 tasks done", "standing")]
    one = replace(PUBLIC.areas[0], done=1, applicable=1)
    assert front(replace(done, areas=(one,)))[1][1] == "The one task is done"
    alone = replace(one, done=0)
    assert front(replace(done, areas=(alone,)))[1][1] == "The one task is still open"
    none = replace(PUBLIC.areas[0], done=0)
    assert front(replace(done, areas=(none,)))[1][1] == "None of 2 tasks done"


def test_of_nothing_there_is_no_line() -> None:
    """A journal without notes has none."""
    assert front(EMPTY) == []


def test_a_month_in_three_lines() -> None:
    """What was done, how far it came, and what was next then."""
    assert of_month(PUBLIC) == [
        ("Done", "Task W14"),
        ("So far", f"3{NBSP}h{NBSP}15{NBSP}min since the start"),
        ("Next then", "Dimple the lower row"),
    ]
    nothing = replace(MAY_ALONE, months=(replace(MAY, tasks_done=()),))
    assert of_month(nothing)[0] == ("Worked on", "Wings")
    unnamed = replace(nothing, months=(replace(MAY, tasks_done=(), tasks_begun=()),))
    anchors = [
        month_sheet(open_book(public), 0).brief[0].anchor for public in (nothing, unnamed, PUBLIC)
    ]
    assert anchors == ["work", "sums", "work"]


def test_a_month_without_work_tells_what_came_and_was_decided() -> None:
    """A part or a decision is the month's news where there are no hours; no hours are told."""
    idle = replace(month("2026-05", 0, (SECOND.key,)), tasks_done=(), tasks_begun=())
    event = PublicPartEvent(SECOND.key, SECOND.day, "received", Decimal(1), None)
    pump = PublicPart("Fuel pump", "received", Decimal(1), None, (event,))
    decided = replace(SECOND, decided=FIRST.decided)
    public = replace(MAY_ALONE, months=(idle,), parts=(pump,), notes=(decided,))
    assert of_month(public) == [("Parts", "Fuel pump received"), ("Decided", "Rivet later")]
    sheet = month_sheet(open_book(public), 0)
    assert f"{sheet.time.words} {sheet.span}" == "No hours written down, 1 note"


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ("", ""),
        ("a", "a"),
        ("a b", "a and b"),
        ("a b c", "a and b (and 1 more)"),
        ("a,1 b c", "a,1; b (and 1 more)"),
        (f"{'a' * 30} {'b' * 30}", f"{'a' * 30} (and 1 more)"),
        ("a" * 90, "a" * 90),
    ],
)
def test_of_many_names_few_are_told(names: str, told: str) -> None:
    """Two, or one where they are long, and how many more there are."""
    assert some([Link(name, "x.html") for name in names.split()]) == told


def test_the_lead_is_called_the_newest_only_where_it_is() -> None:
    """A newer note without a picture makes it the newest with a picture."""
    sheet = front_sheet(open_book(PUBLIC))
    assert sheet.lead
    assert (sheet.lead.number, sheet.lead_label) == (2, "Newest")
    plain = replace(SECOND, links=(), prose="No picture.")
    older = front_sheet(open_book(replace(PUBLIC, notes=(FIRST, plain))))
    assert older.lead
    assert older.lead.cover
    assert older.lead.cover.digest == SKINS
    assert older.lead_label == "Newest with a picture"
    assert front_sheet(open_book(EMPTY)).lead_label == "Newest"


def test_the_record_stands_still_in_its_last_days() -> None:
    """The lines are of the record's newest month, whenever they are read."""
    assert front(replace(PUBLIC, record_date=date(2027, 1, 1)))[0] == front()[0]
