"""Times of the form: lengths, spans of the clock, and the clock that runs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from builderlog.bench.desk import Desk
from builderlog.bench.form_times import clock_span, times_of
from builderlog.knowing.units import UnreadableError
from builderlog.noting.clock import Clock
from tests.bench_server.made_desk import NOW, at

DAY = date(2026, 3, 16)
SINCE = datetime(2026, 3, 16, 19, 10)  # noqa: DTZ001 - the wall clock of the shop


@pytest.mark.parametrize(
    ("words", "times"),
    [
        ("", ()),
        (" 2h30 ", ("2h30",)),
        ("3,5", ("3,5",)),
        ("19:10-20:00, 21:00-22:25", ("19:10-20:00", "21:00-22:25")),
        ("[19:10-20:00; 21:00-22:25]", ("19:10-20:00", "21:00-22:25")),
        ("19:10-20:00 and 21:00-22:25", ("19:10-20:00", "21:00-22:25")),
    ],
)
def test_a_time_is_one_length_or_several_spans(words: str, times: tuple[str, ...]) -> None:
    """What a note takes as hours, the form takes too; spans may stand between commas."""
    assert times_of(words) == times


@pytest.mark.parametrize("words", ["all day", "2h, 1h", "19:10-20:00, 1h", "2h99"])
def test_what_is_no_time_is_told_as_it_was_written(words: str) -> None:
    """The sentence quotes the whole field and says what to write."""
    with pytest.raises(UnreadableError, match=f"'{words}'.*write"):
        times_of(words)


def running(desk: Desk, since: datetime | None) -> Desk:
    """The desk with a clock that runs since then."""
    return replace(desk, clock=Clock(since=since))


def test_the_clock_gives_the_span_up_to_now(made_desk: Desk) -> None:
    """A running clock ends now, also past midnight while it is still that evening."""
    assert clock_span(running(made_desk, SINCE), DAY, "") == "19:10-22:30"
    late = at(running(made_desk, SINCE), datetime(2026, 3, 17, 0, 40))  # noqa: DTZ001
    assert clock_span(late, DAY, "18:00-18:30") == "19:10-0:40"


@pytest.mark.parametrize(
    ("since", "day", "beside", "told"),
    [
        (None, DAY, "", "does not run any more"),
        (SINCE, DAY, "2h", "'2h' is a length and the clock gives a span"),
        (SINCE, date(2026, 3, 15), "", "runs since 2026-03-16, 19:10, but the note is of"),
        (NOW, DAY, "", "started this very minute"),
    ],
)
def test_a_clock_that_cannot_be_taken_is_told(
    made_desk: Desk, since: datetime | None, day: date, beside: str, told: str
) -> None:
    """No clock, a length beside it, another day, not a minute: a sentence each, and what to do."""
    with pytest.raises(UnreadableError, match=told):
        clock_span(running(made_desk, since), day, beside)


def test_a_forgotten_clock_is_not_taken(made_desk: Desk) -> None:
    """A clock that ran for longer than an evening is told with both ways out."""
    late = at(running(made_desk, SINCE), datetime(2026, 3, 18, 20, 0))  # noqa: DTZ001
    with pytest.raises(UnreadableError, match=r"forgotten.*; or untick the clock"):
        clock_span(late, DAY, "")
