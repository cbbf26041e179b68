"""What a torque wrench should have shown: drag by either published rule, extensions; exact.

Two published rules differ. AC 43.13-1B, paragraph 7-40 d, always adds the nut's friction drag to
the torque wanted. TB 43-0218, paragraph 7 c, adds it only from one third of that torque on. Which
one the setting agrees with is named; neither is preferred, and a maker's instruction prevails.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from builderlog.deciding.both_systems import converted, kind
from builderlog.knowing.entries import Torqued
from builderlog.knowing.extensions import Extension, parse_extension
from builderlog.knowing.settings import Wrench
from builderlog.knowing.units import Quantity, UnreadableError

TORQUE = "N·m"
LENGTH = "m"
THIRD = Fraction(1, 3)
# How closely torque wrenches are commonly held to what they show: common practice, from memory.
WRENCH_ACCURACY = Fraction(4, 100)


class Rule(StrEnum):
    """What is done with the nut's friction drag."""

    ALWAYS = "always"
    FROM_A_THIRD = "from a third"


RULE_SOURCES = {
    Rule.ALWAYS: "AC 43.13-1B par. 7-40 d (the drag is always added)",
    Rule.FROM_A_THIRD: "TB 43-0218 par. 7 c (the drag is added from one third of the torque on)",
}


@dataclass(frozen=True, slots=True)
class Range:
    """From `low` to `high`, both ends counted, in one unit that goes along with it."""

    low: Fraction
    high: Fraction

    def holds(self, low: Fraction, high: Fraction) -> bool:
        """Whether all from `low` to `high` lies in it."""
        return self.low <= low and high <= self.high


class Verdict(StrEnum):
    """What can be said of a setting."""

    AGREES = "agrees"  # with the rules named
    NEITHER = "neither"  # it is what no rule gives
    UNTOLD = "untold"  # the record says too little to reckon it


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting held against both rules; `should` is what each gives, in `unit`, that of `set`.

    `why` says what is missing where nothing could be told; `no_drag`: none is on record.
    """

    verdict: Verdict
    rules: tuple[Rule, ...] = ()
    should: tuple[tuple[Rule, Range], ...] = ()
    unit: str = ""
    why: str = ""
    no_drag: bool = False
    nearly: bool = False  # it agrees within what wrenches are held to, not to the last digit
    through_extension: bool = False


def setting_for(torque: Fraction, wrench: Fraction, longer: Fraction) -> Fraction:
    """S = T L / (L + E): what the wrench must show so that the nut gets `torque`.

    `wrench` (L) and `longer` (E, less than nought where the adapter shortens it) in one unit of
    length. Raises ValueError where nothing is left to pull on. US Army TM 1-1500-204-23-9.
    """
    if wrench <= 0 or wrench + longer <= 0:
        raise ValueError("a wrench has a length, and an adapter leaves some of it")
    return torque * wrench / (wrench + longer)


def applied_torque(setting: Fraction, wrench: Fraction, longer: Fraction) -> Fraction:
    """The same the other way round, T = S (L + E) / L: what the nut got. Raises ValueError."""
    if wrench <= 0 or wrench + longer <= 0:
        raise ValueError("a wrench has a length, and an adapter leaves some of it")
    return setting * (wrench + longer) / wrench


def drag_counts(wanted: Range, drag: Range) -> tuple[bool, ...]:
    """Whether TB 43-0218 adds the drag; both answers where a range leaves it open.

    From one third of the recommended torque on it does; of a range either end may be meant.
    """
    sure = drag.low >= wanted.high * THIRD
    never = drag.high < wanted.low * THIRD
    return (True,) if sure else (False,) if never else (False, True)


def by_rules(wanted: Range, drag: Range) -> tuple[tuple[Rule, Range], ...]:
    """The torque at the nut by each rule; one rule twice where it can be read in two ways."""
    added = Range(wanted.low + drag.low, wanted.high + drag.high)
    third = ((Rule.FROM_A_THIRD, added if adds else wanted) for adds in drag_counts(wanted, drag))
    return ((Rule.ALWAYS, added), *third)


def judge_setting(line: Torqued, wrench: Wrench | None) -> Setting:
    """What `set` agrees with; `wrench` is the one that the entry names, as declared."""
    try:
        values, lever = _values_of(line), lever_of(line, wrench)
    except UnreadableError as fault:
        return Setting(Verdict.UNTOLD, why=str(fault))
    should = tuple(
        (rule, Range(each.low * lever, each.high * lever))
        for rule, each in by_rules(values.wanted, values.drag)
    )
    rules, nearly = _agreeing(should, values)
    return Setting(
        verdict=Verdict.AGREES if rules else Verdict.NEITHER,
        rules=rules,
        should=should,
        unit=values.shown.unit,
        no_drag=line.drag is None,
        nearly=nearly,
        through_extension=lever != 1,
    )


@dataclass(frozen=True, slots=True)
class _Values:
    """What a setting is reckoned from, all in the unit of `shown`."""

    wanted: Range
    drag: Range
    seen: Range
    shown: Quantity


def _values_of(line: Torqued) -> _Values:
    """Raises UnreadableError that says what the record lacks."""
    if line.wanted is None or line.set_to is None:
        missing = "the value wanted" if line.wanted is None else "what the wrench showed"
        raise UnreadableError(f"{missing} is not on record")
    unit = line.set_to.unit
    drag = _range_in(line.drag, unit) if line.drag else Range(Fraction(0), Fraction(0))
    return _Values(_range_in(line.wanted, unit), drag, _range_in(line.set_to, unit), line.set_to)


def _range_in(quantity: Quantity, unit: str) -> Range:
    """A torque with two ends in another unit. Raises UnreadableError where it is none."""
    if kind(unit) != TORQUE or kind(quantity.unit) != TORQUE:
        raise UnreadableError("one of its values is no torque")
    if quantity.low is None or quantity.high is None:
        raise UnreadableError(f"'{quantity.written}' has but one end")
    return Range(
        converted(quantity.low, quantity.unit, unit), converted(quantity.high, quantity.unit, unit)
    )


def _agreeing(
    should: tuple[tuple[Rule, Range], ...], values: _Values
) -> tuple[tuple[Rule, ...], bool]:
    """The rules it agrees with to its last digit; where none, those within the accuracy (True)."""
    digit = last_digit(values.shown.written) / 2
    for nearly in (False, True):
        rules = dict.fromkeys(
            rule
            for rule, each in should
            if _slack(each, digit, nearly=nearly).holds(values.seen.low, values.seen.high)
        )
        if rules:
            return tuple(rules), nearly
    return (), False


def _slack(each: Range, digit: Fraction, *, nearly: bool) -> Range:
    """The range with what may be off at either end: never more than the accuracy."""
    below, above = each.low * WRENCH_ACCURACY, each.high * WRENCH_ACCURACY
    if not nearly:
        below, above = min(digit, below), min(digit, above)
    return Range(each.low - below, each.high + above)


def last_digit(written: str) -> Fraction:
    """What one step of the last digit written is worth, the finest where there are several."""
    decimals = [len(found) for found in re.findall(r"[.,](\d+)", written.replace("..", " "))]
    return Fraction(1, 10 ** max(decimals, default=0))


def lever_of(line: Torqued, wrench: Wrench | None) -> Fraction:
    """L / (L + E), 1 without an extension. Raises UnreadableError that says what is missing."""
    if line.extension is None:
        return Fraction(1)
    extension = parse_extension(line.extension.text)
    if extension.longer is None:
        return Fraction(1)
    length = wrench_length(extension, wrench)
    if length is None:
        raise UnreadableError(
            "the wrench's own length is not on record, so the extension cannot be reckoned"
        )
    try:
        return setting_for(Fraction(1), _metres(length), _metres(extension.longer))
    except ValueError:
        told = f"'{line.extension}' leaves nothing of the wrench's {length.written}"
        raise UnreadableError(told) from None


def wrench_length(extension: Extension, wrench: Wrench | None) -> Quantity | None:
    """The length that the note gives, else the one declared with the wrench."""
    return extension.wrench or (wrench.length if wrench else None)


def _metres(length: Quantity) -> Fraction:
    return converted(length.low or Fraction(0), length.unit, LENGTH)
