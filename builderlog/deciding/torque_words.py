"""What the torque register says in sentences: which drag rule, which table, which calibration."""

from __future__ import annotations

from builderlog.deciding.both_systems import both, converted, number_words
from builderlog.deciding.calibration import Calibrated, Calibration
from builderlog.deciding.torque import RULE_SOURCES, Range, Rule, Setting, Verdict
from builderlog.deciding.torque_range import (
    METRIC,
    Held,
    Ranged,
    limit_words,
    recommended_words,
)
from builderlog.deciding.torque_register import Group
from builderlog.deciding.words import first_upper, listed
from builderlog.knowing.entries import Torqued
from builderlog.knowing.torque_table import SOURCE

PREVAILS = "the kit's and the part maker's manual prevails"
_OTHER = {"N·m": "in-lb"}


def name_of(line: Torqued) -> str:
    """`Left hinge, AN3-5A`: where and which bolt, as far as the entry says."""
    words = [word.text for word in (line.where, line.bolt) if word]
    return ", ".join(words) or "fasteners not named"


def torque_words(each: Range, unit: str) -> str:
    """`26 in-lb (2.94 N·m)`, `80-100 in-lb (...)`: a reckoned torque in both systems."""
    other = _OTHER.get(unit, METRIC)
    low, high = (converted(end, unit, other) for end in (each.low, each.high))
    if each.low == each.high:
        return f"{number_words(each.low)} {unit} ({number_words(low)} {other})"
    own = f"{number_words(each.low)}\N{EN DASH}{number_words(each.high)} {unit}"
    return f"{own} ({number_words(low)}\N{EN DASH}{number_words(high)} {other})"


def setting_words(setting: Setting) -> str:
    """Which rule a setting agrees with, or that it agrees with none, or why it cannot be told."""
    if setting.verdict is Verdict.UNTOLD:
        return f"The setting cannot be held against the drag rules: {setting.why}."
    through = " through the extension" if setting.through_extension else ""
    if setting.verdict is Verdict.NEITHER:
        return f"Agrees with no published drag rule{through}: {should_words(setting)}."
    if setting.no_drag:
        nearly = " within 4 %" if setting.nearly else ""
        return f"Set as asked{nearly}{through}; no drag is on record, so no drag rule shows."
    return f"Agrees{_nearly(setting)}{through} with {_rules_words(setting.rules)}."


def _nearly(setting: Setting) -> str:
    return " within 4 % (common practice for wrenches)" if setting.nearly else ""


def _rules_words(rules: tuple[Rule, ...]) -> str:
    return listed([RULE_SOURCES[rule] for rule in rules])


def should_words(setting: Setting) -> str:
    """What each rule would have shown: `26 in-lb (...) by AC ...`; once where both come to that."""
    by: dict[Range, list[str]] = {}
    for rule, each in setting.should:
        by.setdefault(each, []).append(RULE_SOURCES[rule])
    if setting.no_drag:
        return " or ".join(f"{torque_words(each, setting.unit)} without drag" for each in by)
    told = (f"{torque_words(each, setting.unit)} by {listed(names)}" for each, names in by.items())
    return ", ".join(told)


def held_words(group: Group) -> str:
    """How the value stands to the table, or why the table was not applied."""
    held = group.held
    if held.ranged is Ranged.NOT_APPLIED or held.row is None or held.nut is None:
        return f"Table 7-1 not applied: {held.why}."
    asked = f"{held.row.thread}, {held.nut.value}-type nut"
    if held.ranged is Ranged.WITHIN:
        return f"Within Table 7-1 ({asked}: {recommended_words(held.row, held.nut)})."
    return f"{_against(held)}; {PREVAILS}."


def _against(held: Held) -> str:
    """The value is outside; the row and the column are known."""
    if held.row is None or held.nut is None:
        return ""
    asked = f"{held.row.thread}, {held.nut.value}-type nut"
    if held.ranged is Ranged.OVER_LIMIT:
        return f"Above even the limit of Table 7-1 ({asked}: {limit_words(held.row, held.nut)})"
    side = "Below" if held.ranged is Ranged.BELOW else "Above"
    return f"{side} Table 7-1 ({asked}: {recommended_words(held.row, held.nut)})"


def outside_words(group: Group) -> str:
    """The doubt about a value outside the table, with what to write."""
    wanted = both(group.line.wanted) if group.line.wanted else ""
    held = group.held
    if held.row is None or held.nut is None:
        return ""
    asked = f"a {held.row.thread} thread with a {held.nut.value}-type nut, oil-free"
    if held.ranged is Ranged.OVER_LIMIT:
        told = f"above even the limit of {limit_words(held.row, held.nut)}"
    else:
        side = "below" if held.ranged is Ranged.BELOW else "above"
        told = f"{side} the recommended {recommended_words(held.row, held.nut)}"
    return (
        f"{name_of(group.line)}: {wanted} is {told} of {SOURCE}, for {asked}. "
        f"{first_upper(PREVAILS)}: name it in source: if it asks for this, else mend to:"
    )


def calibration_words(calibration: Calibration) -> str:
    """When the wrench was last calibrated before it was used."""
    match calibration.state:
        case Calibrated.NO_WRENCH:
            return ""
        case Calibrated.NEVER:
            return "no calibration on record up to that day"
        case Calibrated.OLDER:
            return f"calibrated {calibration.last}, more than a year before"
    return f"calibrated {calibration.last}"
