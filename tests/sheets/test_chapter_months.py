"""The chapter of the months: the same numbers as `tally`, every month told, charts that add up."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.months import months as rollups
from builderlog.deciding.totals import tally, tally_document
from builderlog.deciding.words import duration_clock, month_long, month_short
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.settings import Role
from builderlog.sheets.cells import sums_words
from builderlog.sheets.chapter import Bar, Bars, Cell, Chapter
from builderlog.sheets.chapter_months import months
from tests import making
from tests.sheets.chapter_reader import (
    blocks_in,
    example,
    made,
    none_made,
    rows,
    said,
    sections,
    tables,
)

HEADINGS = {"Builders": "builder", "Unpaid help": "helper", "Paid help": "paid"}
TASKS = tuple(making.task(name, done=name == "W1") for name in ("W1", "W2", "E1"))


def bars(chapter: Chapter) -> list[Bars]:
    """Its charts."""
    return [each for each in blocks_in(chapter.blocks) if isinstance(each, Bars)]


def agrees_with_tally(ledger: Ledger) -> None:
    """Every number of the month table is that of the document `tally --json` prints."""
    document = tally_document(tally(ledger))
    by_month = document["by_month"]
    assert isinstance(by_month, dict)
    *each, last = rows(tables([sections(made(months, ledger))["months-counts"]])[0])
    found = {row["Month"].words: row for row in each}
    assert {month_long(name) for name in by_month} <= set(found)
    for name, told in by_month.items():
        row = found[month_long(name)]
        assert row["Together"].words == duration_clock(told["seconds"])
        for heading, role in HEADINGS.items():
            assert row[heading].words == duration_clock(told["by_role"][role])
        assert row["Notes"].words == str(told["notes"])
        assert (row["Days"].words, row["Pictures"].words) == (
            str(told["days"]),
            str(told["photos"]),
        )
        assert row["Spent"].words == sums_words(told["spent"])
    assert last["Together"].words == duration_clock(tally(ledger).seconds)
    assert (last["Notes"].words, last["Pictures"].words) == (
        str(document["notes"]),
        str(document["photos"]),
    )
    assert last["Spent"].words == sums_words(tally_spent(document))


def tally_spent(document: dict[str, object]) -> dict[str, str]:
    """What was spent, as the document has it."""
    spent = document["spent"]
    assert isinstance(spent, dict)
    return spent


def test_the_examples_numbers_are_those_of_tally() -> None:
    """Month by month and in all, the example's chapter has the numbers of `tally --json`."""
    agrees_with_tally(example())


@st.composite
def work(draw: st.DrawFn) -> list[Worked]:
    """Time on some days of half a year, at least one."""
    days = st.integers(0, 180).map(lambda n: (date(2025, 11, 3) + timedelta(days=n)).isoformat())
    row = st.builds(
        making.worked,
        days,
        st.integers(0, 40_000),
        st.none() | st.sampled_from(("W1", "W2", "E1", "loose")),
        st.sampled_from(sorted(making.PEOPLE)),
        st.sampled_from(list(Work)),
    )
    return draw(st.lists(row, min_size=1, max_size=25))


@given(work())
def test_charts_and_tables_add_up(done: list[Worked]) -> None:
    """Bars are whole seconds that add up to all time, in parts by role, and agree with `tally`.

    The running total ends with all time; the time of the areas and of none is all time too.
    """
    ledger = making.ledger(work=done, tasks=TASKS)
    agrees_with_tally(ledger)
    whole = sum(row.seconds for row in done)
    chapter = made(months, ledger)
    if not whole:
        assert bars(chapter) == []
        return
    by_month, by_area = bars(chapter)
    assert sum(bar.length for bar in by_month.bars) == whole
    assert all(sum(bar.parts) == bar.length for bar in (*by_month.bars, *by_area.bars))
    for number, person in enumerate(("Ines", "Ada", "Shop & Co")):
        role = making.PEOPLE[person]
        assert sum(bar.parts[number] for bar in by_month.bars) == of_role(done, role)
    assert sum(bar.parts[0] + bar.parts[1] for bar in by_area.bars) == whole
    last = rows(tables([sections(chapter)["months-areas"]])[0])[-1]
    assert last["Together"].words == duration_clock(whole)


def of_role(done: list[Worked], role: Role) -> int:
    """The seconds of one role."""
    return sum(row.seconds for row in done if row.role is role)


def test_a_month_without_a_note_is_told() -> None:
    """A month between two that have notes stands in every table and is named at the head."""
    done = [making.worked("2026-01-31", 3600, "W1"), making.worked("2026-03-01", 1800, "W1")]
    chapter = made(months, making.ledger(work=done, tasks=TASKS))
    assert "No note is dated in February 2026." in said(chapter.blocks)
    counts, contents = (
        rows(tables([sections(chapter)[name]])[0]) for name in ("months-counts", "months-contents")
    )
    assert counts[1]["Notes"] == Cell("none", weak=True)
    assert counts[1]["Running total"].words == "1:00"
    assert contents[1]["Where the time went"] == Cell("no note", weak=True)
    # February 2026 has 28 days, all of them without time.
    assert contents[1]["Longest pause"].words == "28 days"


def test_months_without_a_note_in_a_row_are_told_as_one() -> None:
    """A long silence is one span in the sentence at the head, and all its months in the table."""
    days = ("2025-11-30", "2026-03-01", "2026-05-31")
    chapter = made(months, making.ledger(work=[making.worked(day, 60) for day in days]))
    told = "No note is dated in December 2025 to February 2026 and April 2026."
    assert told in said(chapter.blocks)
    assert len(tables([sections(chapter)["months-counts"]])[0].rows) == 7 + 1


def test_hours_stand_against_the_estimate() -> None:
    """What is left is the estimate without the amateurs' time; paid time takes nothing off it.

    Each made task is estimated at ten hours: of W's twenty, an hour and a half is the amateurs'.
    """
    done = [
        making.worked("2026-01-31", 3600, "W1"),
        making.worked("2026-01-31", 1800, "W2", "Ada"),
        making.worked("2026-01-31", 7200, "W2", "Shop & Co"),
        making.worked("2026-01-31", 40 * 3600, "E1", "Tomas"),
        making.worked("2026-01-31", 60, None),
    ]
    _, by_area = bars(made(months, making.ledger(work=done, tasks=TASKS)))
    left = int(Fraction("18.5") * 3600)
    assert by_area.bars == (
        Bar("W Area W", 5400 + 7200 + left, duration_words("3 h 30 min; estimate 20 h"),
            (5400, 7200, left)),
        Bar("E Area E", 40 * 3600, duration_words("40 h; estimate 10 h"), (40 * 3600, 0, 0)),
        Bar("Given to no area", 60, duration_words("1 min"), (60, 0, 0)),
    )  # fmt: skip


def duration_words(words: str) -> str:
    """The words with the spaces that do not break, as lengths of time are written."""
    kept = "\N{NO-BREAK SPACE}"
    for unit in ("h", "min"):
        words = words.replace(f" {unit}", f"{kept}{unit}")
    return words.replace(f"{kept}h 30", f"{kept}h{kept}30")


def test_tasks_begun_and_finished_are_named() -> None:
    """A month names the tasks of its first and of its last time, by id and name."""
    done = [making.worked("2026-01-31", 3600, "W1"), making.worked("2026-02-01", 1800, "W1")]
    chapter = made(months, making.ledger(work=done, tasks=TASKS))
    january, february = rows(tables([sections(chapter)["months-contents"]])[0])
    assert january["Tasks begun"] == Cell("W1 Task W1", to="task-W1")
    assert (january["Tasks finished"].words, february["Tasks begun"].words) == ("", "")
    assert february["Tasks finished"].words == "W1 Task W1"
    assert january["Where the time went"].words == "W Area W 1:00"


def test_the_bars_are_labelled_with_their_months() -> None:
    """Each month of the example has one bar under its name, oldest first."""
    ledger = example()
    labels = [bar.label for bar in bars(made(months, ledger))[0].bars]
    assert labels == [month_short(month.month) for month in rollups(ledger)]


def test_a_journal_without_notes_has_no_months() -> None:
    """Without a note there is no month to tell of."""
    assert none_made(months, making.ledger())
