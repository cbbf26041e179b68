"""The columns of a table of hours: which means what, and what is told of all others."""

from __future__ import annotations

import pytest

from tests.noting.tables import message, read, times, told


@pytest.mark.parametrize(
    "header",
    [
        "Date,Hours",
        "DAY,Time (h)",
        "when,Duration",
        "Session Date,hrs.",
        "date of work,Build hours",
    ],
)
def test_names_of_dates_and_hours(header: str) -> None:
    """Dates and hours are found under the names that builders give them."""
    assert times(f"{header}\n2026-03-14,2h30\n") == ["2026-03-14 Ines 2h30"]


def test_hours_and_minutes_are_one_length() -> None:
    """A column of hours and one of minutes are added, and minutes may stand in brackets."""
    table = "date,hours,minutes\n2026-03-14,2,30\n2026-03-15,,45\n"
    assert times(table) == ["2026-03-14 Ines 2h30", "2026-03-15 Ines 45m"]
    assert times("date,time (min)\n2026-03-14,90\n") == ["2026-03-14 Ines 1h30"]


def test_a_column_of_weekdays_is_no_second_date() -> None:
    """`day` beside `date` holds weekdays, and is asked whether they fit."""
    found = read("date,day,hours\n2026-03-14,Sat,1\n2026-03-15,Monday,1\n")
    assert [str(session.day) for session in found.sessions] == ["2026-03-14", "2026-03-15"]
    assert told(found) == ["3:1 other-weekday (doubt)"]


@pytest.mark.parametrize("name", ["Tomas", "Tomas hours", "hours Tomas", "Hours (Tomas)"])
def test_a_column_may_be_one_person_s_time(name: str) -> None:
    """A column with the name of somebody declared holds that person's time."""
    table = f"date,hours,{name}\n2026-03-14,2h,1h\n2026-03-15,1h,\n"
    assert times(table, {"Tomas": "helper"}) == [
        "2026-03-14 Ines 2h",
        "2026-03-14 Tomas 1h",
        "2026-03-15 Ines 1h",
    ]


def test_hours_of_nobody_known_stop_everything() -> None:
    """A column of hours that are nobody's would be lost from the totals, so it is a mistake."""
    assert told(read("date,hours,Osk hours\n2026-03-14,2,1\n")) == ["1:12 whose-hours (mistake)"]


def test_a_name_without_the_word_hours_is_kept_and_told() -> None:
    """A column of times under an unknown name is kept as comments, with what to say of it."""
    found = read("date,hours,Osk\n2026-03-14,2,1h\n")
    assert told(found) == ["1:12 column-not-understood (doubt)"]
    assert "--person 'Osk=helper'" in message(found, "column-not-understood")
    assert found.sessions[0].comments == ("Osk: 1h",)


def test_a_running_sum_is_never_counted() -> None:
    """`Total` beside hours is left out; alone it stops everything, for it could be a sum."""
    beside = read("date,hours,Total\n2026-03-14,2,2\n2026-03-15,3,5\n")
    assert told(beside) == ["1:12 running-sum (doubt)"]
    assert [time.words for each in beside.sessions for _, time in each.times] == ["2", "3"]
    assert told(read("date,total hours\n2026-03-14,2\n")) == ["1:6 running-sum (mistake)"]


def test_columns_that_mean_the_same() -> None:
    """Two columns of hours are a mistake; two of words are joined."""
    assert told(read("date,hours,time\n2026-03-14,2,3\n")) == ["1:12 column-twice (mistake)"]
    (session,) = read("date,hours,text,remarks\n2026-03-14,2,one,two\n").sessions
    assert session.text == "one\n\ntwo"


def test_half_a_span_and_no_time_at_all() -> None:
    """A start without a column of ends is a mistake; a table without any time is doubtful."""
    assert told(read("date,start,text\n2026-03-14,19:10,x\n"))[0] == "1:6 half-a-span (mistake)"
    assert told(read("date,text\n2026-03-14,x\n")) == ["1:1 no-hours-column (doubt)"]


def test_a_table_without_dates() -> None:
    """Without a column of dates nothing can be read, and the names that stand there are told."""
    found = read("Datum,Stunden\n2026-03-14,2\n")
    assert told(found) == ["1:1 no-date-column (mistake)"]
    assert "'Datum', 'Stunden'" in message(found, "no-date-column")


def test_words_that_stand_nowhere() -> None:
    """A title above the names is told; words below no name are told and kept."""
    found = read("My log,,\ndate,hours,\n2026-03-14,2,loose\n")
    assert told(found) == ["1:1 above-the-table (doubt)", "3:14 column-without-name (doubt)"]
    assert found.sessions[0].comments == ("loose",)


def test_a_decimal_comma_behind_which_a_column_has_no_name() -> None:
    """`2,5` taken apart by the comma is a mistake, not two hours and a remark."""
    assert told(read("date,hours,\n2026-03-14,2,5\n")) == ["2:14 decimal-comma (mistake)"]
