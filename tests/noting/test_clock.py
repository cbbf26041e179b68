"""The shop's clock: what it refuses with a clear word, and what a note takes off it."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest

from builderlog.noting.clock import (
    Clock,
    ClockSpan,
    clock_text,
    read_clock,
    spans_of,
    started,
    stopped,
    stopped_at,
    without_noted,
)
from builderlog.storing.refusal import Refused
from tests.knowing.reading_notes import read

FOUR = time(4)


def at(text: str) -> datetime:
    """A moment of the wall clock."""
    return datetime.fromisoformat(text)


def span(start: str, end: str) -> ClockSpan:
    """A span between two moments."""
    return ClockSpan(at(start), at(end))


def test_an_evening_goes_round() -> None:
    """Started and stopped, the span stands in the text as a note has it, and is read back."""
    running = started(Clock(), at("2026-03-14 19:10:40"))
    assert read_clock(clock_text(running)) == running
    standing, kept = stopped(running, at("2026-03-14 22:25:59"))
    assert kept is not None
    assert (kept.words, kept.seconds) == ("19:10-22:25", 11_700)
    assert clock_text(standing).splitlines()[-1] == "2026-03-14 19:10-22:25"
    assert read_clock(clock_text(standing)) == standing
    assert clock_text(Clock()) == ""


def test_an_evening_may_pass_midnight() -> None:
    """A span that is stopped after midnight belongs to the evening on which it began."""
    clock, kept = stopped(started(Clock(), at("2026-03-14 22:40")), at("2026-03-15 00:20"))
    assert kept is not None
    assert kept.words == "22:40-0:20"
    assert read_clock(clock_text(clock)) == clock
    assert spans_of(clock, date(2026, 3, 14), FOUR) == (kept,)
    assert spans_of(clock, date(2026, 3, 15), FOUR) == ()
    late = Clock((span("2026-03-15 00:30", "2026-03-15 01:00"),))
    assert spans_of(late, date(2026, 3, 14), FOUR) == late.spans


@pytest.mark.parametrize(
    ("now", "told"),
    [
        ("2026-03-14 19:30", "the clock runs already, since 19:10, and goes on"),
        ("2026-03-15 00:30", "the clock runs already, since 2026-03-14 19:10"),
        ("2026-03-15 11:11", "since 2026-03-14 19:10, 16 hours, so it was forgotten"),
    ],
)
def test_a_clock_is_not_started_twice(now: str, told: str) -> None:
    """The second start says since when it runs; after sixteen hours that it was forgotten."""
    with pytest.raises(Refused, match=told):
        started(Clock(since=at("2026-03-14 19:10")), at(now))


@pytest.mark.parametrize(
    ("since", "now", "told"),
    [
        (None, "2026-03-14 19:30", "no clock is running"),
        ("2026-03-14 19:40", "2026-03-14 19:30", "started at 19:40, which is later than 19:30"),
        ("2026-03-14 19:10", "2026-03-15 20:00", "24 hours, so it was forgotten; say when"),
    ],
)
def test_a_stop_that_cannot_be_is_told(since: str | None, now: str, told: str) -> None:
    """A clock that stands, runs backwards or ran for a day is not stopped in silence."""
    with pytest.raises(Refused, match=told):
        stopped(Clock(since=at(since) if since else None), at(now))


def test_sixteen_hours_are_the_most() -> None:
    """Just sixteen hours are still a day's work."""
    _, kept = stopped(Clock(since=at("2026-03-14 06:00")), at("2026-03-14 22:00"))
    assert kept is not None
    assert kept.seconds == 16 * 3600


def test_less_than_a_minute_is_nothing() -> None:
    """A clock stopped in the minute of its start stands again, and keeps nothing."""
    begun = Clock(since=at("2026-03-14 19:10"))
    assert stopped(begun, at("2026-03-14 19:10:59")) == (Clock(), None)


def test_a_forgotten_clock_is_given_its_end() -> None:
    """`--at` means the first such time after the start, past midnight too."""
    clock = Clock(since=at("2026-03-14 19:10"))
    assert stopped_at(clock, time(22, 30)) == at("2026-03-14 22:30")
    assert stopped_at(clock, time(0, 30)) == at("2026-03-15 00:30")


def test_what_a_note_says_is_off_the_clock() -> None:
    """A span that a note of its evening has in its hours waits no longer; others do."""
    clock = Clock(
        (
            span("2026-03-14 19:10", "2026-03-14 20:00"),
            span("2026-03-14 22:40", "2026-03-15 00:20"),
            span("2026-03-15 19:10", "2026-03-15 20:00"),
        )
    )
    note, _ = read(b"---\ndate: 2026-03-14\nhours: {Ines: [19:10-20:00, 22:40-0:20]}\n---\n")
    assert without_noted(clock, [note], FOUR).spans == clock.spans[2:]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("yesterday", "line 1: 'yesterday' is no span of a clock"),
        ("# mine\n\n2026-02-30 19:10-", "line 3: '2026-02-30': that month has 28 days"),
        ("2026-03-14 24:10-", "line 1: '24:10' is no time from 0:00 to 23:59"),
        ("2026-03-14 19:10-\n2026-03-14 20:10-", "line 2: '2026-03-14 20:10-' is a second clock"),
    ],
)
def test_a_line_that_is_no_time_is_told(text: str, told: str) -> None:
    """The file may be mended by hand; a line that says nothing is named."""
    with pytest.raises(Refused, match=told):
        read_clock(text)
