"""A measured value held against the limit that the note states; exact, in any units of one kind."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction

from builderlog.deciding.both_systems import converted, kind
from builderlog.knowing.units import Quantity


class Held(StrEnum):
    """How a value stands to its limit."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    UNTOLD = "untold"  # a value of one end, or one that lies partly inside
    OTHER_KIND = "other kind"  # a length cannot be held against a mass
    NO_LIMIT = "no limit"
    NO_VALUE = "no value"


HELD_WORDS: Mapping[Held, str] = {
    Held.INSIDE: "inside the limit",
    Held.OUTSIDE: "outside the limit",
    Held.UNTOLD: "cannot be told",
    Held.OTHER_KIND: "value and limit are of different kinds",
    Held.NO_LIMIT: "no limit stated",
    Held.NO_VALUE: "no value stated",
}
_STRICTLY = re.compile(r"[<>](?!=)")  # `< 1 mm` leaves 1 mm out, `<= 1 mm` does not


def held_against(value: Quantity | None, limit: Quantity | None) -> Held:
    """Both ends of the value against both ends of the limit; nothing is rounded first."""
    if value is None:
        return Held.NO_VALUE
    if limit is None:
        return Held.NO_LIMIT
    if kind(value.unit) != kind(limit.unit):
        return Held.OTHER_KIND
    low, high = _in(value.low, value, limit), _in(value.high, value, limit)
    out_at_edge = _is_strict(limit) or _is_strict(value)
    if _beyond(low, limit.high, or_at=out_at_edge) or _beyond(limit.low, high, or_at=out_at_edge):
        return Held.OUTSIDE
    at_edge = not _is_strict(limit) or _is_strict(value)
    below = limit.high is None or _beyond(limit.high, high, or_at=at_edge)
    above = limit.low is None or _beyond(low, limit.low, or_at=at_edge)
    return Held.INSIDE if below and above else Held.UNTOLD


def _is_strict(quantity: Quantity) -> bool:
    return bool(_STRICTLY.match(quantity.written))


def _in(end: Fraction | None, value: Quantity, limit: Quantity) -> Fraction | None:
    return None if end is None else converted(end, value.unit, limit.unit)


def _beyond(one: Fraction | None, other: Fraction | None, *, or_at: bool) -> bool:
    """Whether `one` is surely more than `other`, or as much where that is enough."""
    if one is None or other is None:
        return False
    return one >= other if or_at else one > other
