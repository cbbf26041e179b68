"""A measured value in both systems: as it was written, then converted exactly, for reading only.

Nothing is judged by what is shown here: it is rounded. `converted` gives the exact values.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from math import floor

from builderlog.knowing.units import FACTORS, Quantity

LEAST_DIGITS = 3  # significant ones, however few were written
FRACTION_DIGITS = 4  # of a value written as 3/8: it tells nothing of how exact it is
SPAN_DIGITS = 2  # of the distance between two ends, so that a narrow range stays one
FOOT_M = Fraction("0.3048")  # 12 in exactly
_FEET = "ft"  # only shown; nobody needs to write it
_NUMBERS = re.compile(r"(?:\d+[ -])?\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+")
_SIGN = re.compile(r"<=|>=|[<>\u2264\u2265]")
_TO_KELVIN = {
    "°C": (Fraction(1), Fraction("273.15")),
    "°F": (Fraction(5, 9), Fraction("459.67") * Fraction(5, 9)),
}

# The unit of the other system in which each is shown; what has none is the same in both.
OTHER_UNIT: Mapping[str, str] = {
    "mm": "in",
    "cm": "in",
    "m": _FEET,
    "in": "mm",
    "thou": "mm",
    "kg": "lb",
    "g": "oz",
    "lb": "kg",
    "oz": "g",
    "N·m": "in-lb",
    "in-lb": "N·m",
    "ft-lb": "N·m",
    "bar": "psi",
    "psi": "bar",
    "L": "gal",
    "gal": "L",
    "°C": "°F",
    "°F": "°C",
}


def both(quantity: Quantity) -> str:
    """`70 in-lb (7.91 N·m)`: the words as written, then the other system where there is one."""
    other = other_system(quantity)
    return f"{quantity.written} ({other})" if other else quantity.written


def other_system(quantity: Quantity) -> str:
    """`7.91 N·m`, `<= 0.0394 in`, `1.575 ± 0.020 in`; "" where there is none.

    A range has a dash between its ends.
    """
    unit = OTHER_UNIT.get(quantity.unit)
    if unit is None:
        return ""
    if quantity.low is None or quantity.high is None:
        return _bound_words(quantity, unit)
    low = converted(quantity.low, quantity.unit, unit)
    high = converted(quantity.high, quantity.unit, unit)
    digits = _digits(quantity.written)
    if low == high:
        return f"{rounded(low, _decimals(low, digits, unit))} {unit}"
    decimals = max(_decimals(end, digits, unit) for end in (low, high) if end)
    if "±" in quantity.written or "+" in quantity.written.lstrip("+"):
        middle, off = (low + high) / 2, (high - low) / 2
        decimals = max(decimals, _decimals(off, SPAN_DIGITS, ""))
        return f"{fixed(middle, decimals)} ± {fixed(off, decimals)} {unit}"
    return range_words(low, high, unit, max(decimals, _decimals(high - low, SPAN_DIGITS, "")))


def range_words(low: Fraction, high: Fraction, unit: str, decimals: int) -> str:
    """Both ends with a dash between, or one number where they look the same; then the unit."""
    ends = dict.fromkeys((fixed(low, decimals), fixed(high, decimals)))
    dash = " to " if low < 0 else "\N{EN DASH}"
    return f"{dash.join(ends)} {unit}"


def _bound_words(quantity: Quantity, unit: str) -> str:
    """A limit on one side keeps its sign as written."""
    end = quantity.high if quantity.low is None else quantity.low
    sign = _SIGN.match(quantity.written)
    if end is None or sign is None:
        return ""
    value = converted(end, quantity.unit, unit)
    return f"{sign[0]} {rounded(value, _decimals(value, _digits(quantity.written), unit))} {unit}"


def kind(unit: str) -> str:
    """The SI unit of its kind: m, kg, N·m, Pa, m3, s, K; of all others the unit itself."""
    if unit in _TO_KELVIN:
        return "K"
    return "m" if unit == _FEET else FACTORS.get(unit, (unit, Fraction(1)))[0]


def converted(value: Fraction, unit: str, to: str) -> Fraction:
    """The same in another unit of its kind, exactly. Raises ValueError where the kinds differ."""
    if kind(unit) != kind(to):
        raise ValueError(f"{unit} and {to} are of different kinds")
    if unit == to:
        return value
    (factor, offset), (divisor, less) = _scale(unit), _scale(to)
    return (value * factor + offset - less) / divisor


def _scale(unit: str) -> tuple[Fraction, Fraction]:
    """What one of it is in the SI unit of its kind, and where its zero stands there."""
    if unit in _TO_KELVIN:
        return _TO_KELVIN[unit]
    factor = FOOT_M if unit == _FEET else FACTORS.get(unit, (unit, Fraction(1)))[1]
    return factor, Fraction(0)


def _digits(written: str) -> int:
    """Significant digits as written, three at least; written fractions have four."""
    return max(LEAST_DIGITS, *map(_digits_of, _NUMBERS.findall(written)), 0)


def _digits_of(word: str) -> int:
    if "/" in word:
        return FRACTION_DIGITS
    return len("".join(sign for sign in word if sign.isdigit()).lstrip("0"))


def _decimals(value: Fraction, digits: int, unit: str) -> int:
    """Decimals with which a value has so many significant digits; a temperature has one."""
    if unit in _TO_KELVIN:
        return max(1, digits - LEAST_DIGITS)
    size = abs(value)
    if not size:
        return 0
    before = 0  # digits before the point; below nought for 0.0x
    while size >= Fraction(10) ** before:
        before += 1
    while size < Fraction(10) ** (before - 1):
        before -= 1
    return max(0, digits - before)


def number_words(value: Fraction, digits: int = LEAST_DIGITS) -> str:
    """A number with so many significant digits at least, never rounded before the point."""
    return rounded(value, _decimals(value, digits, ""))


def rounded(value: Fraction, decimals: int) -> str:
    """Decimal text with at most so many decimals; an exact value has no idle zeros at its end."""
    words = fixed(value, decimals)
    if "." in words and Fraction(words) == value:
        return words.rstrip("0").rstrip(".")
    return words


def fixed(value: Fraction, decimals: int) -> str:
    """Decimal text with just so many decimals, a half away from nought."""
    units = floor(abs(value) * 10**decimals + Fraction(1, 2))
    return f"{Decimal(units if value >= 0 else -units).scaleb(-decimals):f}"
