"""Torque as published: the table, drag rules, extensions and units, each with its source.

FAA AC 43.13-1B (8 September 1998), Table 7-1: read in two copies, one column-wise and complete,
one row-wise down to 3/4-16, agreeing. The coarse rows are paired by the order of the lists. The
columns in newton metres are computed with the exact inch-pound and rounded to two decimals.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from builderlog.deciding.both_systems import both, converted, fixed
from builderlog.deciding.torque import (
    Range,
    Rule,
    Verdict,
    applied_torque,
    by_rules,
    judge_setting,
    setting_for,
)
from builderlog.deciding.torque_range import recommended_words
from builderlog.knowing.entries import Torqued
from builderlog.knowing.torque_table import BOLT_THREADS, COARSE, FINE, Nut, TorqueRow, bolt_of
from builderlog.knowing.units import FACTORS, parse_quantity
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

# Thread; tension-type nut, shear-type nut, both limits in in-lb; both ranges in N·m. A star marks
# "estimated corresponding values".
FINE_ROWS = """\
8-36     12-15      7-9        20    12    1.36-1.69        0.79-1.02
10-32    20-25      12-15      40    25    2.26-2.82        1.36-1.69
1/4-28   50-70      30-40      100   60    5.65-7.91        3.39-4.52
5/16-24  100-140    60-85      225   140   11.30-15.82      6.78-9.60
3/8-24   160-190    95-110     390   240   18.08-21.47      10.73-12.43
7/16-20  450-500    270-300    840   500   50.84-56.49      30.51-33.90
1/2-20   480-690    290-410    1100  660   54.23-77.96      32.77-46.32
9/16-18  800-1000   480-600    1600  960   90.39-112.98     54.23-67.79
5/8-18   1100-1300  600-780    2400  1400  124.28-146.88    67.79-88.13
3/4-16   2300-2500  1300-1500  5000  3000  259.87-282.46    146.88-169.48
7/8-14   2500-3000  1500-1800  7000  4200  282.46-338.95    169.48-203.37
1-14     3700-5500  2200-3300* 10000 6000  418.04-621.42    248.57-372.85
1-1/8-12 5000-7000  3000-4200* 15000 9000  564.92-790.89    338.95-474.54
1-1/4-12 9000-11000 5400-6600* 25000 15000 1016.86-1242.83  610.12-745.70
"""
COARSE_ROWS = """\
8-32     12-15      7-9        20    12    1.36-1.69        0.79-1.02
10-24    20-25      12-15      35    21    2.26-2.82        1.36-1.69
1/4-20   40-50      25-30      75    45    4.52-5.65        2.82-3.39
5/16-18  80-90      48-55      160   100   9.04-10.17       5.42-6.21
3/8-16   160-185    95-100     275   170   18.08-20.90      10.73-11.30
7/16-14  235-255    140-155    475   280   26.55-28.81      15.82-17.51
1/2-13   400-480    240-290    880   520   45.19-54.23      27.12-32.77
9/16-12  500-700    300-420    1100  650   56.49-79.09      33.90-47.45
5/8-11   700-900    420-540    1500  900   79.09-101.69     47.45-61.01
3/4-10   1150-1600  700-950    2500  1500  129.93-180.78    79.09-107.34
7/8-9    2200-3000  1300-1800  4600  2700  248.57-338.95    146.88-203.37
"""


def published(text: str) -> list[list[str]]:
    """The cells of each row."""
    return [line.split() for line in text.splitlines()]


def ours(row: TorqueRow) -> list[str]:
    """The same cells from our row, with the two metric columns computed."""
    star = "*" if row.shear_estimated else ""
    metric = [
        "-".join(fixed(converted(Fraction(end), "in-lb", "N·m"), 2) for end in row.recommended(nut))
        for nut in Nut
    ]
    tension, shear = ("-".join(map(str, row.recommended(nut))) for nut in Nut)
    limits = (str(row.limit(nut)) for nut in Nut)
    return [row.thread, tension, shear + star, *limits, *metric]


@pytest.mark.parametrize(("rows", "text"), [(FINE, FINE_ROWS), (COARSE, COARSE_ROWS)])
def test_every_row_is_the_published_one(rows: tuple[TorqueRow, ...], text: str) -> None:
    """Each row of both series has the published values, in newton metres too (AC 43.13-1B, 7-1)."""
    assert [ours(row) for row in rows] == published(text)


def test_the_words_for_a_row_have_both_units() -> None:
    """A range is told as the table has it and in newton metres; estimated values are said to be."""
    dash = "\N{EN DASH}"
    row = FINE[2]
    assert recommended_words(row, Nut.TENSION) == f"50{dash}70 in-lb (5.65{dash}7.91 N·m)"
    assert recommended_words(FINE[11], Nut.SHEAR).endswith("an estimated value")
    assert "estimated" not in recommended_words(FINE[11], Nut.TENSION)


def test_bolt_names_mean_their_threads() -> None:
    """AN3 to AN10 and AN12 have these threads (from memory, high confidence)."""
    named = "AN3 10-32, AN4 1/4-28, AN5 5/16-24, AN6 3/8-24, AN7 7/16-20, AN8 1/2-20, AN9 9/16-18"
    wanted = dict(pair.split() for pair in f"{named}, AN10 5/8-18, AN12 3/4-16".split(", "))
    assert {name: bolt_of(name).thread for name in wanted} == wanted
    assert len(BOLT_THREADS) == len(wanted)


ADAPTERS = (
    # source; torque, L, E, exact setting, the setting as printed
    ("AD-1 US Army TM 1-1500-204-23-9, Fig. 8-16", 300, 10, "4", "1500/7", "214"),
    ("AD-2 helicopter maintenance manual, ch. 20, 25 Oct 2010", 135, 10, "3/2", "2700/23", "117"),
    ("AD-3 the same, shortening", 135, 10, "-3/2", "2700/17", "159"),
    ("AD-4 US Army TM 9-2350-261-20-1 / -34", 40, 12, "4", "30", "30"),
    ("AD-6 US Navy training course 14315 (computed)", 100, 12, "6", "200/3", "67"),
    ("AD-7 adapter note of a torque-wrench supplier", 30, 12, "6", "20", "20"),
)


@pytest.mark.parametrize(
    ("torque", "wrench", "longer", "setting", "printed"),
    [row[1:] for row in ADAPTERS],
    ids=[row[0][:4] for row in ADAPTERS],
)
def test_a_setting_with_an_adapter_is_the_published_one(
    torque: int, wrench: int, longer: str, setting: str, printed: str
) -> None:
    """S = T L / (L + E) gives each published setting, exactly and as printed."""
    found = setting_for(Fraction(torque), Fraction(wrench), Fraction(longer))
    assert (found, fixed(found, 0)) == (Fraction(setting), printed)
    assert applied_torque(found, Fraction(wrench), Fraction(longer)) == torque


def test_the_torque_that_a_setting_gives_is_the_published_one() -> None:
    """AD-5, US Army TM 9-254, Fig. 45: 60 in-lb set on 12 in with 2 in more give 70 in-lb."""
    assert applied_torque(Fraction(60), Fraction(12), Fraction(2)) == 70


def test_an_adapter_to_two_decimals() -> None:
    """AD-2 and AD-3 print 117.39 and 158.82 before they round to what is set."""
    found = [setting_for(Fraction(135), Fraction(10), Fraction(end, 2)) for end in (3, -3)]
    assert [fixed(each, 2) for each in found] == ["117.39", "158.82"]


def test_drag_from_a_third_on_is_added() -> None:
    """TB 43-0218, par. 7 c: recommended 50 to 70 in-lb, drag 30, makes 80 to 100 in-lb."""
    wanted, drag = Range(Fraction(50), Fraction(70)), Range(Fraction(30), Fraction(30))
    added = Range(Fraction(80), Fraction(100))
    assert by_rules(wanted, drag) == ((Rule.ALWAYS, added), (Rule.FROM_A_THIRD, added))


def test_drag_below_a_third_divides_the_rules() -> None:
    """AC 43.13-1B, par. 7-40 d adds a drag of 10 in-lb; TB 43-0218, par. 7 c leaves it out."""
    wanted, drag = Range(Fraction(50), Fraction(70)), Range(Fraction(10), Fraction(10))
    added = Range(Fraction(60), Fraction(80))
    assert by_rules(wanted, drag) == ((Rule.ALWAYS, added), (Rule.FROM_A_THIRD, wanted))


@pytest.mark.parametrize(
    ("wanted", "extension", "shown"),
    [
        ("300 in-lb", "4 in on 10 in", "214 in-lb"),
        ("135 in-lb", "1.5 in on 10 in", "117 in-lb"),
        ("135 in-lb", "-1.5 in on 10 in", "159 in-lb"),
        ("40 ft-lb", "4 in on 12 in", "30 ft-lb"),
        ("30 ft-lb", "6 in on a 12 in wrench", "20 ft-lb"),
        ("30 ft-lb", "6 in at 90°", "30 ft-lb"),  # TM 9-254: no correction at a right angle
    ],
)
def test_an_entry_with_a_published_setting_agrees(wanted: str, extension: str, shown: str) -> None:
    """What the published examples print is what an entry that states them agrees with."""
    line = Torqued(
        None,
        Place("x"),
        wanted=parse_quantity(wanted),
        set_to=parse_quantity(shown),
        extension=Word(extension, Place("x")),
    )
    setting = judge_setting(line, None)
    assert (setting.verdict, setting.nearly) == (Verdict.AGREES, False)


def test_units_have_the_published_factors() -> None:
    """NIST SP 811: the inch-pound is 1.129 848 E-01 N·m, the foot-pound 1.355 818 E+00 (memory)."""
    assert FACTORS["in-lb"][1] == Fraction("0.1129848290276167")  # computed, exact
    assert fixed(converted(Fraction(1), "in-lb", "N·m") * 10, 6) == "1.129848"
    assert fixed(converted(Fraction(1), "ft-lb", "N·m"), 6) == "1.355818"
    assert converted(Fraction(1), "in", "mm") == Fraction("25.4")  # exactly: memory of SP 811
    assert converted(Fraction(1), "lb", "kg") == Fraction("0.45359237")  # the same


def test_round_trips() -> None:
    """70 in-lb is 7.9089 N·m; 12 in-lb 1 ft-lb; 225 in-lb 18.75 ft-lb and 25.4216 N·m."""
    assert fixed(converted(Fraction(70), "in-lb", "N·m"), 4) == "7.9089"
    assert converted(Fraction(12), "in-lb", "ft-lb") == 1
    assert converted(Fraction(225), "in-lb", "ft-lb") == Fraction("18.75")
    assert fixed(converted(Fraction(225), "in-lb", "N·m"), 4) == "25.4216"
    back = converted(converted(Fraction(70), "in-lb", "N·m"), "N·m", "in-lb")
    assert back == 70
    assert both(parse_quantity("70 in-lb")) == "70 in-lb (7.91 N·m)"
