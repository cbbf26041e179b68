"""Times as one writes them into the form: lengths, spans of the clock, the clock that runs."""

from __future__ import annotations

import re
from datetime import date

from builderlog.bench.desk import Desk
from builderlog.deciding.tonight import night_of
from builderlog.knowing.units import UnreadableError, parse_length
from builderlog.noting.clock import clock_words, stopped
from builderlog.storing.refusal import Refused


def times_of(words: str) -> tuple[str, ...]:
    """One length, or several spans of the clock between commas. Raises UnreadableError."""
    bare = words.strip().removeprefix("[").removesuffix("]").strip()
    if not bare:
        return ()
    try:
        parse_length(bare)
    except UnreadableError as fault:
        spans = [part.strip() for part in re.split(r"[,;]|\band\b|\+", bare)]
        if len(spans) < 2 or not all(map(_is_span, spans)):
            raise UnreadableError(str(fault).replace(f"'{bare}'", f"'{words}'")) from fault
        return tuple(spans)
    return (bare,)


def _is_span(words: str) -> bool:
    try:
        return bool(parse_length(words).spans)
    except UnreadableError:
        return False


def clock_span(desk: Desk, day: date, beside: str) -> str:
    """The running clock's span as a note has it; `beside` is what the builder's hours say too.

    Raises UnreadableError where it cannot stand in a note of that day.
    """
    since = desk.clock.since
    if since is None:
        raise UnreadableError("the clock does not run any more; write the time by hand")
    if beside and not all(map(_is_span, times_of(beside))):
        told = (
            f"'{beside}' is a length and the clock gives a span; untick the clock, or write spans"
        )
        raise UnreadableError(told)
    if night_of(since, desk.ledger.settings.day_ends) != day:
        told = (
            f"the clock runs since {since.date()}, {clock_words(since)}, but the note is of {day}"
        )
        raise UnreadableError(f"{told}; untick the clock and write the time by hand")
    try:
        _, span = stopped(desk.clock, desk.now)
    except Refused as fault:
        raise UnreadableError(f"{fault}; or untick the clock and write the time by hand") from fault
    if span is None:
        raise UnreadableError("the clock was started this very minute; untick it, or wait")
    return span.words
