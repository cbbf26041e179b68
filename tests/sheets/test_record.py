"""The sheets of the record: their shape, and that they say what the totals say."""

from __future__ import annotations

from decimal import Decimal

from builderlog.deciding.totals import tally
from builderlog.knowing.entries import PartStatus, Work
from builderlog.sheets.record import CLAIM_SHEETS, RECORD_SHEETS, record_sheets
from builderlog.sheets.table import Sheet
from tests.making import ledger, note, part, picture, rate, settings, task, worked

BOOK = ledger(
    work=[
        worked("2026-03-14", 9000, "W1", kind=Work.FABRICATION),
        worked("2026-03-14", 2700, "W2", "Ada", Work.ASSEMBLY),
        worked("2026-05-02", 45, None, "Shop & Co"),
    ],
    notes=[note("2026-03-14", "W1", shows=["W1"]), note("2026-06-01", "odd")],
    tasks=[task("W1", done=True), task("W2")],
    pictures=[
        picture("photos/a.jpg", ("2026-03-14", ("W1",)), linked=("notes/2026-03-14.md",)),
        picture("photos/b.jpg", linked=("notes/2026-05-02.md",)),
    ],
    parts=[
        part("skin", ("2026-03-14", "10 EUR"), ("2026-05-02", "20 EUR"), status=PartStatus.FITTED),
        part("bolt", ("2026-05-02", "8.4 USD")),
        part("gift", ("2026-05-02", None)),
    ],
    settled=settings(exchange=[rate("EUR", "2026-01-01", "1.0873")]),
)
SHEETS = {sheet.name: sheet for sheet in record_sheets(BOOK)}


def column(sheet: Sheet, name: str) -> list[str]:
    """All cells of one column."""
    return [row[sheet.header.index(name)] for row in sheet.rows]


def test_every_sheet_has_a_name_of_its_own() -> None:
    """No two sheets would become one file, and every title is a sentence."""
    assert len(SHEETS) == len(CLAIM_SHEETS) + len(RECORD_SHEETS)
    assert all(sheet.title.endswith(".") for sheet in SHEETS.values())


def test_every_row_is_as_long_as_its_header() -> None:
    """A cell for each column, in every sheet."""
    wrong = [s.name for s in SHEETS.values() if any(len(row) != len(s.headings) for row in s.rows)]
    assert wrong == []


def test_every_column_is_named_once_and_explained() -> None:
    """A stranger finds for each column what it means."""
    for sheet in SHEETS.values():
        assert len(set(sheet.header)) == len(sheet.header)
        assert all(heading.meaning for heading in sheet.headings)


def test_an_empty_journal_has_all_sheets() -> None:
    """That nothing is recorded is said by a table without rows, not by its absence."""
    empty = record_sheets(ledger(settled=settings()))
    assert [sheet.name for sheet in empty] == list(SHEETS)


def test_hours_add_to_the_totals() -> None:
    """The seconds of `hours`, and of each way of summing in `totals`, are those of the tally."""
    found = tally(BOOK)
    assert sum(map(int, column(SHEETS["hours"], "seconds"))) == found.seconds
    rows = [(row[0], int(row[2])) for row in SHEETS["totals"].rows]
    for by in ("all", "role", "person", "kind"):
        assert sum(seconds for told, seconds in rows if told == by) == found.seconds
    assert sum(map(int, column(SHEETS["areas_by_month"], "seconds"))) == found.seconds


def test_what_counts_of_parts_adds_to_what_was_spent() -> None:
    """Each cost stands as written, and once as counted, where the newest amount was given."""
    parts = SHEETS["parts"]
    counted = [Decimal(cell) for cell in column(parts, "counted") if cell]
    assert sum(counted) == tally(BOOK).spent["USD"]
    assert column(parts, "cost") == ["10", "20", "8.4", ""]
    assert column(parts, "counted") == ["", "21.7460", "8.4", ""]
    assert column(parts, "counted_on") == ["", "2026-03-14", "2026-05-02", ""]
    assert column(parts, "lot") == ["1", "1", "2", "3"]


def test_tasks_show_credit_and_their_first_and_last_day() -> None:
    """Credit stands in tenths, what is missing to one point too; a free task has none."""
    by_task = {
        row[0]: dict(zip(SHEETS["tasks"].header, row, strict=True)) for row in SHEETS["tasks"].rows
    }
    assert list(by_task) == ["W1", "W2", "odd"]
    one = by_task["W1"]
    assert (one["credit_maker"], one["credit_paid"], one["credit_unclaimed"]) == (
        "0.3",
        "0.1",
        "0.1",
    )
    assert (one["state"], one["estimate_seconds"], one["first"]) == ("done", "36000", "2026-03-14")
    assert (by_task["odd"]["credit_maker"], by_task["odd"]["notes"]) == ("", "1")


def test_a_picture_has_one_row_for_each_note() -> None:
    """A note that lists and links a picture counts once, and a link alone is told as such."""
    rows = list(
        zip(column(SHEETS["photos"], "photo"), column(SHEETS["photos"], "named"), strict=True)
    )
    assert rows == [("photos/a.jpg", "photos"), ("photos/b.jpg", "words")]


def test_months_without_a_note_have_a_row() -> None:
    """April, in which nothing was written, stands between March and May with zeros."""
    months = SHEETS["months"]
    assert column(months, "month") == ["2026-03", "2026-04", "2026-05", "2026-06"]
    assert column(months, "seconds") == ["11700", "0", "45", "0"]
