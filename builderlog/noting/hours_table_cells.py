"""The cells of a table of hours to words of a note: lengths of time, spans, people, tasks.

Each function takes the text alone and raises `UnreadableError` with a sentence that says what to
write; who holds the cell adds its place.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction

from builderlog.knowing.form_cells import one_line
from builderlog.knowing.hours import length_text
from builderlog.knowing.units import DAY, HOUR, MINUTE, UnreadableError, parse_length

_WRITE = "write 3.25, 3h15, 45m, 3:15 or 19:10-22:25"
_HOURS_MINUTES = re.compile(
    r"(?:(\d{1,4}) ?(?:hours?|hrs?|h)\.?)? ?,? ?(?:and ?)?(?:(\d{1,4}) ?(?:minutes?|mins?|m)\.?)?",
    re.IGNORECASE,
)
_WITH_UNIT = re.compile(r"(.*\S) ?(?:hours?|hrs?|h)\.?", re.IGNORECASE)
_WITH_SECONDS = re.compile(r"(\d{1,4}):([0-5]\d):([0-5]\d)(?:\.0+)?")
_VULGAR = {"\N{VULGAR FRACTION ONE HALF}": "1/2", "\N{VULGAR FRACTION ONE QUARTER}": "1/4"}
_VULGAR |= {"\N{VULGAR FRACTION THREE QUARTERS}": "3/4"}
_FRACTION = re.compile(r"(?:(\d{1,3})[ -])?(\d)/(\d)")
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?(?::(\d{2}))? ?([ap]\.?m\.?)?", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:-|\u2013|\u2014|\bto\b|\buntil\b)\s*", re.IGNORECASE)
_OF_THE_CLOCK = re.compile(r".*\d ?[ap]\.?m\.?", re.IGNORECASE)
_PEOPLE = re.compile(r"\s*(?:[,;&+/\n]|\band\b)\s*")
_TASKS = re.compile(r"\s*[,;&+/\n]\s*")
_SELF = frozenset({"me", "myself", "self", "i", "builder"})


@dataclass(frozen=True, slots=True)
class Time:
    """How long, as a note writes it, and in whole seconds; `span` where it is one of the clock."""

    words: str
    seconds: int
    span: bool = False


def time_of(text: str) -> Time:
    """`3.25`, `3h15`, `3:15:00`, `2 hours 30 minutes`, `2 1/2`, `7:10 pm - 10:25 pm`."""
    words = one_line(text)
    if _WITH_SECONDS.fullmatch(words):
        return _with_seconds(words)
    try:
        return _as_written(words)
    except UnreadableError as fault:
        found = _in_words(words)
        if found is None and _OF_THE_CLOCK.fullmatch(words):
            told = f"'{words}' is a time of the clock, and how long is not said; {_WRITE}"
            raise UnreadableError(told) from fault
        if found is None:
            raise
        return found


def _as_written(words: str) -> Time:
    length = parse_length(words)
    return Time(words, length.seconds, bool(length.spans))


def _with_seconds(words: str) -> Time:
    """As spreadsheets write a length: hours, minutes, seconds."""
    hours, minutes, seconds = (int(part) for part in words.partition(".")[0].split(":"))
    whole = hours * HOUR + minutes * MINUTE + seconds
    return Time(length_text(whole), whole)


def _in_words(words: str) -> Time | None:
    """What the journal does not write but everyone understands; None where it is not that."""
    found = _HOURS_MINUTES.fullmatch(words)
    if found and (found[1] or found[2]):
        seconds = int(found[1] or 0) * HOUR + int(found[2] or 0) * MINUTE
        return Time(length_text(seconds), seconds)
    ends = _BETWEEN.split(words)
    if len(ends) == 2 and all(_CLOCK.fullmatch(end) for end in ends):
        return span_of(*ends)
    bare = _WITH_UNIT.fullmatch(words)
    fraction = _fraction(bare[1] if bare else words)
    if fraction is not None:
        seconds = int(fraction * HOUR)
        return Time(length_text(seconds), seconds)
    return _as_written(bare[1]) if bare else None


def _fraction(words: str) -> Fraction | None:
    """`2 1/2` or `2½` exactly, where it comes out in whole seconds."""
    for sign, plain in _VULGAR.items():
        words = words.replace(sign, f" {plain}").strip()
    found = _FRACTION.fullmatch(one_line(words))
    if not found or not int(found[3]):
        return None
    value = int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))
    return value if (value * HOUR).denominator == 1 else None


def minutes_of(text: str) -> Time:
    """A whole number of minutes, in a column that counts minutes."""
    words = one_line(text)
    if not re.fullmatch(r"\d{1,5}", words):
        raise UnreadableError(f"'{words}' is not a number of minutes; write 90")
    seconds = int(words) * MINUTE
    return Time(length_text(seconds), seconds)


def clock_of(text: str) -> int:
    """`19:10`, `19.10`, `7:10 pm` in seconds after midnight."""
    words = one_line(text)
    found = _CLOCK.fullmatch(words)
    hour, minute = (int(found[1]), int(found[2] or 0)) if found else (99, 99)
    half = (found[4] or "").casefold().replace(".", "") if found else ""
    if half and not 1 <= hour <= 12:
        hour = 99
    hour = hour % 12 + 12 * (half == "pm") if half and hour < 99 else hour
    whole = hour * HOUR + minute * MINUTE
    if minute > 59 or whole > DAY or not found or not (found[2] or half):
        raise UnreadableError(f"'{words}' is not a time of the clock; write 19:10")
    return whole


def span_of(begin: str, end: str) -> Time:
    """`19:10-22:25` from two times of the clock; an end before its start is past midnight."""
    start, stop = clock_of(begin), clock_of(end)
    if start % DAY == stop % DAY:
        told = f"'{one_line(begin)}' and '{one_line(end)}' are the same time; write its true end"
        raise UnreadableError(told)
    words = f"{_clock_words(start)}-{_clock_words(stop)}"
    return Time(words, (stop - start) % DAY, span=True)


def _clock_words(seconds: int) -> str:
    return f"{seconds // HOUR}:{seconds % HOUR // MINUTE:02}"


def people_of(text: str, people: Mapping[str, str], builder: str) -> tuple[str, ...]:
    """The names in a cell, each as it is declared, each once; `me` is the builder.

    `people` are the declared names by themselves without capitals. A name that is not declared
    stays as it was written.
    """
    if whole := people.get(one_line(text).casefold()):
        return (whole,)
    found = (one_line(name) for name in _PEOPLE.split(text))
    named = (
        builder if name.casefold() in _SELF else people.get(name.casefold(), name)
        for name in found
        if name
    )
    return tuple(dict.fromkeys(named))


def tasks_of(text: str, known: Mapping[str, str]) -> tuple[str, ...]:
    """The tasks in a cell, as the work list has them where it does (`known`, without capitals).

    Several only where each is an id: `W14, W15`; `Aileron skins, left` is one.
    """
    whole = one_line(text)
    if whole.casefold() in known:
        return (known[whole.casefold()],)
    parts = [one_line(part) for part in _TASKS.split(text) if part.strip()]
    if not (all(part.casefold() in known for part in parts) or all(map(_is_id, parts))):
        blanks = whole.split()
        if not all(part.casefold() in known for part in blanks):
            return (whole,)
        parts = blanks
    return tuple(dict.fromkeys(known.get(part.casefold(), part) for part in parts))


def _is_id(text: str) -> bool:
    """A word with a number in it, such as `W14` or `27-3`."""
    return " " not in text and any(sign.isdigit() for sign in text)


def looks_like_minutes(texts: Collection[str]) -> bool:
    """Decimals that are all .15, .30, .45 or whole, and none that minutes could not be."""
    tails = {found[1] for text in texts if (found := re.fullmatch(r"\d{1,2}[.,](\d{1,2})", text))}
    return len(tails) > 1 and tails <= {"00", "15", "30", "45"} and bool(tails & {"15", "45"})
