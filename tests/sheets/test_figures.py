"""The figures say what `tally` says, and nothing of a private evening but its hours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.totals import tally
from builderlog.knowing.entries import Privacy
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.book import open_book
from builderlog.sheets.figures import FiguresSheet, figures_sheet, has_figures
from builderlog.sheets.rows import Day
from tests.drawing.made_public import EMPTY, PUBLIC
from tests.making import ledger, note, task, worked, worklist

Evening = tuple[str, int, str | None, bool]  # day, seconds, task, private


def journal(*evenings: Evening) -> Ledger:
    """One note a row, public or private, all in the first half of 2026 or later."""
    notes = []
    work = []
    for number, (on, seconds, name, private) in enumerate(evenings):
        path = f"notes/{on}-{number}.md"
        privacy = Privacy.PRIVATE if private else Privacy.OPEN
        names = (name,) if name else ()
        notes.append(replace(note(on, *names, privacy=privacy), path=path))
        work.append(replace(worked(on, seconds, name), note=path))
    return ledger(
        notes=sorted(notes, key=lambda one: (one.day or date.min, one.path)),
        work=sorted(work, key=lambda row: row.day),
        tasks=[task("T1"), task("W1", done=True), task("W2")],
    )


def figures(book: Ledger) -> FiguresSheet:
    """The page's sheet."""
    return figures_sheet(open_book(public_ledger(book)))


def days_in(value: object) -> Iterator[str]:
    """Every day that a sheet holds, however deep."""
    if isinstance(value, Day):
        yield value.iso
    elif is_dataclass(value):
        for one in fields(value):
            yield from days_in(getattr(value, one.name))
    elif isinstance(value, tuple):
        for each in value:
            yield from days_in(each)


EVENINGS = st.lists(
    st.tuples(
        st.dates(date(2026, 1, 1), date(2027, 3, 1)).map(date.isoformat),
        st.integers(0, 40_000),
        st.sampled_from([None, "T1", "W1", "W2", "free"]),
        st.booleans(),
    ),
    min_size=1,
    max_size=12,
)


@given(EVENINGS)
@settings(max_examples=10)
def test_every_sum_on_the_page_is_that_of_tally(evenings: list[Evening]) -> None:
    """Hours by month and by area, the running total and the estimates' bars add up to the total."""
    book = journal(*evenings)
    totals = tally(book)
    if not totals.seconds:
        return
    sheet = figures(book)
    assert sheet.total.seconds == sheet.hours.total.seconds == totals.seconds
    by_area = {area.id: area.time.seconds for area in sheet.hours.areas if area.id}
    assert by_area == dict(totals.by_area)
    by_month = {row.month: row.time.seconds for row in sheet.hours.months if row.time.seconds}
    assert by_month == {name: m.seconds for name, m in totals.by_month.items() if m.seconds}
    if sheet.growth:
        assert sheet.growth.steps[-1].running.seconds == totals.seconds
    assert sheet.estimates
    assert sum(row.time.seconds for row in sheet.estimates.rows) == totals.seconds


@given(EVENINGS)
@settings(max_examples=20)
def test_no_private_day_is_told(evenings: list[Evening]) -> None:
    """Every day in the sheet has public time; the private ones are counted and no more."""
    book = journal(*evenings)
    public = {on for on, seconds, _, private in evenings if seconds and not private}
    worked_on = {on for on, seconds, _, _ in evenings if seconds}
    if not worked_on:
        return
    sheet = figures(book)
    assert set(days_in(sheet)) == public
    if sheet.days:
        told = [day for year in sheet.days.years for month in year.months for day in month.days]
        assert {day.day.iso for day in told} == public
        assert sheet.days.not_shown == len(worked_on - public)
        seconds = {
            on: sum(s for o, s, _, private in evenings if o == on and not private) for on in public
        }
        assert {day.day.iso: day.time.seconds for day in told} == seconds


def test_a_journal_without_hours_has_no_figures() -> None:
    """Nothing leads to a page of empty charts."""
    assert not has_figures(open_book(EMPTY))
    assert not has_figures(open_book(replace(PUBLIC, seconds=0)))
    assert has_figures(open_book(PUBLIC))


def test_a_first_evening_has_figures_that_fit_it() -> None:
    """One note: its hours, its day; no running total of one month, no money, no pictures."""
    sheet = figures(journal(("2026-03-14", 5400, None, False)))
    assert sheet.growth is None
    assert (sheet.money, sheet.pictures) == ((), None)
    assert sheet.days
    assert sheet.days.description == "1 day."
    assert sheet.span == "on 1 day"
    assert (
        "A day, on average",
        "1\N{NO-BREAK SPACE}h\N{NO-BREAK SPACE}30\N{NO-BREAK SPACE}min",
    ) in sheet.facts


def test_hours_of_private_notes_alone_have_no_days() -> None:
    """The months are told, and no calendar is drawn."""
    sheet = figures(journal(("2026-03-14", 5400, "W1", True)))
    assert sheet.days is None
    assert sheet.total.seconds == 5400


def test_long_days_get_thicker_shims() -> None:
    """A day of many hands stays low: a shim is then several hours."""
    sheet = figures(journal(("2026-03-14", 20 * 3600, None, False), ("2026-03-15", 1, None, False)))
    assert sheet.days
    assert sheet.days.shim == "Every shim is 2 hours begun."
    [month] = sheet.days.years[0].months
    assert [day.shims for day in month.days] == [10, 1]
    assert "longest was Saturday 14 March 2026" in sheet.days.description


def test_the_newest_year_comes_first() -> None:
    """A reader of a long record meets the newest days at once."""
    sheet = figures(journal(("2025-12-30", 60, None, False), ("2026-01-02", 60, None, True)))
    assert sheet.days
    assert [year.name for year in sheet.days.years] == ["2026", "2025"]
    assert sheet.days.years[0].description == "No days, and 1 more not shown."


def test_estimates_tell_how_done_tasks_held() -> None:
    """W1 is done: two hours of its ten; what is estimated beside it is not counted there."""
    sheet = figures(journal(("2026-03-14", 7200, "W1", False), ("2026-03-15", 3600, "T1", False)))
    assert sheet.estimates
    words = sheet.estimates.description.replace("\N{NO-BREAK SPACE}", " ")
    assert words == "3 h worked; the estimates come to 30 h. The one done task took 2 h of 10 h."
    assert not sheet.estimates.over
    assert sheet.estimates.without is None


def test_a_task_that_does_not_apply_has_no_part_in_the_estimates() -> None:
    """Neither its own estimate nor that it has none is told."""
    book = journal(("2026-03-14", 7200, "W1", False))
    unneeded = replace(task("W2"), applies=False)
    list_of_fewer = worklist(task("T1"), task("W1", done=True), unneeded)
    fewer = figures(replace(book, worklist=list_of_fewer))
    whole = figures(book)
    assert whole.estimates
    assert fewer.estimates
    assert whole.estimates.estimate.seconds - fewer.estimates.estimate.seconds == 10 * 3600
    assert fewer.estimates.without is None
