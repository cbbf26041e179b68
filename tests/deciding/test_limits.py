"""A value held against its limit: exact, across units, with open and strict ends."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.limits import HELD_WORDS, Held, held_against
from builderlog.knowing.units import Quantity, parse_quantity

CASES = [
    ("18 mm", "17..19 mm", "inside"),
    ("17 mm", "17..19 mm", "inside"),
    ("16.999 mm", "17..19 mm", "outside"),
    ("19.001 mm", "17..19 mm", "outside"),
    ("1 in", "25.4 mm", "inside"),
    ("1 in", "<= 25.4 mm", "inside"),
    ("1 in", "< 25.4 mm", "outside"),
    ("1 in", "> 25.4 mm", "outside"),
    ("1 in", ">= 25.4 mm", "inside"),
    ("12 in-lb", "1 ft-lb", "inside"),
    ("20 °C", "60..70 F", "inside"),
    ("0 °C", ">= 32 °F", "inside"),
    ("-1 °C", ">= 32 °F", "outside"),
    ("40.5 mm", "40 mm ± 0.5", "inside"),
    ("40.51 mm", "40 mm ± 0.5", "outside"),
    ("17..18 mm", "17..19 mm", "inside"),
    ("18..20 mm", "17..19 mm", "untold"),
    ("20..21 mm", "17..19 mm", "outside"),
    ("<= 18 mm", "17..19 mm", "untold"),
    ("<= 18 mm", "<= 19 mm", "inside"),
    ("< 1 mm", "< 1 mm", "inside"),
    ("<= 1 mm", "< 1 mm", "untold"),
    ("> 1 mm", "<= 1 mm", "outside"),
    (">= 1 mm", "<= 1 mm", "untold"),
    ("1.5 deg", "1.5 deg ± 0.2", "inside"),
    ("12.6 V", "12..13 V", "inside"),
    ("18 mm", "<= 1 kg", "other kind"),
    ("18 mm", "18 deg", "other kind"),
]


@pytest.mark.parametrize(("value", "limit", "held"), CASES)
def test_a_value_is_held_against_its_limit(value: str, limit: str, held: str) -> None:
    """Both ends are compared before anything is rounded."""
    assert held_against(parse_quantity(value), parse_quantity(limit)) == held


def test_what_is_missing_is_said() -> None:
    """Without a value or a limit there is nothing to tell, and each has its words."""
    one = parse_quantity("1 mm")
    assert held_against(None, one) is Held.NO_VALUE
    assert held_against(None, None) is Held.NO_VALUE
    assert held_against(one, None) is Held.NO_LIMIT
    assert set(HELD_WORDS) == set(Held)


@given(st.fractions(), st.fractions(), st.fractions(min_value=0))
def test_a_plain_value_is_inside_or_outside(value: Fraction, low: Fraction, more: Fraction) -> None:
    """A value of one number and a limit with two ends always give a plain answer."""
    held = held_against(Quantity(value, value, "mm", "v"), Quantity(low, low + more, "mm", "l"))
    assert held is (Held.INSIDE if low <= value <= low + more else Held.OUTSIDE)
