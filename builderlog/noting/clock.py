"""The shop's clock: spans that no note has yet, and since when it runs; a few lines of text.

Times are those of the wall clock, to the minute, as a note has them. Nothing here reads the time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from builderlog.deciding.tonight import night_of
from builderlog.knowing.entries import Note
from builderlog.knowing.units import DAY, HOUR, MINUTE, Span, UnreadableError, parse_date
from builderlog.storing.refusal import Refused

CLOCK_FILE = "inbox/clock.txt"
LONGEST_SESSION = timedelta(hours=16)  # a clock that ran for longer was forgotten
HEAD = """\
# The shop's clock, written by builderlog note --start and --stop; the next note takes its spans.
# A line is a day with a span, 2026-03-14 19:10-22:25, or a clock that runs, 2026-03-14 19:10-
"""

_LINE = re.compile(r"(\S+)\s+(\d{1,2})[:.](\d{2})\s*[-\u2013]\s*(?:(\d{1,2})[:.](\d{2}))?")


@dataclass(frozen=True, slots=True)
class ClockSpan:
    """A stretch in the shop, at most a day long."""

    start: datetime
    end: datetime

    @property
    def words(self) -> str:
        """As a note has it: 19:10-22:25."""
        return f"{clock_words(self.start)}-{clock_words(self.end)}"

    @property
    def seconds(self) -> int:
        """Whole seconds between the two times of the clock."""
        return int((self.end - self.start).total_seconds())


@dataclass(frozen=True, slots=True)
class Clock:
    """The spans that wait for a note, the oldest first; `since` when it runs, None if it stands."""

    spans: tuple[ClockSpan, ...] = ()
    since: datetime | None = None


def clock_words(moment: datetime) -> str:
    """A time of the clock: 19:10."""
    return f"{moment.hour}:{moment.minute:02}"


def read_clock(text: str) -> Clock:
    """The clock of its file's text. Raises Refused with the line that is no time."""
    clock = Clock()
    for number, line in enumerate(text.splitlines(), start=1):
        words = line.strip()
        if words and not words.startswith("#"):
            clock = _with_line(clock, words, number)
    return clock


def _with_line(clock: Clock, words: str, number: int) -> Clock:
    start, end = _times_of(words, number)
    if end is not None:
        return replace(clock, spans=(*clock.spans, ClockSpan(start, end)))
    if clock.since is not None:
        raise Refused(
            f"{CLOCK_FILE}, line {number}: '{words}' is a second clock that runs; "
            "write when the other one ended, or delete one of the lines"
        )
    return replace(clock, since=start)


def _times_of(words: str, number: int) -> tuple[datetime, datetime | None]:
    """When it was started and, unless it runs, stopped."""
    found = _LINE.fullmatch(words)
    if not found:
        raise _unreadable(number, f"'{words}' is no span of a clock")
    try:
        day = parse_date(found[1])
        start = _moment(day, found[2], found[3])
        if found[4] is None:
            return start, None
        end = _moment(day, found[4], found[5])
    except UnreadableError as fault:
        raise _unreadable(number, str(fault)) from None
    return start, end if end > start else end + timedelta(days=1)


def _unreadable(number: int, why: str) -> Refused:
    return Refused(
        f"{CLOCK_FILE}, line {number}: {why}; write 2026-03-14 19:10-22:25, or delete the line"
    )


def _moment(day: date, hours: str, minutes: str) -> datetime:
    if int(hours) * HOUR >= DAY or int(minutes) >= MINUTE:
        raise UnreadableError(f"'{hours}:{minutes}' is no time from 0:00 to 23:59")
    return datetime.combine(day, time(int(hours), int(minutes)))


def clock_text(clock: Clock) -> str:
    """The text of its file; nothing where the clock holds nothing."""
    lines = [f"{span.start.date()} {span.words}\n" for span in clock.spans]
    if clock.since:
        lines.append(f"{clock.since.date()} {clock_words(clock.since)}-\n")
    return f"{HEAD}{''.join(lines)}" if lines else ""


def started(clock: Clock, at: datetime) -> Clock:
    """The clock running from `at` on. Raises Refused where it runs already."""
    moment = at.replace(second=0, microsecond=0)
    if clock.since is None:
        return replace(clock, since=moment)
    _refuse_forgotten(clock.since, moment)
    raise Refused(
        f"the clock runs already, since {_when(clock.since, moment)}, and goes on; "
        "stop it with: builderlog note --stop"
    )


def stopped(clock: Clock, at: datetime) -> tuple[Clock, ClockSpan | None]:
    """The clock standing, and the span that it ran; None where not a minute went by.

    Raises Refused where it does not run, or where `at` cannot be when it was stopped.
    """
    moment = at.replace(second=0, microsecond=0)
    since = clock.since
    if since is None:
        raise Refused(
            "no clock is running; start one with: builderlog note --start, or write the time "
            "into the note, as in: builderlog note --hours 19:10-22:25"
        )
    if moment < since:
        raise Refused(
            f"the clock was started at {_when(since, moment)}, which is later than "
            f"{clock_words(moment)}; write the true times into {CLOCK_FILE}"
        )
    _refuse_forgotten(since, moment)
    if moment == since:
        return replace(clock, since=None), None
    span = ClockSpan(since, moment)
    return replace(clock, spans=(*clock.spans, span), since=None), span


def _refuse_forgotten(since: datetime, moment: datetime) -> None:
    if moment - since > LONGEST_SESSION:
        hours = int((moment - since).total_seconds()) // HOUR
        raise Refused(
            f"the clock has run since {_when(since, moment)}, {hours} hours, so it was forgotten; "
            "say when you left the shop: builderlog note --stop --at 22:30"
        )


def stopped_at(clock: Clock, at: time) -> datetime:
    """The first time after the clock was started at which a watch shows `at`."""
    since = clock.since or datetime.min  # noqa: DTZ901 - a wall clock, as everything here
    moment = datetime.combine(since.date(), at)
    return moment if moment >= since else moment + timedelta(days=1)


def _when(since: datetime, moment: datetime) -> str:
    """The time alone on the same day, else with its date."""
    same = since.date() == moment.date()
    return clock_words(since) if same else f"{since.date()} {clock_words(since)}"


def spans_of(clock: Clock, day: date, day_ends: time) -> tuple[ClockSpan, ...]:
    """The spans that belong to the evening of that day."""
    return tuple(span for span in clock.spans if night_of(span.start, day_ends) == day)


def without_noted(clock: Clock, notes: Iterable[Note], day_ends: time) -> Clock:
    """The clock without the spans that a note of their day has in its hours."""
    noted = set(_noted(notes))
    left = (
        span
        for span in clock.spans
        if (night_of(span.start, day_ends), _seconds_of(span)) not in noted
    )
    return replace(clock, spans=tuple(left))


def _noted(notes: Iterable[Note]) -> Iterator[tuple[date, Span]]:
    for note in notes:
        for hours in note.hours:
            for span in hours.length.spans:
                if note.day:
                    yield note.day, span


def _seconds_of(span: ClockSpan) -> Span:
    """As a note's words for it are read: from its own midnight."""
    start = span.start.hour * HOUR + span.start.minute * MINUTE
    return Span(start, start + span.seconds)
