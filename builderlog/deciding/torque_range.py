"""The torque that an entry asks for, held against the published table; only where it applies.

AC 43.13-1B, Table 7-1: for bolts in metal with oil-free threads and a known nut, where the
manufacturer gives no torque. What the kit's or the part maker's manual says prevails.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from builderlog.deciding.both_systems import converted, fixed, kind, range_words
from builderlog.deciding.joints import Joint, Made
from builderlog.deciding.torque import TORQUE, last_digit
from builderlog.knowing.entries import Torqued
from builderlog.knowing.torque_table import UNIT, Nut, TorqueRow, bolt_of
from builderlog.knowing.units import Quantity

METRIC = "N·m"
METRIC_DECIMALS = 2
# A value in another unit may be rounded by so much and still be the table's own.
LARGEST_ROUNDING = Fraction(1, 20)
_NAMES_TABLE = re.compile(
    r"\bAC\s?-?43[.-]13|(?<![\d.])43\.13(?!\d)|^\s*(?:the )?table 7-1\s*$", re.IGNORECASE
)
_NAMES_MAKER = re.compile(
    r"\b(?:manuals?|kit|plans?|drawings?|makers?|manufacturers?|bulletins?|vendor)\b", re.IGNORECASE
)


class Ranged(StrEnum):
    """How a torque stands to the table."""

    WITHIN = "within"
    BELOW = "below"
    ABOVE = "above"
    OVER_LIMIT = "over the limit"  # above the allowable tightening limit, too
    NOT_APPLIED = "not applied"


@dataclass(frozen=True, slots=True)
class Held:
    """What came of it: the row and column where the table was applied, else `why` it was not."""

    ranged: Ranged
    why: str = ""
    row: TorqueRow | None = None
    nut: Nut | None = None


def names_the_table(source: str) -> bool:
    """Whether a source is the circular's own table: any other one prevails over it.

    A maker's document is another source, also where it points to the circular.
    """
    if _NAMES_MAKER.search(source):
        return False
    return bool(_NAMES_TABLE.search(source))


def judge_range(line: Torqued, joint: Joint) -> Held:
    """The torque wanted, without drag, against the recommended range of its thread and nut."""
    why = _why_not(line, joint)
    bolt = bolt_of(line.bolt.text) if line.bolt else None
    if why or bolt is None or bolt.row is None or line.wanted is None:
        return Held(Ranged.NOT_APPLIED, why)
    nut = Nut(line.nut or "")
    return Held(_ranged(line.wanted, bolt.row, nut), row=bolt.row, nut=nut)


def _why_not(line: Torqued, joint: Joint) -> str:
    """Why the table does not apply; "" where it does. What rules it out comes before gaps."""
    source = line.source.text if line.source else ""
    bolt = bolt_of(line.bolt.text) if line.bolt else None
    if bolt and bolt.clevis:
        return bolt.why
    if joint.made is Made.SOFT:
        return f"'{joint.word}' is named, and the table is not for what is clamped there"
    if source and not names_the_table(source):
        return f"the value is by '{source}', which prevails"
    if bolt is None or bolt.row is None:
        return bolt.why if bolt else "the bolt is not on record"
    return _why_unknown(line) or _why_not_metal(source, joint)


def _why_unknown(line: Torqued) -> str:
    if line.nut not in tuple(Nut):
        return "the nut is not said to be of the tension or the shear type"
    if line.threads != "dry":
        return "the threads are not said to be dry"
    wanted = line.wanted
    if wanted is None or kind(wanted.unit) != TORQUE:
        return "no torque is on record"
    return ""


def _why_not_metal(source: str, joint: Joint) -> str:
    """Whoever takes the table for the source takes the joint for one that it is for."""
    if joint.made is Made.METAL or source:
        return ""
    return "the record does not say that the joint is metal"


def _ranged(wanted: Quantity, row: TorqueRow, nut: Nut) -> Ranged:
    """Compared exactly, but for what the last digit of another unit leaves open."""
    recommended, limit = row.recommended(nut), row.limit(nut)
    slack = min(last_digit(wanted.written) / 2, LARGEST_ROUNDING) if wanted.unit != UNIT else 0
    if wanted.high is not None:
        highest = converted(wanted.high - slack, wanted.unit, UNIT)
        if highest > limit:
            return Ranged.OVER_LIMIT
        if highest > recommended[1]:
            return Ranged.ABOVE
    if wanted.low is not None and converted(wanted.low + slack, wanted.unit, UNIT) < recommended[0]:
        return Ranged.BELOW
    return Ranged.WITHIN


def recommended_words(row: TorqueRow, nut: Nut) -> str:
    """`20-25 in-lb (2.26-2.82 N·m)`, with dashes, as the table has it."""
    low, high = row.recommended(nut)
    star = ", an estimated value" if row.estimated(nut) else ""
    metric = range_words(_metric(low), _metric(high), METRIC, METRIC_DECIMALS)
    return f"{low}\N{EN DASH}{high} {UNIT} ({metric}){star}"


def limit_words(row: TorqueRow, nut: Nut) -> str:
    """`40 in-lb (4.52 N·m)`."""
    limit = row.limit(nut)
    return f"{limit} {UNIT} ({fixed(_metric(limit), METRIC_DECIMALS)} {METRIC})"


def _metric(inch_pounds: int) -> Fraction:
    return converted(Fraction(inch_pounds), UNIT, METRIC)
