"""Numbers and dates as a reader wants them: English, without locale, never through float.

Seconds are whole. Lengths of time are rounded to the nearest minute, half a minute up.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def duration(seconds: int) -> str:
    """3 h 15 min; the spaces inside do not break. Zero is "0 min"."""
    hours, minutes = divmod(_minutes(seconds), 60)
    parts = [f"{hours}\N{NO-BREAK SPACE}h"] if hours else []
    if minutes or not hours:
        parts.append(f"{minutes}\N{NO-BREAK SPACE}min")
    return "\N{NO-BREAK SPACE}".join(parts)


def duration_clock(seconds: int) -> str:
    """3:15, hours and minutes, for columns that are added up by eye."""
    hours, minutes = divmod(_minutes(seconds), 60)
    return f"{hours}:{minutes:02d}"


def duration_hours(seconds: int) -> str:
    """12.5 h, rounded to the nearest tenth, a half tenth up."""
    tenths = (seconds + 180) // 360
    return f"{tenths // 10}.{tenths % 10}\N{NO-BREAK SPACE}h"


def duration_brief(seconds: int) -> str:
    """Hours for a drawing, without their unit: "0.4", "9.5", and whole from ten on: "12", "113"."""
    tenths = (seconds + 180) // 360
    if tenths >= 100:
        return f"{(seconds + 1800) // 3600}"
    return f"{tenths // 10}.{tenths % 10}" if tenths % 10 else f"{tenths // 10}"


def brief(number: int) -> str:
    """A whole number for a drawing: "804", and from a thousand on "1k", "3.4k", "12k", "1.2M"."""
    for unit, sign in ((1_000_000, "M"), (1000, "k")):
        if number >= unit - unit // 2000:  # what would be written as 1000 of the smaller one
            tenths = (number * 10 + unit // 2) // unit
            if tenths >= 100 or not tenths % 10:
                return f"{(number + unit // 2) // unit}{sign}"
            return f"{tenths // 10}.{tenths % 10}{sign}"
    return str(number)


def duration_iso(seconds: int) -> str:
    """PT3H15M, as HTML's time element reads a length of time (ISO 8601)."""
    hours, minutes = divmod(_minutes(seconds), 60)
    return f"PT{hours}H{minutes}M"


def _minutes(seconds: int) -> int:
    return (seconds + 30) // 60


def day_long(day: date) -> str:
    """Saturday 14 March 2026."""
    return f"{WEEKDAYS[day.weekday()]} {day_plain(day)}"


def day_plain(day: date) -> str:
    """14 March 2026."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def day_short(day: date) -> str:
    """14 Mar 2026."""
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"


def month_long(month: str) -> str:
    """March 2026, from "2026-03"."""
    year, number = month.split("-")
    return f"{MONTHS[int(number) - 1]} {year}"


def month_short(month: str) -> str:
    """Mar 2026, from "2026-03"."""
    year, number = month.split("-")
    return f"{MONTHS[int(number) - 1][:3]} {year}"


def month_of(day: date) -> str:
    """2026-03."""
    return f"{day.year:04d}-{day.month:02d}"


def counted(number: int, one: str, many: str | None = None) -> str:
    """1 note, 2 notes, no notes; `many` where the plural is not `one` and an s."""
    words = one if number == 1 else many or f"{one}s"
    return f"{number or 'no'} {words}"


def amount(number: Decimal) -> str:
    """A count as a builder writes it: 12, 0.5, never 1E+1."""
    plain = format(number.normalize(), "f")
    return "0" if plain == "-0" else plain


def listed(words: Sequence[str]) -> str:
    """Runa, Pim and Jorun."""
    return _joined(words, "and")


def any_of(words: Sequence[str]) -> str:
    """Runa, Pim or Jorun."""
    return _joined(words, "or")


def _joined(words: Sequence[str], last: str) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def first_upper(words: str) -> str:
    """The words with a capital at their head."""
    return words[:1].upper() + words[1:]


def clipped(text: str, longest: int) -> str:
    """The text, cut after a word so that it has at most `longest` characters, dots included."""
    if len(text) <= longest:
        return text
    head = text[: longest - 1]
    cut = head.rsplit(" ", 1)[0] if " " in head else head
    return cut.rstrip(" ,;:.-\N{EN DASH}\N{EM DASH}") + "\N{HORIZONTAL ELLIPSIS}"
