"""`note --start` and `note --stop`: the shop's clock, which a crash or a restart does not stop."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER
from builderlog.command.terminal import say
from builderlog.deciding.tonight import night_of
from builderlog.deciding.words import counted, duration
from builderlog.knowing.entries import Note
from builderlog.knowing.units import UnreadableError, parse_time_of_day
from builderlog.noting.clock import (
    Clock,
    ClockSpan,
    clock_words,
    spans_of,
    started,
    stopped,
    stopped_at,
    without_noted,
)
from builderlog.noting.clock_file import clock_of, keep_clock
from builderlog.storing.lock import hold_soon
from builderlog.storing.refusal import Refused


def time_of_day(text: str) -> time:
    """`22:30` on the command line."""
    try:
        return parse_time_of_day(text)
    except UnreadableError as fault:
        raise ArgumentTypeError(str(fault)) from fault


def start_clock(root: Path, now: datetime, at: time | None) -> None:
    """Starts the clock, now or at a time before. Raises Refused where it runs already."""
    moment = _earlier(now, at)
    with hold_soon(root / CACHE_FOLDER, f"the journal {root}"):
        keep_clock(root, started(clock_of(root), moment))
    say(f"The clock runs since {clock_words(moment)}; builderlog note --stop stops it", sys.stdout)


def stop_clock(root: Path, now: datetime, at: time | None) -> None:
    """Stops the clock, now or at a time before; the next note of the evening takes its span.

    Raises Refused where it does not run, or was forgotten.
    """
    with hold_soon(root / CACHE_FOLDER, f"the journal {root}"):
        clock = clock_of(root)
        moment = stopped_at(clock, at) if at else now
        if moment > now:
            raise Refused(f"{clock_words(moment)} is still to come; write when you stopped")
        standing, span = stopped(clock, moment)
        keep_clock(root, standing)
    if span is None:
        say("The clock ran for less than a minute, so nothing is kept", sys.stdout)
    else:
        told = f"{span.words}, {duration(span.seconds)}: tonight's note takes it, builderlog note"
        say(told, sys.stdout)


def _earlier(now: datetime, at: time | None) -> datetime:
    """The last moment up to now at which a watch showed `at`."""
    if at is None:
        return now
    moment = datetime.combine(now.date(), at)
    return moment if moment <= now else datetime.combine(_before(now.date()), at)


def _before(day: date) -> date:
    return date.fromordinal(day.toordinal() - 1)


def waiting_spans(clock: Clock, notes: Iterable[Note], day: date, day_ends: time) -> Clock:
    """The clock with nothing but the spans that a note of that day has still to take."""
    left = without_noted(clock, notes, day_ends)
    return replace(left, spans=spans_of(left, day, day_ends))


def take_spans(root: Path, taken: Iterable[ClockSpan]) -> None:
    """Takes spans that a note holds by now off the clock; whoever calls holds the lock."""
    gone, clock = set(taken), clock_of(root)
    if gone:
        left = tuple(span for span in clock.spans if span not in gone)
        keep_clock(root, replace(clock, spans=left))


def older_words(clock: Clock, notes: Iterable[Note], day: date, day_ends: time) -> str:
    """A sentence about spans of other evenings that no note has; or nothing."""
    left = without_noted(clock, notes, day_ends).spans
    days = sorted({night_of(span.start, day_ends) for span in left} - {day})
    if not days:
        return ""
    return (
        f"The clock holds time of {counted(len(days), 'other evening')} that no note has; "
        f"the first is: builderlog note --on {days[0]}"
    )
