"""Settings held against the two drag rules, with and without an extension."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.torque import (
    Range,
    Rule,
    Verdict,
    applied_torque,
    by_rules,
    drag_counts,
    judge_setting,
    last_digit,
    setting_for,
)
from tests.deciding.torque_entries import torqued, wrench

ALWAYS, THIRD = "always", "from a third"
AGREEING = [
    # to, drag, set, the rules it agrees with, whether only nearly
    ("22 in-lb", "4 in-lb", "26 in-lb", [ALWAYS], False),
    ("22 in-lb", "4 in-lb", "22 in-lb", [THIRD], False),
    ("22 in-lb", "4 in-lb", "25 in-lb", [ALWAYS], True),
    ("22 in-lb", "4 in-lb", "22.5 in-lb", [THIRD], True),
    ("22 in-lb", "0 in-lb", "22 in-lb", [ALWAYS, THIRD], False),
    ("24 in-lb", "8 in-lb", "32 in-lb", [ALWAYS, THIRD], False),  # just one third
    ("50..70 in-lb", "30 in-lb", "80..100 in-lb", [ALWAYS, THIRD], False),
    ("50..70 in-lb", "30 in-lb", "90 in-lb", [ALWAYS, THIRD], False),
    ("50..70 in-lb", "20 in-lb", "60 in-lb", [THIRD], False),  # a third of 50, not of 70
    ("50..70 in-lb", "20 in-lb", "88 in-lb", [ALWAYS, THIRD], False),
    ("20..25 in-lb", "3..5 in-lb", "30 in-lb", [ALWAYS], False),
    ("70 in-lb", "0 in-lb", "7.9 N·m", [ALWAYS, THIRD], False),
    ("70 in-lb", "0 in-lb", "8 N·m", [ALWAYS, THIRD], False),
    ("40 ft-lb", "10 in-lb", "490 in-lb", [ALWAYS], False),
]
NEITHER = [
    ("22 in-lb", "4 in-lb", "30 in-lb"),
    ("22 in-lb", "4 in-lb", "24 in-lb"),
    ("24 in-lb", "8 in-lb", "24 in-lb"),  # from a third on both rules add
    ("2.6 N·m", "0 N·m", "3 N·m"),  # one digit says little, but not as little as that
    ("50..70 in-lb", "30 in-lb", "70..100 in-lb"),
]


@pytest.mark.parametrize(("to", "drag", "shown", "rules", "nearly"), AGREEING)
def test_a_setting_agrees_with_the_rules_that_give_it(
    to: str, drag: str, shown: str, rules: list[str], *, nearly: bool
) -> None:
    """To its last digit; only where that fits no rule, within what wrenches are held to."""
    found = judge_setting(torqued(to=to, drag=drag, set=shown), None)
    assert (found.verdict, [*found.rules], found.nearly) == (Verdict.AGREES, rules, nearly)
    assert not found.no_drag


@pytest.mark.parametrize(("to", "drag", "shown"), NEITHER)
def test_a_setting_that_no_rule_gives_is_told(to: str, drag: str, shown: str) -> None:
    """What lies off both rules agrees with neither, and both are kept to be told."""
    found = judge_setting(torqued(to=to, drag=drag, set=shown), None)
    assert (found.verdict, found.rules) == (Verdict.NEITHER, ())
    assert {rule for rule, _ in found.should} == set(Rule)


def test_without_drag_no_rule_shows() -> None:
    """With no drag on record both rules come to the value asked, and that none is known is kept."""
    found = judge_setting(torqued(to="22 in-lb", set="22 in-lb"), None)
    assert (found.verdict, found.no_drag) == (Verdict.AGREES, True)
    found = judge_setting(torqued(to="22 in-lb", set="26 in-lb"), None)
    assert (found.verdict, found.no_drag) == (Verdict.NEITHER, True)


UNTOLD = [
    ({"set": "20 in-lb"}, None, "the value wanted is not on record"),
    ({"to": "20 in-lb"}, None, "what the wrench showed is not on record"),
    ({"to": "20 mm", "set": "20 in-lb"}, None, "one of its values is no torque"),
    ({"to": "20 in-lb", "set": "20 mm"}, None, "one of its values is no torque"),
    ({"to": "20 in-lb", "set": "20 in-lb", "drag": "2 mm"}, None, "one of its values is no torque"),
    ({"to": "<= 20 in-lb", "set": "20 in-lb"}, None, "'<= 20 in-lb' has but one end"),
    ({"extension": "50 mm"}, None, "the wrench's own length is not on record"),
    ({"extension": "-12 in on 10 in"}, None, "leaves nothing of the wrench's 10 in"),
    ({"extension": "-240 mm"}, "240 mm", "leaves nothing of the wrench's 240 mm"),
    ({"extension": "the long one"}, "240 mm", "does not tell how much longer"),
]


@pytest.mark.parametrize(("said", "length", "why"), UNTOLD)
def test_what_cannot_be_reckoned_says_why(
    said: dict[str, str], length: str | None, why: str
) -> None:
    """Nothing is judged where a value, a unit or a length is missing."""
    whole = said if "extension" not in said else {"to": "20 in-lb", "set": "20 in-lb", **said}
    found = judge_setting(torqued(**whole), wrench(length))
    assert (found.verdict, found.rules) == (Verdict.UNTOLD, ())
    assert why in found.why


def test_an_extension_changes_what_the_wrench_must_show() -> None:
    """20 in-lb and 3 of drag through 50 mm on 240 mm are 19 in-lb on the wrench."""
    said = {"to": "20 in-lb", "drag": "3 in-lb", "set": "19 in-lb"}
    found = judge_setting(torqued(**said, extension="50 mm"), wrench("240 mm"))
    assert (found.verdict, [*found.rules], found.through_extension) == ("agrees", [ALWAYS], True)
    assert found.should[0] == (Rule.ALWAYS, Range(Fraction(552, 29), Fraction(552, 29)))
    found = judge_setting(torqued(**said, extension="50 mm at 90°"), wrench("240 mm"))
    assert (found.verdict, found.through_extension) == (Verdict.NEITHER, False)


def test_the_length_in_the_note_counts_before_the_declared_one() -> None:
    """A note that gives the wrench's length knows best."""
    line = torqued(to="30 ft-lb", set="20 ft-lb", extension="6 in on 12 in")
    assert judge_setting(line, wrench("240 mm")).verdict is Verdict.AGREES


def test_a_wrench_must_have_a_length() -> None:
    """No setting is reckoned for a wrench of which nothing is left."""
    for wrench_length, longer in ((0, 1), (-1, 5), (10, -10), (10, -11)):
        for reckon in (setting_for, applied_torque):
            with pytest.raises(ValueError, match="a wrench has a length"):
                reckon(Fraction(1), Fraction(wrench_length), Fraction(longer))


TORQUES = st.fractions(min_value=0, max_value=10_000)
LENGTHS = st.fractions(min_value=Fraction(1, 100), max_value=1_000)


@given(TORQUES, LENGTHS, LENGTHS)
def test_there_and_back_through_an_extension(
    torque: Fraction, length: Fraction, longer: Fraction
) -> None:
    """The setting for a torque gives that torque again, and is smaller on a longer wrench."""
    setting = setting_for(torque, length, longer)
    assert applied_torque(setting, length, longer) == torque
    assert setting <= torque


@given(TORQUES, TORQUES, TORQUES)
def test_the_rules_differ_only_below_a_third(low: Fraction, more: Fraction, drag: Fraction) -> None:
    """From a third of the whole range on the rules are one; below a third of it never."""
    wanted, dragged = Range(low, low + more), Range(drag, drag)
    counts = drag_counts(wanted, dragged)
    same = len({each for _, each in by_rules(wanted, dragged)}) == 1
    assert same == (counts == (True,) or drag == 0)


def test_the_last_digit_is_that_of_the_finest_number() -> None:
    """A whole number is good to one, 7.9 to a tenth, and a range to its finest end."""
    written = ("26 in-lb", "7.9 N·m", "7,91 N·m", "20..25 in-lb", "20..25.5 in-lb")
    assert [last_digit(each) for each in written] == [
        1,
        Fraction(1, 10),
        Fraction(1, 100),
        1,
        Fraction(1, 10),
    ]
