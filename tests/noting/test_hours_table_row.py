"""One row of a table of hours: all that it says is in its session, as a word or as a comment."""

from __future__ import annotations

from builderlog.noting.hours_table_row import Session
from tests.noting.tables import read, told


def session(header: str, row: str) -> Session:
    """The session of a table with one row, a date before all else."""
    (one,) = read(f"date,{header}\n2026-03-14,{row}\n").sessions
    return one


def words(header: str, row: str) -> list[str]:
    """The times of one row."""
    return [time.words for _, time in session(header, row).times]


def test_start_and_end() -> None:
    """Start and end are a span; a break makes it a length, and the span stays as a comment."""
    assert words("start,end", "19:10,22:25") == ["19:10-22:25"]
    assert words("in,out", "7:10 PM,1:00 AM") == ["19:10-1:00"]
    assert words("start,end", "2026-03-14 19:10,2026-03-14 22:25") == ["19:10-22:25"]
    found = session("start,end,break", "19:10,22:25,15m")
    assert [time.words for _, time in found.times] == ["3h"]
    assert found.comments == ("19:10-22:25, break 15m",)
    assert words("start,end,break (min)", "19:10,22:25,15") == ["3h"]


def test_hours_beside_start_and_end() -> None:
    """Hours that agree leave the span; hours that do not count, and that is told."""
    assert words("start,end,hours", "19:10,22:25,3.25") == ["19:10-22:25"]
    found = read("date,start,end,hours\n2026-03-14,19:10,22:25,3\n")
    assert [time.words for _, time in found.sessions[0].times] == ["3"]
    assert found.sessions[0].comments == ("19:10-22:25",)
    assert told(found) == ["2:24 hours-differ (doubt)"]


def test_half_a_span_in_a_row() -> None:
    """A start without its end is a mistake; so is a break of fifteen hours."""
    assert told(read("date,start,end\n2026-03-14,19:10,\n")) == ["2:12 half-a-span (mistake)"]
    found = read("date,start,end,break\n2026-03-14,19:10,22:25,15\n")
    assert told(found) == ["2:24 unreadable (mistake)"]


def test_a_person_with_two_times() -> None:
    """A person's own column beside a time that counts for that person is a mistake."""
    found = read("date,hours,who,Tomas\n2026-03-14,1h,Tomas,2h\n", {"Tomas": "helper"})
    assert told(found) == ["2:21 time-twice (mistake)"]


def test_kinds_and_manuals_belong_to_a_task() -> None:
    """Beside a task they are its words; without one, or when not understood, comments."""
    found = session("task,kind,per", "W14,Fabrication,page 3")
    assert (found.tasks, found.work, found.per) == (("W14",), "fabrication", "page 3")
    assert session("hours,kind,per", "1h,assembly,page 3").comments == (
        "kind: assembly",
        "per: page 3",
    )
    odd = read("date,task,kind\n2026-03-14,W14,riveting\n")
    assert odd.sessions[0].comments == ("kind: riveting",)
    assert "2:16 unknown-word (doubt)" in told(odd)


def test_words_titles_and_next_steps() -> None:
    """Words keep their lines, titles and next steps are one line each."""
    found = session("title,text,next", '"Skins\non","one\n\ntwo",dimple')
    assert (found.title, found.text, found.next_steps) == ("Skins on", "one\n\ntwo", ("dimple",))


def test_an_area_is_a_task_where_there_is_no_column_of_tasks() -> None:
    """Beside tasks it is their area."""
    assert session("hours,area", "1h,Wings").tasks == ("Wings",)
    found = session("hours,area,task", "1h,Wings,W14")
    assert (found.tasks, found.area) == (("W14",), "Wings")


def test_a_time_beside_the_date_is_kept() -> None:
    """A time of day in the cell of the date is no length, and stays as a comment."""
    (found,) = read("date,hours\n2026-03-14 19:10,1h\n").sessions
    assert found.comments == ("time with the date: 19:10",)
