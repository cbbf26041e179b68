"""Words to exact values: lengths of time, clock spans, dates, amounts of money, measurements.

Each function takes the text alone and raises `Unreadable` with a sentence that says what to
write; the layer that holds the word adds its place.
"""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date, time
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

HOUR = 3600
MINUTE = 60
DAY = 24 * HOUR
MONTHS_IN_YEAR = 12


class UnreadableError(ValueError):
    """A word that has no meaning in its place; the message is for the builder."""


LONGEST = 100  # characters; no amount or measurement is longer, and patterns stay fast


def short_enough(text: str, what: str) -> str:
    """The text without blanks around it. Raises UnreadableError where no such value is so long."""
    word = text.strip()
    if len(word) > LONGEST:
        raise UnreadableError(f"'{word[:20]}…' is too long for {what}")
    return word


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the clock in seconds after midnight of the note's date; `end` may pass 24 h."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Length:
    """A length of time in whole seconds, with the clock spans it was written as, if any."""

    seconds: int
    spans: tuple[Span, ...] = ()


_HOURS_MINUTES = re.compile(r"(?:(\d{1,4})\s*h)?\s*(?:(\d{1,4})\s*(m|min)?)?", re.IGNORECASE)
_DECIMAL = re.compile(r"(\d{1,6})(?:[.,](\d{1,9}))?|[.,](\d{1,9})")
_CLOCK_LENGTH = re.compile(r"(\d{1,4}):(\d{2})")
_SPAN = re.compile(r"(\d{1,2})[:.](\d{2})\s*[-\u2013]\s*(\d{1,2})[:.](\d{2})")
_WRITE_LENGTH = "write 3.25, 3h15, 45m, 3:15 or 19:10-22:25"


def parse_length(text: str) -> Length:
    """`3.25`, `3,25`, `3h15`, `3h 15m`, `45m`, `3:15` or `19:10-22:25` to whole seconds.

    Decimal hours round to the nearest second (a half upwards). A span that ends before it starts
    goes past midnight. Raises UnreadableError.
    """
    word = short_enough(text, "a length of time")
    if span := _SPAN.fullmatch(word):
        return _length_of_span(text, span)
    if clock := _CLOCK_LENGTH.fullmatch(word):
        return Length(int(clock[1]) * HOUR + _minutes(text, clock[2]) * MINUTE)
    if _DECIMAL.fullmatch(word):
        return Length(_nearest_second(Decimal(word.replace(",", "."))))
    if word.lower().endswith("h") and _DECIMAL.fullmatch(word[:-1].strip()):
        return Length(_nearest_second(Decimal(word[:-1].strip().replace(",", "."))))
    return _length_in_words(text, word)


def _nearest_second(hours: Decimal) -> int:
    return int((hours * HOUR).quantize(Decimal(1), ROUND_HALF_UP))


def _length_in_words(text: str, word: str) -> Length:
    found = _HOURS_MINUTES.fullmatch(word)
    if not found or not word or (found[1] is None and found[3] is None):
        raise UnreadableError(f"'{text}' is not a length of time; {_WRITE_LENGTH}")
    if found[1] is None:
        return Length(int(found[2]) * MINUTE)
    return Length(int(found[1]) * HOUR + _minutes(text, found[2] or "0") * MINUTE)


def _minutes(text: str, digits: str) -> int:
    if int(digits) >= MINUTE:
        raise UnreadableError(
            f"'{text}' has more than 59 minutes beside its hours; {_WRITE_LENGTH}"
        )
    return int(digits)


def _length_of_span(text: str, span: re.Match[str]) -> Length:
    start, end = _clock(text, span[1], span[2]), _clock(text, span[3], span[4])
    if (end - start) % DAY == 0 and (start, end) != (0, DAY):
        raise UnreadableError(f"'{text}' begins and ends at the same time; write its true end")
    if end < start:
        end += DAY
    return Length(end - start, (Span(start, end),))


def _clock(text: str, hours: str, minutes: str) -> int:
    seconds = int(hours) * HOUR + _minutes(text, minutes) * MINUTE
    if seconds > DAY:
        raise UnreadableError(f"'{text}' has a time after 24:00; write times from 0:00 to 24:00")
    return seconds


def join_spans(lengths: tuple[Length, ...]) -> Length:
    """Several spans of one evening as one length. Raises UnreadableError where one is no span."""
    if any(not length.spans for length in lengths):
        raise UnreadableError(
            "a list of times holds clock spans only, as in [19:10-20:00, 21:00-22:25]; "
            "write their sum as one length"
        )
    spans = tuple(span for length in lengths for span in length.spans)
    return Length(sum(length.seconds for length in lengths), spans)


_TIME_OF_DAY = re.compile(r"(\d{1,2})[:.](\d{2})", re.ASCII)
NOON = 12


def parse_small_hours(text: str) -> time:
    """A time between midnight and noon, `4:00`. Raises UnreadableError."""
    found = _TIME_OF_DAY.fullmatch(text.strip())
    if not found or int(found[1]) >= NOON or int(found[2]) >= MINUTE:
        raise UnreadableError(f"'{text}' is no time from 0:00 to 11:59; write 4:00")
    return time(int(found[1]), int(found[2]))


def parse_time_of_day(text: str) -> time:
    """A time of the clock, `22:30`. Raises UnreadableError."""
    found = _TIME_OF_DAY.fullmatch(text.strip())
    if not found or int(found[1]) * HOUR >= DAY or int(found[2]) >= MINUTE:
        raise UnreadableError(f"'{text}' is no time from 0:00 to 23:59; write 22:30")
    return time(int(found[1]), int(found[2]))


_ISO_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_NEARLY_ISO = re.compile(r"(\d{4})[-./](\d{1,2})[-./](\d{1,2})")


def parse_date(text: str) -> date:
    """A calendar date as ISO 8601 writes it, `2026-03-14`. Raises UnreadableError."""
    found = _ISO_DATE.fullmatch(text.strip())
    if not found:
        raise UnreadableError(f"'{text}' is not a date; write {_date_meant(text)}")
    return date_of(text, int(found[1]), int(found[2]), int(found[3]))


def parse_last_day(text: str) -> date:
    """A date, or a month as labels print it, `2026-11`: its last day. Raises UnreadableError."""
    month = re.fullmatch(r"(\d{4})-(\d{2})", text.strip())
    if not month:
        return parse_date(text)
    first = date_of(text, int(month[1]), int(month[2]), 1)
    return first.replace(day=days_in_month(first.year, first.month))


def date_of(text: str, year: int, month: int, day: int) -> date:
    """The day, or UnreadableError that says which part no calendar has."""
    if year < 1:
        raise UnreadableError(f"'{text}': there is no year {year:04}")
    if not 1 <= month <= MONTHS_IN_YEAR:
        raise UnreadableError(f"'{text}': there is no month {month}; write 01 to 12")
    days = days_in_month(year, month)
    if not 1 <= day <= days:
        raise UnreadableError(f"'{text}': that month has {days} days; write the day it was")
    return date(year, month, day)


def days_in_month(year: int, month: int) -> int:
    """28 to 31."""
    return monthrange(year, month)[1]


def _date_meant(text: str) -> str:
    near = _NEARLY_ISO.fullmatch(text.strip())
    if near:
        return f"{near[1]}-{int(near[2]):02}-{int(near[3]):02}"
    return "year-month-day, as in 2026-03-14"


_COUNT = re.compile(r"\d{1,9}(?:[.,]\d{1,6})?")


def parse_count(text: str) -> Decimal:
    """A number of pieces, or of litres or metres: not negative. Raises UnreadableError."""
    word = text.strip()
    if not _COUNT.fullmatch(word):
        raise UnreadableError(f"'{text}' is not a number; write 12 or 0.5")
    refuse_two_readings(text, word)
    return Decimal(word.replace(",", "."))


def refuse_two_readings(text: str, digits: str) -> None:
    """`1.250` could be a thousand or one. Raises UnreadableError that offers both."""
    if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", digits):
        whole = digits.replace(",", "").replace(".", "")
        point = digits.replace(",", ".")
        exact = point[:-1] if point.endswith("0") else f"{point}0"
        raise UnreadableError(f"'{text}' can be read in two ways; write {whole} or {exact}")


# ---- measurements -------------------------------------------------------------------------

POUND_FORCE_N = Decimal("4.4482216152605")  # exactly: 0.453 592 37 kg x 9.806 65 m/s2 (NIST SP 811)
UNIT_NAMES = (
    *("mm", "cm", "m", "in", "thou", "kg", "g", "lb", "oz", "N·m", "in-lb", "ft-lb", "deg"),
    *("bar", "psi", "V", "A", "ohm", "°C", "°F", "L", "gal", "min", "h", "%"),
)
_OTHER_SPELLINGS = {
    "Nm": "N·m",
    "N.m": "N·m",
    "N*m": "N·m",
    "C": "°C",
    "F": "°F",
    "l": "L",
    "°": "deg",
    "\u03a9": "ohm",
    "\u2126": "ohm",
    "inch": "in",
    '"': "in",
    "in·lb": "in-lb",
    "in lb": "in-lb",
    "ft·lb": "ft-lb",
    "ft lb": "ft-lb",
}
# What one of the unit is in the SI unit of its kind, exactly; temperatures are not ratios.
FACTORS: dict[str, tuple[str, Fraction]] = {
    "mm": ("m", Fraction(1, 1000)),
    "cm": ("m", Fraction(1, 100)),
    "m": ("m", Fraction(1)),
    "in": ("m", Fraction(254, 10000)),  # exactly 25.4 mm
    "thou": ("m", Fraction(254, 10000000)),
    "kg": ("kg", Fraction(1)),
    "g": ("kg", Fraction(1, 1000)),
    "lb": ("kg", Fraction("0.45359237")),  # exactly
    "oz": ("kg", Fraction("0.45359237") / 16),
    "N·m": ("N·m", Fraction(1)),
    "in-lb": ("N·m", Fraction(POUND_FORCE_N) * Fraction("0.0254")),
    "ft-lb": ("N·m", Fraction(POUND_FORCE_N) * Fraction("0.3048")),
    "bar": ("Pa", Fraction(100000)),
    "psi": ("Pa", Fraction(POUND_FORCE_N) / Fraction("0.0254") ** 2),
    "L": ("m3", Fraction(1, 1000)),
    "gal": ("m3", Fraction("0.003785411784")),  # US liquid gallon, 231 in3 exactly
    "min": ("s", Fraction(60)),
    "h": ("s", Fraction(3600)),
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A measured or wanted value: from `low` to `high` (None: no bound there) in one unit."""

    low: Fraction | None
    high: Fraction | None
    unit: str
    written: str


_NUMBER = r"[-\u2212+]?(?:\d+[ -]\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_UNIT = r"[^\d\s.,/+<>=±\u2264\u2265-][^\d,;<>=±]*?"
_RANGE = re.compile(rf"({_NUMBER})\s*(?:\.\.|\u2013|\s-\s|\sto\s)\s*({_NUMBER})\s*({_UNIT})")
_BOUND = re.compile(rf"(<=|>=|<|>|\u2264|\u2265)\s*({_NUMBER})\s*({_UNIT})")
_AROUND = re.compile(rf"({_NUMBER})\s*({_UNIT})?\s*(?:±|\+/-|\+-)\s*({_NUMBER})\s*({_UNIT})?")
_PLAIN = re.compile(rf"({_NUMBER})\s*({_UNIT})")


def parse_quantity(text: str) -> Quantity:
    """`18 mm`, `2-1/2 in`, `17..19 mm`, `<= 1 mm`, `40 mm ± 0.5`. Raises UnreadableError."""
    word = short_enough(text, "a measurement")
    if found := _RANGE.fullmatch(word):
        return _in_order(number(found[1]), number(found[2]), unit_named(text, found[3]), word)
    if found := _BOUND.fullmatch(word):
        value, unit = number(found[2]), unit_named(text, found[3])
        below = found[1] in {"<=", "<", "\u2264"}
        return Quantity(None if below else value, value if below else None, unit, word)
    if found := _AROUND.fullmatch(word):
        return _around(text, word, found)
    if found := _PLAIN.fullmatch(word):
        value = number(found[1])
        return Quantity(value, value, unit_named(text, found[2]), word)
    raise UnreadableError(
        f"'{text}' is not a measurement; write 18 mm, 17..19 mm, <= 1 mm or 40 mm ± 0.5"
    )


def _in_order(low: Fraction, high: Fraction, unit: str, word: str) -> Quantity:
    if low > high:
        raise UnreadableError(f"'{word}' runs backwards; write the smaller value first")
    return Quantity(low, high, unit, word)


def _around(text: str, word: str, found: re.Match[str]) -> Quantity:
    named = {unit_named(text, unit) for unit in (found[2], found[4]) if unit}
    if len(named) != 1:
        raise UnreadableError(f"'{text}' needs one unit, as in 40 mm ± 0.5")
    middle, off = number(found[1]), abs(number(found[3]))
    return Quantity(middle - off, middle + off, named.pop(), word)


def number(text: str) -> Fraction:
    """`18`, `0,5`, `3/8` or `2-1/2` exactly."""
    word = text.replace("\u2212", "-").replace(",", ".")
    mixed = re.fullmatch(r"([-+]?)(\d+)[ -](\d+)/(\d+)", word)
    try:
        if mixed:
            value = int(mixed[2]) + Fraction(int(mixed[3]), int(mixed[4]))
            return -value if mixed[1] == "-" else value
        return Fraction(word)
    except ZeroDivisionError:
        raise UnreadableError(f"'{text}' divides by nothing; write a true fraction") from None


def unit_named(text: str, word: str) -> str:
    """The unit's own name for any of its spellings. Raises UnreadableError."""
    unit = word.strip()
    unit = _OTHER_SPELLINGS.get(unit, unit)
    if unit not in UNIT_NAMES:
        known = ", ".join(UNIT_NAMES)
        raise UnreadableError(
            f"'{text}': '{word.strip()}' is not a unit we know; write one of {known}"
        )
    return unit
