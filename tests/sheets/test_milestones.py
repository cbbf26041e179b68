"""Holds the time line: what is a milestone, in which month it stands, and whose day is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.public import (
    PublicArea,
    PublicLedger,
    PublicMonth,
    PublicNote,
    PublicTask,
    PublicTaskTime,
)
from builderlog.sheets.book import open_book
from builderlog.sheets.front import FrontSheet
from builderlog.sheets.milestones import (
    NEWEST_MILESTONES,
    Milestone,
    MilestonesSheet,
    milestones_by_month,
    milestones_sheet,
)
from tests.drawing.made_public import EMPTY, FIRST, HOUR, PUBLIC, SECOND, month
from tests.sheets.test_site import pages_of, sheet_at

PATH = "milestones.html"


def note(day: date, task: str, seconds: int, closes: tuple[str, ...] = ()) -> PublicNote:
    """A note that gave time to one task."""
    return replace(
        SECOND,
        key=f"{day}-work",
        day=day,
        title=f"Work of {day}",
        tasks=(PublicTaskTime(task, seconds),),
        seconds=seconds,
        closes=closes,
    )


def build(
    notes: tuple[PublicNote, ...], done: dict[str, tuple[str, ...]], private: dict[str, int]
) -> PublicLedger:
    """Tasks W1 and W2 of area W; `done` by month, `private` seconds on W1 by month."""
    names = sorted({f"{each.day:%Y-%m}" for each in notes} | set(private))
    finished = {task for tasks in done.values() for task in tasks}
    worked = {"W1": sum(private.values()), "W2": 0}
    for each in notes:
        worked[each.tasks[0].task] += each.seconds
    tasks = tuple(
        PublicTask(name, f"Task {name}", "W", None, name in finished, True, seconds, None)  # noqa: FBT003
        for name, seconds in worked.items()
    )
    return replace(
        PUBLIC,
        notes=notes,
        tasks=tasks,
        areas=(PublicArea("W", "Wings", ("W1", "W2"), sum(worked.values()), len(finished), 2),),
        months=tuple(_month(name, notes, done, private) for name in names),
        snags=(),
    )


def _month(
    name: str,
    notes: Iterable[PublicNote],
    done: dict[str, tuple[str, ...]],
    private: dict[str, int],
) -> PublicMonth:
    here = [each for each in notes if f"{each.day:%Y-%m}" == name]
    seconds = sum(each.seconds for each in here) + private.get(name, 0)
    made = month(name, seconds, tuple(each.key for each in here))
    hidden = int(name in private)
    return replace(
        made,
        tasks_begun=(),
        tasks_done=done.get(name, ()),
        not_shown=hidden,
        evenings=len(here) + hidden,
    )


MARCH, APRIL = date(2026, 3, 7), date(2026, 4, 11)
OPEN = (note(MARCH, "W1", HOUR), note(APRIL, "W1", HOUR), note(date(2026, 4, 12), "W2", HOUR))
DONE: dict[str, tuple[str, ...]] = {"2026-04": ("W1", "W2")}


def found_in(public: PublicLedger) -> dict[str, Milestone]:
    """The milestones by label and name; of those that stand twice the last."""
    everything = milestones_by_month(open_book(public))
    return {f"{each.label}: {each.name}": each for _, found in everything for each in found}


def days_of(public: PublicLedger) -> dict[str, str | None]:
    """The told day of each milestone."""
    return {name: each.day.iso if each.day else None for name, each in found_in(public).items()}


def test_what_public_notes_tell_stands_on_its_day() -> None:
    """An area begins with its first note; a task ends with its last, an area with all its tasks."""
    assert days_of(build(OPEN, DONE, {})) == {
        "Begun: The journal": "2026-03-07",
        "Started: Wings": "2026-03-07",
        "Done: Task W1": "2026-04-11",
        "Done: Task W2": "2026-04-12",
        "Finished: Wings": "2026-04-12",
    }


def test_a_milestone_leads_to_its_note() -> None:
    """Beside the day stands the note that tells it."""
    done = found_in(build(OPEN, DONE, {}))["Done: Task W1"]
    assert done.note == open_book(build(OPEN, DONE, {})).rows[OPEN[1].key].link


def test_private_work_keeps_its_days_to_itself() -> None:
    """Where a private note worked on the same thing, the month is told and no day."""
    days = days_of(build(OPEN, DONE, {"2026-03": 60}))
    assert days["Begun: The journal"] is None
    assert days["Started: Wings"] is None
    assert days["Done: Task W1"] is None
    assert days["Done: Task W2"] == "2026-04-12"
    assert days["Finished: Wings"] is None


def test_closing_up_is_told_by_the_note_that_closed() -> None:
    """What a public note closed stands on its day; of several things no one page is linked."""
    closing = replace(OPEN[1], closes=("W1", "W2"))
    milestone = found_in(build((OPEN[0], closing), {}, {}))["Closed up: Task W1 and Task W2"]
    assert (milestone.link, milestone.day and milestone.day.iso) == (None, "2026-04-11")
    one = found_in(build((replace(OPEN[0], closes=("W1",)),), {}, {}))["Closed up: Task W1"]
    assert one.link
    assert one.link.path == "tasks/w1.html"


def test_round_sums_of_hours_are_told_without_a_day() -> None:
    """A month that passes two round sums tells the higher; reaching one exactly counts."""
    many = (note(MARCH, "W1", 100 * HOUR), note(APRIL, "W1", 400 * HOUR))
    found = found_in(build(many, {}, {}))
    assert found["Reached: 100\N{NO-BREAK SPACE}hours"].month.words == "March 2026"
    assert found["Reached: 500\N{NO-BREAK SPACE}hours"].month.words == "April 2026"
    assert found["Reached: 500\N{NO-BREAK SPACE}hours"].day is None
    short = build((note(MARCH, "W1", 100 * HOUR - 1),), {}, {})
    assert not [name for name in found_in(short) if name.startswith("Reached")]


def test_months_without_a_milestone_are_told_together() -> None:
    """The pause stands before the next month that has one, with its hours; the last stands last."""
    days = (MARCH, date(2026, 5, 2), date(2026, 6, 2), date(2026, 7, 2), date(2026, 9, 1))
    notes = tuple(note(day, "W1", HOUR) for day in days)
    sheet = milestones_sheet(open_book(build(notes, {"2026-07": ("W1",)}, {})))
    assert [item.link.words for item in sheet.months] == ["March 2026", "July 2026"]
    assert sheet.months[0].pause is None
    assert sheet.months[1].pause == "May 2026 to June 2026: 2\N{NO-BREAK SPACE}h, no milestone"
    assert sheet.since == "September 2026: 1\N{NO-BREAK SPACE}h, no milestone"
    assert sheet.count == "3 milestones"


def test_a_sealed_month_says_so() -> None:
    """The months whose record is closed are marked."""
    public = build(OPEN, DONE, {})
    sealed = replace(public, months=(replace(public.months[0], seals=("ab",)), public.months[1]))
    assert [item.sealed for item in milestones_sheet(open_book(sealed)).months] == [True, False]


def test_the_page_is_made_only_where_there_is_something_to_tell() -> None:
    """With nothing but its first note a journal has no time line, and nothing leads to one."""
    assert isinstance(pages_of(PUBLIC)[PATH].sheet, MilestonesSheet)
    bare = replace(PUBLIC, notes=(replace(FIRST, closes=()),), months=(month("2026-03", 0, ()),))
    for public in (EMPTY, bare):
        assert PATH not in pages_of(public)
        assert sheet_at(FrontSheet, "index.html", public).milestones_page is None


def test_the_front_page_shows_the_newest_milestones() -> None:
    """The newest come first, and only so many."""
    days = [date(2026, 3, number) for number in range(1, 10)]
    public = build(tuple(note(day, "W1", 60, closes=("W1",)) for day in days), {}, {})
    shown = sheet_at(FrontSheet, "index.html", public).milestones
    assert len(shown) == NEWEST_MILESTONES
    assert [each.day.iso for each in shown if each.day][:2] == ["2026-03-09", "2026-03-08"]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.sampled_from(["W1", "W2"]), st.booleans()),
        min_size=1,
        max_size=12,
        unique_by=lambda row: row[0],
    )
)
def test_no_day_of_a_private_note_is_ever_told(rows: list[tuple[int, str, bool]]) -> None:
    """Whatever is private, every told day is that of a public note, and lies in its month."""
    start = date(2026, 1, 1).toordinal()
    notes = tuple(
        note(date.fromordinal(start + offset), task, HOUR) for offset, task, _ in sorted(rows)
    )
    hidden = {
        each.day for each, (_, _, private) in zip(notes, sorted(rows), strict=True) if private
    }
    shown = tuple(each for each in notes if each.day not in hidden)
    private: dict[str, int] = {}
    for each in notes:
        if each.day in hidden:
            private[f"{each.day:%Y-%m}"] = private.get(f"{each.day:%Y-%m}", 0) + HOUR
    on_w1 = [each.day for each in notes if each.day in hidden or each.tasks[0].task == "W1"]
    done: dict[str, tuple[str, ...]] = {f"{on_w1[-1]:%Y-%m}": ("W1",)} if on_w1 else {}
    told = found_in(build(shown, done, private)).values()
    days = {date.fromisoformat(each.day.iso) for each in told if each.day}
    assert days <= {each.day for each in shown}
    assert all(each.month.path == f"months/{each.day.iso[:7]}.html" for each in told if each.day)


def test_of_two_notes_of_a_day_the_later_finishes_the_area() -> None:
    """As they follow each other on the site, whichever of its tasks the work list names last."""
    morning = replace(note(APRIL, "W2", HOUR), key="morning", title="Morning")
    evening = replace(note(APRIL, "W1", HOUR), key="evening", title="Evening")
    for first, second in ((morning, evening), (evening, morning)):
        told = found_in(build((first, second), DONE, {}))
        assert told["Finished: Wings"].note
        assert told["Finished: Wings"].note.words == second.title
        assert [each.split(": ")[0] for each in told][-2:] == ["Done", "Finished"]
