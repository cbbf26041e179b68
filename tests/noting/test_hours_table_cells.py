"""The cells of a table of hours: lengths exactly, spans, people and tasks, or a sentence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.units import DAY, UnreadableError, parse_length
from builderlog.noting.hours_table_cells import (
    clock_of,
    looks_like_minutes,
    minutes_of,
    people_of,
    span_of,
    tasks_of,
    time_of,
)

PEOPLE = {"tomas": "Tomas", "ines": "Ines", "ada & osk": "Ada & Osk"}
TASKS = {"w14": "W14", "w15": "W15", "fit skins, left": "W16"}


@pytest.mark.parametrize(
    ("text", "words", "seconds"),
    [
        *(("3.25", "3.25", 11700), ("3,25", "3,25", 11700), ("3h15", "3h15", 11700)),
        *(("3:15", "3:15", 11700), ("45m", "45m", 2700), ("19:10-22:25", "19:10-22:25", 11700)),
        *(("3:15:00", "3h15", 11700), ("03:15:00.000", "3h15", 11700), ("2 1/2", "2h30", 9000)),
        *(("2½", "2h30", 9000), ("½", "30m", 1800), ("1/3 hour", "20m", 1200)),
        *(("2.5 hours", "2.5", 9000), ("2 hours 30 minutes", "2h30", 9000), ("1 hr", "1h", 3600)),
        *(("2 hrs, 5 mins", "2h05", 7500), ("7pm - 10:30 pm", "19:00-22:30", 12600)),
        *(("22:00 to 1:30", "22:00-1:30", 12600), ("2 hours and 30 min", "2h30", 9000)),
        ("0:00:20", "0.005556", 20),
    ],
)
def test_lengths(text: str, words: str, seconds: int) -> None:
    """What the journal writes stays as it is; what everyone understands becomes that."""
    found = time_of(text)
    assert (found.words, found.seconds) == (words, seconds)
    assert parse_length(found.words).seconds == seconds


@pytest.mark.parametrize(
    "text", ["2:30 PM", "all day", "-3", "3:75", "1/7", "1/0", "25:00-26:00", "h"]
)
def test_what_is_no_length(text: str) -> None:
    """What is no length, or one that no second can hold exactly, is told with what to write."""
    with pytest.raises(UnreadableError, match="write"):
        time_of(text)


@given(st.text(max_size=15))
def test_any_text_is_a_length_or_told(text: str) -> None:
    """No text does anything but give a length that a note can hold, or a sentence."""
    try:
        found = time_of(text)
    except UnreadableError:
        return
    assert parse_length(found.words).seconds == found.seconds


@given(st.integers(0, DAY - 60), st.integers(0, DAY - 60))
def test_spans(start: int, end: int) -> None:
    """From any minute to any other is the time between them, past midnight where it must be."""
    start, end = start // 60 * 60, end // 60 * 60
    texts = [f"{second // 3600}:{second % 3600 // 60:02}" for second in (start, end)]
    if start == end:
        with pytest.raises(UnreadableError, match="same time"):
            span_of(*texts)
        return
    found = span_of(*texts)
    assert (found.seconds, found.span) == ((end - start) % DAY, True)
    assert parse_length(found.words).seconds == found.seconds


def test_times_of_the_clock() -> None:
    """Half days are told apart by their letters; a bare number is no time."""
    found = [clock_of(text) // 60 for text in ("19:10", "7:10 pm", "12:05 AM", "12 p.m.", "19.10")]
    assert found == [1150, 1150, 5, 720, 1150]
    for text in ("19", "13 pm", "0:10 am", "25:00", "19:75", ""):
        with pytest.raises(UnreadableError):
            clock_of(text)


def test_minutes() -> None:
    """A column of minutes holds whole numbers."""
    assert minutes_of("90").seconds == 5400
    with pytest.raises(UnreadableError, match="number of minutes"):
        minutes_of("1.5")


def test_people() -> None:
    """Names are split at the signs between names, once each, and spelled as declared."""
    assert people_of("tomas & me, Ada", PEOPLE, "Ines") == ("Tomas", "Ines", "Ada")
    assert people_of("Tomas and Ines + TOMAS", PEOPLE, "Ines") == ("Tomas", "Ines")
    assert people_of("Ada & Osk", PEOPLE, "Ines") == ("Ada & Osk",)


def test_tasks() -> None:
    """Several ids are several tasks; words with a comma are one, unless the list has each."""
    assert tasks_of("w14, W15", TASKS) == ("W14", "W15")
    assert tasks_of("W14/W15", {}) == ("W14", "W15")
    assert tasks_of("w14 w15", TASKS) == ("W14", "W15")
    assert tasks_of("Fit skins,  left", TASKS) == ("W16",)
    assert tasks_of("Aileron skins, left", {}) == ("Aileron skins, left",)


def test_hours_that_could_be_minutes() -> None:
    """Only where all decimals are quarters of an hour in minutes, and not all are .30."""
    assert looks_like_minutes(["2.30", "1.45", "3"])
    assert not looks_like_minutes(["2.30", "1.5", "1.45"])
    assert not looks_like_minutes(["2.30", "1.30"])
    assert not looks_like_minutes(["2", "1"])
