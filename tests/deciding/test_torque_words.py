"""The sentences of the register: which rule, which table, which calibration; no word grants."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from builderlog.deciding.torque import Range, judge_setting
from builderlog.deciding.torque_register import register
from builderlog.deciding.torque_words import held_words, name_of, setting_words, torque_words
from tests.deciding.torque_entries import journal, torqued

DASH = "\N{EN DASH}"
ALWAYS = "AC 43.13-1B par. 7-40 d (the drag is always added)"
THIRD = "TB 43-0218 par. 7 c (the drag is added from one third of the torque on)"
SETTINGS = [
    (("22 in-lb", "4 in-lb", "26 in-lb"), f"Agrees with {ALWAYS}."),
    (("22 in-lb", "4 in-lb", "22 in-lb"), f"Agrees with {THIRD}."),
    (("24 in-lb", "8 in-lb", "32 in-lb"), f"Agrees with {ALWAYS} and {THIRD}."),
    (
        ("22 in-lb", "4 in-lb", "25 in-lb"),
        f"Agrees within 4 % (common practice for wrenches) with {ALWAYS}.",
    ),
    (
        ("50..70 in-lb", "10 in-lb", "100 in-lb"),
        (
            f"Agrees with no published drag rule: 60{DASH}80 in-lb (6.78{DASH}9.04 N·m) "
            f"by {ALWAYS}, 50{DASH}70 in-lb (5.65{DASH}7.91 N·m) by {THIRD}."
        ),
    ),
    (
        ("24 in-lb", "8 in-lb", "24 in-lb"),
        f"Agrees with no published drag rule: 32 in-lb (3.62 N·m) by {ALWAYS} and {THIRD}.",
    ),
    (
        ("3 N·m", None, "5 N·m"),
        "Agrees with no published drag rule: 3 N·m (26.6 in-lb) without drag.",
    ),
    (("3 N·m", None, "3 N·m"), "Set as asked; no drag is on record, so no drag rule shows."),
    (
        ("30 N·m", None, "31 N·m"),
        "Set as asked within 4 %; no drag is on record, so no drag rule shows.",
    ),
    (
        ("3 N·m", "1 mm", "3 N·m"),
        "The setting cannot be held against the drag rules: one of its values is no torque.",
    ),
]


@pytest.mark.parametrize(("values", "words"), SETTINGS)
def test_a_setting_in_words(values: tuple[str, str | None, str], words: str) -> None:
    """Which rule it agrees with, or that it agrees with none and what each would have shown."""
    to, drag, shown = values
    said = {"to": to, "set": shown} | ({"drag": drag} if drag else {})
    assert setting_words(judge_setting(torqued(**said), None)) == words


def test_an_extension_is_told() -> None:
    """What was reckoned through an extension says so, agreeing or not."""
    said = {"to": "20 in-lb", "drag": "0 in-lb", "extension": "2 in on 8 in"}
    found = [
        setting_words(judge_setting(torqued(**said, set=shown), None))
        for shown in ("16 in-lb", "20 in-lb")
    ]
    assert found[0] == f"Agrees through the extension with {ALWAYS} and {THIRD}."
    assert found[1].startswith("Agrees with no published drag rule through the extension: 16")


@pytest.mark.parametrize(
    ("to", "words"),
    [
        ("13 in-lb", f"Within Table 7-1 (10-32, shear-type nut: 12{DASH}15 in-lb"),
        ("11 in-lb", f"Below Table 7-1 (10-32, shear-type nut: 12{DASH}15 in-lb"),
        ("16 in-lb", f"Above Table 7-1 (10-32, shear-type nut: 12{DASH}15 in-lb"),
        ("26 in-lb", "Above even the limit of Table 7-1 (10-32, shear-type nut: 25 in-lb"),
    ],
)
def test_the_table_in_words(tmp_path: Path, to: str, words: str) -> None:
    """How a value stands to its column; outside of it the manuals are named as what prevails."""
    entry = f"where: steel strap, bolt: AN3-5A, nut: shear, threads: dry, to: {to}"
    (group,) = register(journal(tmp_path, {"2026-03-01": f"torqued: {{{entry}}}"}))
    told = held_words(group)
    assert told.startswith(words)
    prevails = "; the kit's and the part maker's manual prevails." in told
    assert prevails == (not words.startswith("Within"))


def test_a_torque_is_told_in_both_systems() -> None:
    """In newton metres with inch-pounds beside, every other unit with newton metres."""
    one, two = Range(Fraction(3), Fraction(3)), Range(Fraction(3), Fraction(4))
    assert torque_words(one, "N·m") == "3 N·m (26.6 in-lb)"
    assert torque_words(two, "ft-lb") == f"3{DASH}4 ft-lb (4.07{DASH}5.42 N·m)"


def test_fasteners_have_a_name() -> None:
    """Where and which bolt, as far as the entry says."""
    assert name_of(torqued(where="hinge", bolt="AN3")) == "hinge, AN3"
    assert name_of(torqued(bolt="AN3")) == "AN3"
    assert name_of(torqued()) == "fasteners not named"
