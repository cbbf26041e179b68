"""An adapter on a torque wrench as the builder writes it: how much it lengthens the wrench.

AC 43.13-1B, paragraph 7-40 h: an adapter that changes the wrench's effective length changes the
setting; one at a right angle does not (E is nought in S = T L / (L + E)).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from builderlog.knowing.units import FACTORS, Quantity, UnreadableError, parse_quantity

WRITE_EXTENSION = (
    "write 2 in on 10 in, 50 mm, -1.5 in where it shortens the wrench, or 50 mm at 90°"
)
_ON = re.compile(
    r"(?P<own>.+?)(?:\s+on\s+(?:an?\s+)?(?P<wrench>.+?)(?:\s+wrench)?)?", re.IGNORECASE
)
_RIGHT_ANGLE = re.compile(
    r"\s*(?:,|\bat)?\s*(?:an?\s)?(?:(?<![\d.,-])90\s?(?:°|deg(?:rees)?)|right angles?)\s*",
    re.IGNORECASE,
)
_NOT = re.compile(r"\bnot?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Extension:
    """How much longer the wrench got, less than nought where shorter; and the wrench's own length.

    `longer` is None where nothing is changed: at a right angle, or none. `wrench` is None where
    the words do not say it: from the centre of the drive to the point of the handle where the
    hand pulls.
    """

    longer: Quantity | None
    wrench: Quantity | None = None


def parse_extension(text: str) -> Extension:
    """`50 mm`, `2 in on 10 in`, `-1.5 in on a 10 in wrench`, `50 mm at 90°`.

    `none` is none. Raises UnreadableError, also for another angle: no published rule for one
    could be read whole.
    """
    if text.strip().casefold() in {"none", "no"}:
        return Extension(None)
    words, straight = (text, 0) if _NOT.search(text) else _RIGHT_ANGLE.subn(" ", text)
    found = _ON.fullmatch(words.strip())
    try:
        wrench = parse_wrench_length(found["wrench"]) if found and found["wrench"] else None
        if straight:
            return Extension(None, wrench)
        return Extension(_length(found["own"] if found else ""), wrench)
    except UnreadableError:
        told = f"'{text}' does not tell how much longer the wrench got; {WRITE_EXTENSION}"
        raise UnreadableError(told) from None


def parse_wrench_length(text: str) -> Quantity:
    """`240 mm`: from the drive's centre to the hand, above nought. Raises UnreadableError."""
    length = _length(text)
    if not length.low or length.low < 0:
        raise UnreadableError(f"'{text}' is no length of a wrench; write 240 mm or 10 in")
    return length


def _length(text: str) -> Quantity:
    """One length, no range."""
    read = parse_quantity(text)
    if FACTORS.get(read.unit, ("", 0))[0] != "m" or read.low is None or read.low != read.high:
        raise UnreadableError(f"'{text}' is no length; write 240 mm or 10 in")
    return read
