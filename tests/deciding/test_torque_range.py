"""The value asked for against the published table: only where it applies, and why not elsewhere."""

from __future__ import annotations

import pytest

from builderlog.deciding.joints import Joint, Made
from builderlog.deciding.torque_range import Ranged, judge_range, limit_words, names_the_table
from builderlog.knowing.torque_table import FINE, ROWS, Nut
from tests.deciding.torque_entries import torqued

METAL = Joint(Made.METAL, "steel")
UNTOLD = Joint(Made.UNTOLD)
SURE = {"bolt": "AN3-5A", "nut": "tension", "threads": "dry"}
VALUES = [
    # to, how it stands to 20..25 in-lb with a limit of 40
    ("20 in-lb", "within"),
    ("25 in-lb", "within"),
    ("20..25 in-lb", "within"),
    ("19.9 in-lb", "below"),
    ("25.1 in-lb", "above"),
    ("22..26 in-lb", "above"),
    ("15..25 in-lb", "below"),
    ("40 in-lb", "above"),
    ("40.1 in-lb", "over the limit"),
    ("30..50 in-lb", "over the limit"),
    ("<= 25 in-lb", "within"),
    (">= 10 in-lb", "below"),
    ("2.82 N·m", "within"),  # 24.96 in-lb
    ("2.26 N·m", "within"),
    ("2.3 N·m", "within"),
    ("2.9 N·m", "above"),
    ("3 N·m", "above"),  # one digit leaves little open
    ("2 N·m", "below"),
    ("2 ft-lb", "within"),
    ("2.1 ft-lb", "within"),  # what 25 in-lb are, to that digit
    ("2.2 ft-lb", "above"),
]


@pytest.mark.parametrize(("to", "ranged"), VALUES)
def test_a_value_is_held_against_its_row_and_column(to: str, ranged: str) -> None:
    """Exactly in inch-pounds; in other units what the last digit leaves open is no fault."""
    held = judge_range(torqued(to=to, **SURE), METAL)
    assert (held.ranged, held.row, held.nut, held.why) == (ranged, ROWS["10-32"], Nut.TENSION, "")


def test_the_tables_own_metric_columns_lie_within_it() -> None:
    """What the table's ranges are in newton metres, to two decimals, is never outside it."""
    for text in ("7.91 N·m", "5.65 N·m"):
        held = judge_range(torqued(to=text, bolt="AN4-7", nut="tension", threads="dry"), METAL)
        assert held.ranged is Ranged.WITHIN


def test_a_shear_nut_has_columns_of_its_own() -> None:
    """25 in-lb are the limit of a shear-type nut on 10-32, where a tension-type nut has room."""
    found = [
        judge_range(torqued(to=to, **{**SURE, "nut": "shear"}), METAL).ranged.value
        for to in ("12 in-lb", "16 in-lb", "25 in-lb", "26 in-lb")
    ]
    assert found == ["within", "above", "above", "over the limit"]
    assert limit_words(FINE[1], Nut.SHEAR) == "25 in-lb (2.82 N·m)"


NOT_APPLIED = [
    ({"bolt": "AN23-11"}, METAL, "it is a clevis bolt"),
    ({"bolt": "clevis bolt 10-32"}, METAL, "it is a clevis bolt"),
    ({"bolt": "M6"}, METAL, "'M6' tells no thread of the table"),
    ({"bolt": "AN3DD-5"}, METAL, "it is a bolt of aluminium alloy (DD in its name)"),
    ({"nut": "other"}, METAL, "the nut is not said to be of the tension or the shear type"),
    ({"threads": "oiled"}, METAL, "the threads are not said to be dry"),
    ({"to": "22 mm"}, METAL, "no torque is on record"),
    ({"source": "kit manual 3-4"}, METAL, "the value is by 'kit manual 3-4', which prevails"),
    ({"source": "my own head"}, METAL, "the value is by 'my own head', which prevails"),
    ({}, UNTOLD, "the record does not say that the joint is metal"),
    (
        {},
        Joint(Made.SOFT, "spruce"),
        "'spruce' is named, and the table is not for what is clamped there",
    ),
    (
        {"source": "AC 43.13-1B Table 7-1"},
        Joint(Made.SOFT, "tube"),
        "'tube' is named, and the table is not for what is clamped there",
    ),
    ({"bolt": "AN23-11", "source": "kit manual"}, Joint(Made.SOFT, "x"), "it is a clevis bolt"),
]


@pytest.mark.parametrize(("said", "joint", "why"), NOT_APPLIED)
def test_where_the_table_is_not_for_it_nothing_is_judged(
    said: dict[str, str], joint: Joint, why: str
) -> None:
    """A value far off is no fault where the table does not apply, and the reason is told."""
    held = judge_range(torqued(**{**SURE, "to": "500 in-lb", **said}), joint)
    assert (held.ranged, held.why, held.row) == (Ranged.NOT_APPLIED, why, None)


@pytest.mark.parametrize("missing", ["bolt", "nut", "threads", "to"])
def test_what_is_not_on_record_is_not_judged(missing: str) -> None:
    """Without bolt, nut, threads or value there is nothing to hold against the table."""
    said = {key: word for key, word in {**SURE, "to": "500 in-lb"}.items() if key != missing}
    held = judge_range(torqued(**said), METAL)
    assert held.ranged is Ranged.NOT_APPLIED
    assert held.why


def test_whoever_names_the_table_takes_the_joint_for_its_kind() -> None:
    """With the table as the source a value is held against it though metal is not named."""
    line = torqued(to="26 in-lb", source="AC 43.13-1B Table 7-1", **SURE)
    assert judge_range(line, UNTOLD).ranged is Ranged.ABOVE


def test_only_the_circular_is_the_table() -> None:
    """The circular by number or the table by its number; everything else is another source."""
    own = ("AC 43.13-1B", "ac43.13-1b, table 7-1", "FAA AC 43-13", "43.13-1B", "Table 7-1")
    other = ("kit manual 7-1", "kit manual, table 7-1", "table 7-10", "engine maker", "143.13", "")
    more = ("kit manual 3-4, as AC 43.13-1B", "kit manual 43-13", "page 43.131")
    assert [each for each in (*own, *other, *more) if names_the_table(each)] == [*own]
