"""A table of hours is read row by row; what is doubtful is told, what cannot be read stops it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from builderlog.noting.hours_table import Asked, hours_table
from builderlog.noting.hours_table_notes import note_files, notes_of, worklist_from
from builderlog.reading.csv_rows import read_csv
from tests.noting.tables import BUILDER, TODAY, message, read, times, told


def test_all_mistakes_are_told_at_once() -> None:
    """One run tells every cell that cannot be read, each by line and column."""
    found = read("date,hours\nsoon,1\n2026-03-14,all day\n2026-03-15,2:30 PM\n2026-03-16,25\n")
    assert told(found) == [
        "2:1 unreadable (mistake)",
        "3:12 unreadable (mistake)",
        "4:12 unreadable (mistake)",
        "5:12 day-too-long (mistake)",
    ]
    assert found.has_mistakes


def test_an_empty_date_is_that_of_the_row_above() -> None:
    """Merged cells come out as one filled and empty ones below; the first row must have one."""
    found = read("date,hours\n2026-03-14,1\n,2\n")
    assert [str(session.day) for session in found.sessions] == ["2026-03-14", "2026-03-14"]
    assert told(found) == ["3:2 no-date (doubt)"]
    assert told(read("date,hours\n,2\n")) == ["2:2 no-date (mistake)"]


def test_sums_are_never_counted() -> None:
    """A row of sums is left out, by its word or as a bare number; one that differs is told."""
    found = read("date,hours\n2026-03-14,1\n2026-03-15,2\nTotal,3\n")
    assert (len(found.sessions), told(found)) == (2, ["4:1 sums-left-out (doubt)"])
    assert "says" not in message(found, "sums-left-out")
    assert told(read("date,hours\n2026-03-14,1\n,1\n")) == ["3:2 sums-left-out (doubt)"]
    other = read("date,hours\n2026-03-14,1\nTotal March,2.5\n2026-04-01,1\n")
    assert "it says 2h30, and the rows above come to 1h" in message(other, "sums-left-out")
    assert len(other.sessions) == 2


def test_headings_and_bare_days_are_no_sessions() -> None:
    """Words alone below the dates are a heading; a day with nothing beside it says nothing."""
    found = read("date,hours\nMarch 2026,\n2026-03-14,1\n2026-03-15,\ndate,hours\n2026-03-16,1\n")
    assert [session.day.day for session in found.sessions] == [14, 16]
    assert told(found) == ["2:1 heading-left-out (doubt)"]


def test_too_many_cells() -> None:
    """A row whose decimal comma made a cell more is told, with how to write it."""
    found = read("date,hours\n2026-03-14,2,5\n2026-03-15,1,\n")
    assert told(found) == ["2:14 too-many-cells (mistake)"]
    assert "write 2.5, not 2,5" in message(found, "too-many-cells")


def test_strangers_are_asked_for_once() -> None:
    """Everyone who worked needs a role, which no table is guessed to say."""
    table = "date,hours,who\n2026-03-14,1,Tomas\n2026-03-15,1,Tomas\n2026-03-16,1,me\n"
    found = read(table)
    assert told(found) == ["2:14 unknown-person (mistake)"]
    assert "(lines 2, 3)" in message(found, "unknown-person")
    assert times(table, {"Tomas": "helper"})[0] == "2026-03-14 Tomas 1"


def test_several_names_beside_one_time() -> None:
    """The time is each one's, and that is told with the lines."""
    table = "date,hours,who\n2026-03-14,2h,Ines & Tomas\n"
    assert times(table, {"Tomas": "helper"}) == ["2026-03-14 Ines 2h", "2026-03-14 Tomas 2h"]
    assert told(read(table, {"Tomas": "helper"})) == ["2:15 time-of-several (doubt)"]


def test_tasks_that_the_list_lacks() -> None:
    """With a work list a task it lacks is kept as a comment and told; without, it is a task."""
    table = "date,hours,task\n2026-03-14,1,w14\n2026-03-15,2,Spar\n"
    found = read(table, tasks={"w14": "W14"})
    assert [session.tasks for session in found.sessions] == [("W14",), ()]
    assert found.sessions[1].comments == ("task: Spar",)
    assert told(found) == ["3:14 unknown-task (doubt)"]
    assert [session.tasks for session in read(table).sessions] == [("w14",), ("Spar",)]


def test_rows_that_say_the_same() -> None:
    """A row that was perhaps entered twice is told, and counts."""
    found = read("date,hours,text\n2026-03-14,1,x\n2026-03-14,1,x\n")
    assert (len(found.sessions), told(found)) == (2, ["3:1 row-twice (doubt)"])


def test_a_day_has_24_hours() -> None:
    """Rows of one day that come to more are a mistake at the row that exceeds."""
    found = read("date,hours,text\n2026-03-14,13,x\n2026-03-14,12,y\n2026-03-14,1,z\n")
    assert told(found) == ["3:1 day-too-long (mistake)"]


def test_decimals_that_could_be_minutes() -> None:
    """A column with nothing but .15, .30 and .45 is told, and read as decimal hours."""
    found = read("date,hours\n2026-03-14,2.30\n2026-03-15,1.45\n")
    assert told(found) == ["2:12 decimal-hours (doubt)"]
    assert "2h18; if 2:30 is meant" in message(found, "decimal-hours")


def test_an_empty_table() -> None:
    """Names of columns alone are a mistake."""
    assert told(read("date,hours\n")) == ["1:1 no-sessions (mistake)"]


CELLS = st.one_of(
    st.sampled_from(
        [
            *("", "-", "2026-03-14", "3/4/26", "13/4/26", "1.2.26", "46095", "Sat", "29 Feb 2024"),
            *(
                "2,5",
                "3:15",
                "19:10",
                "7pm",
                "25",
                "0",
                "½",
                "me & Tomas",
                "W14",
                "W14, F1",
                "Total",
            ),
        ]
    ),
    st.text(st.characters(exclude_characters=';"\n\r', exclude_categories=["Cs"]), max_size=6),
)
HEADS = st.lists(
    st.sampled_from(
        [
            *("date", "day", "hours", "minutes", "start", "end", "break", "who", "task", "area"),
            *("kind", "per", "title", "text", "next", "total", "Tomas", "Osk hours", "odd", ""),
        ]
    ),
    min_size=1,
    max_size=8,
)


@given(HEADS, st.lists(st.lists(CELLS, min_size=1, max_size=9), max_size=5))
def test_any_table_is_read_or_told(heads: list[str], rows: list[list[str]]) -> None:
    """Whatever stands in the cells, sessions or sentences come of it, and notes and a work list."""
    text = "\n".join(";".join(row) for row in (["date", *heads], *rows))
    table, problems = read_csv("hours.csv", text.encode())
    if problems:
        return  # what is no table stops before it gets here
    found = hours_table(table, Asked(BUILDER, TODAY, {"Tomas": "helper"}))
    assert found.problems or found.sessions
    if found.sessions and not found.has_mistakes:
        assert note_files(notes_of(found.sessions, BUILDER, TODAY))
        worklist_from(found.sessions, "hours.csv")
