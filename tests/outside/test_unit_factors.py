"""The units of measurements are worth what their definitions say, exactly and never rounded.

Sources: NIST Special Publication 811, appendix B (factors that it prints in bold are exact),
the inch and the pound from memory of it and in agreement with published tables that were
read; the pound-force and the foot-pound read in full. The others are arithmetic on these.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from builderlog.knowing.units import FACTORS

INCH_M = Fraction(254, 10_000)  # 25.4 mm exactly: SP 811, memory; read in several tables
POUND_KG = Fraction(45_359_237, 100_000_000)  # exactly: SP 811, memory; agrees with tables read
GRAVITY = Fraction(980_665, 100_000)  # standard acceleration, m/s2: 3rd CGPM 1901, memory

EXACT = (
    ("in", "m", INCH_M),
    ("thou", "m", INCH_M / 1000),
    ("lb", "kg", POUND_KG),
    ("oz", "kg", POUND_KG / 16),
    ("in-lb", "N·m", POUND_KG * GRAVITY * INCH_M),
    ("ft-lb", "N·m", Fraction("1.3558179483314004")),  # read
    ("psi", "Pa", POUND_KG * GRAVITY / INCH_M**2),
    ("bar", "Pa", Fraction(100_000)),  # SP 811: memory
    ("gal", "m3", 231 * INCH_M**3),  # the US gallon is 231 cubic inches: NIST Handbook 44, memory
    ("L", "m3", Fraction(1, 1000)),  # 12th CGPM 1964: memory
    ("min", "s", Fraction(60)),
    ("h", "s", Fraction(3600)),
)


@pytest.mark.parametrize(("unit", "si_unit", "factor"), EXACT, ids=[row[0] for row in EXACT])
def test_a_unit_is_worth_its_definition(unit: str, si_unit: str, factor: Fraction) -> None:
    """One of the unit is exactly the defined number of the SI unit of its kind."""
    assert FACTORS[unit] == (si_unit, factor)


def test_published_torques_agree() -> None:
    """70 in-lb is 7.9089 N·m, and 225 in-lb is 18.75 ft-lb and 25.4216 N·m (computed, 4 digits)."""
    inch_pound, foot_pound = FACTORS["in-lb"][1], FACTORS["ft-lb"][1]
    assert round(float(70 * inch_pound), 4) == 7.9089
    assert 225 * inch_pound == Fraction("18.75") * foot_pound
    assert round(float(225 * inch_pound), 4) == 25.4216


def test_published_pressures_agree() -> None:
    """One psi is 6894.757 Pa to seven digits, as SP 811 prints it (6.894 757 E+03: memory)."""
    assert round(float(FACTORS["psi"][1]), 3) == 6894.757
