"""Values in both systems: the written form first, converted exactly, rounded for reading."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.both_systems import (
    OTHER_UNIT,
    both,
    converted,
    fixed,
    kind,
    number_words,
    other_system,
)
from builderlog.knowing.units import UNIT_NAMES, Quantity, parse_quantity

DASH = "\N{EN DASH}"
SHOWN = {
    "70 in-lb": "70 in-lb (7.91 N·m)",
    "225 in-lb": "225 in-lb (25.4 N·m)",
    "100 ft-lb": "100 ft-lb (136 N·m)",
    "3.2 Nm": "3.2 Nm (28.3 in-lb)",
    "18 mm": "18 mm (0.709 in)",
    "25.4 mm": "25.4 mm (1 in)",
    "40.6 mm": "40.6 mm (1.60 in)",
    "25.4 cm": "25.4 cm (10 in)",
    "8 m": "8 m (26.2 ft)",
    "2-1/2 in": "2-1/2 in (63.5 mm)",
    "3/8 in": "3/8 in (9.525 mm)",
    "63/64 in": "63/64 in (25.00 mm)",
    "120 in": "120 in (3048 mm)",
    "-1.5 in": "-1.5 in (-38.1 mm)",
    "35 thou": "35 thou (0.889 mm)",
    "0 mm": "0 mm (0 in)",
    "1 kg": "1 kg (2.20 lb)",
    "1013 kg": "1013 kg (2233 lb)",
    "70 lb": "70 lb (31.8 kg)",
    "620 g": "620 g (21.9 oz)",
    "9-1/2 oz": "9-1/2 oz (269.3 g)",
    "2 bar": "2 bar (29.0 psi)",
    "32 psi": "32 psi (2.21 bar)",
    "60 gal": "60 gal (227 L)",
    "10 l": "10 l (2.64 gal)",
    "19 C": "19 C (66.2 °F)",
    "0 °C": "0 °C (32 °F)",
    "-40 °F": "-40 °F (-40 °C)",
    "72 F": "72 F (22.2 °C)",
    "20..25 in-lb": f"20..25 in-lb (2.26{DASH}2.82 N·m)",
    "17 to 19 mm": f"17 to 19 mm (0.669{DASH}0.748 in)",
    "0..5 mm": f"0..5 mm (0.000{DASH}0.197 in)",
    "99.9..100.1 mm": f"99.9..100.1 mm (3.9331{DASH}3.9409 in)",
    "-5..5 °C": f"-5..5 °C (23.0{DASH}41.0 °F)",
    "-20..-10 °C": "-20..-10 °C (-4.0 to 14.0 °F)",
    "40 mm ± 0.5": "40 mm ± 0.5 (1.575 ± 0.020 in)",
    "40 mm +/- 0.5": "40 mm +/- 0.5 (1.575 ± 0.020 in)",
    "20 °C ± 2": "20 °C ± 2 (68.0 ± 3.6 °F)",
    "17-1/2 in ± 1/32": "17-1/2 in ± 1/32 (444.50 ± 0.79 mm)",
    "<= 1 mm": "<= 1 mm (<= 0.0394 in)",
    "> 3/8 in": "> 3/8 in (> 9.525 mm)",
    "\u2265 6.4 mm": "\u2265 6.4 mm (\u2265 0.252 in)",
    "90 deg": "90 deg",
    "12 V": "12 V",
    "55 %": "55 %",
    "30 min": "30 min",
}


@pytest.mark.parametrize(("written", "shown"), SHOWN.items(), ids=SHOWN)
def test_a_value_is_shown_in_both_systems(written: str, shown: str) -> None:
    """The words as written come first, then the other system with digits that make sense."""
    assert both(parse_quantity(written)) == shown


def test_every_unit_is_shown_in_another_or_is_one_of_both_systems() -> None:
    """Only units that both systems use have no other one, and each leads to its own kind."""
    same_in_both = {"deg", "V", "A", "ohm", "min", "h", "%"}
    assert set(UNIT_NAMES) - set(OTHER_UNIT) == same_in_both
    assert all(kind(unit) == kind(other) for unit, other in OTHER_UNIT.items())


@given(st.fractions(), st.sampled_from(sorted(OTHER_UNIT)))
def test_conversion_is_exact(value: Fraction, unit: str) -> None:
    """There and back gives the same number, whatever the number."""
    there = converted(value, unit, OTHER_UNIT[unit])
    assert converted(there, OTHER_UNIT[unit], unit) == value


def test_temperatures_have_an_offset() -> None:
    """Water freezes at 32 °F and boils at 212 °F, and kinds do not mix."""
    assert [converted(Fraction(c), "°C", "°F") for c in (0, 100)] == [32, 212]
    assert converted(Fraction(5), "V", "V") == 5
    with pytest.raises(ValueError, match="kg and in-lb are of different kinds"):
        converted(Fraction(1), "kg", "in-lb")


@given(
    st.integers(-10_000, 10_000),
    st.integers(0, 4),
    st.sampled_from([unit for unit in OTHER_UNIT if unit not in {"°C", "°F"}]),
)
def test_what_is_shown_is_near(number: int, decimals: int, unit: str) -> None:
    """The number in brackets is never off by more than half a percent of the exact one."""
    value = Fraction(number, 10**decimals)
    quantity = Quantity(value, value, unit, f"{fixed(value, decimals)} {unit}")
    shown = Fraction(other_system(quantity).split()[0])
    exact = converted(value, unit, OTHER_UNIT[unit])
    assert abs(shown - exact) <= abs(exact) / 200


def test_rounding_is_half_away_from_nought() -> None:
    """A half is rounded away from nought, and digits before the point are never lost."""
    assert [fixed(Fraction(n, 2), 0) for n in (1, 3, -1, -3)] == ["1", "2", "-1", "-2"]
    assert number_words(Fraction(123456, 10)) == "12346"
    assert [number_words(Fraction(n, 3)) for n in (1, 100, 1000)] == ["0.333", "33.3", "333"]


def test_what_has_no_end_is_not_shown() -> None:
    """A value without any end, or one end without its sign, has no words in another system."""
    assert other_system(Quantity(None, None, "mm", "some mm")) == ""
    assert other_system(Quantity(Fraction(1), None, "mm", "1 mm and more")) == ""
