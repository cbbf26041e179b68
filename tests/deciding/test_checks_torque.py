"""What `check` tells of torque: each sentence whole, and silence where nothing is to be told."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_torque import torque_problems
from builderlog.reading.problem import Weight
from tests.deciding.torque_entries import journal

DASH = "\N{EN DASH}"
SURE = "where: steel bracket, bolt: AN3-5A, nut: tension, threads: dry"
TOLD = {
    f"{SURE}, to: 26 in-lb": (
        "torque-outside-table",
        (
            f"steel bracket, AN3-5A: 26 in-lb (2.94 N·m) is above the recommended 20{DASH}25 in-lb "
            f"(2.26{DASH}2.82 N·m) of FAA AC 43.13-1B (8 September 1998), Table 7-1, for a 10-32 "
            "thread with a tension-type nut, oil-free. The kit's and the part maker's manual "
            "prevails: name it in source: if it asks for this, else mend to:"
        ),
    ),
    f"{SURE}, to: 50 in-lb": (
        "torque-over-limit",
        (
            "steel bracket, AN3-5A: 50 in-lb (5.65 N·m) is above even the limit of 40 in-lb (4.52 "
            "N·m) of FAA AC 43.13-1B (8 September 1998), Table 7-1, for a 10-32 thread with a "
            "tension-type nut, oil-free. The kit's and the part maker's manual prevails: name it "
            "in source: if it asks for this, else mend to:"
        ),
    ),
    "where: left hinge, to: 22 in-lb, drag: 4 in-lb, set: 30 in-lb": (
        "torque-setting",
        (
            "left hinge: set to 30 in-lb (3.39 N·m), but it should be 26 in-lb (2.94 N·m) by AC "
            "43.13-1B par. 7-40 d (the drag is always added), 22 in-lb (2.49 N·m) by TB 43-0218 "
            "par. 7 c (the drag is added from one third of the torque on); mend to:, drag: or "
            "set:, or say in the note why it differs"
        ),
    ),
    "where: left hinge, to: 22 in-lb, set: 26 in-lb": (
        "torque-setting",
        (
            "left hinge: set to 26 in-lb (2.94 N·m), but it should be 22 in-lb (2.49 N·m) without "
            "drag; write drag: if it was added, or say in the note why it differs"
        ),
    ),
    "to: 20 N·m, drag: 8 N·m, set: 20 N·m, extension: 50 mm on 200 mm": (
        "torque-setting",
        (
            "fasteners not named: set to 20 N·m (177 in-lb), but through the extension it should "
            "be 22.4 N·m (198 in-lb) by AC 43.13-1B par. 7-40 d (the drag is always added) and TB "
            "43-0218 par. 7 c (the drag is added from one third of the torque on); mend to:, "
            "drag: or set:, or say in the note why it differs"
        ),
    ),
    "where: left hinge, to: 22 mm": (
        "no-torque",
        "to: '22 mm' is no torque; write it in in-lb, ft-lb or N·m",
    ),
    "where: left hinge, extension: the long one": (
        "extension-unread",
        (
            "'the long one' does not tell how much longer the wrench got; write 2 in on 10 in, 50 "
            "mm, -1.5 in where it shortens the wrench, or 50 mm at 90°"
        ),
    ),
    "where: left hinge, extension: 50 mm, wrench: one": (
        "wrench-length-unknown",
        (
            "'50 mm' changes what the wrench must show, and its own length is not on record; write "
            "extension: 50 mm on 240 mm with the true length, or give it once in journal.yaml: "
            "wrenches: {one: {length: 240 mm}}"
        ),
    ),
}


@pytest.mark.parametrize(("entry", "told"), TOLD.items(), ids=[code for code, _ in TOLD.values()])
def test_a_doubt_says_what_was_found_and_what_to_write(
    tmp_path: Path, entry: str, told: tuple[str, str]
) -> None:
    """One entry gives one sentence: what was found, what is wrong, what to write."""
    book = journal(tmp_path, {"2026-03-01": f"torqued: {{{entry}}}"})
    found = [(problem.code, problem.message) for problem in torque_problems(book)]
    assert found == [told]
    assert all(problem.weight is not Weight.MISTAKE for problem in torque_problems(book))


SILENT = (
    f"{SURE}, to: 22 in-lb, drag: 3 in-lb, set: 25 in-lb, wrench: one",
    f"{SURE}, to: 22 in-lb, drag: 3 in-lb, set: 22 in-lb, wrench: one",
    f"{SURE}, to: 50 in-lb, source: kit manual 3-4",
    "where: steel bracket, bolt: AN23-5, nut: shear, threads: dry, to: 500 in-lb",
    "where: spruce spar, bolt: AN3-5A, nut: tension, threads: dry, to: 5 in-lb",
    "where: hinge, bolt: AN3-5A, nut: tension, threads: dry, to: 500 in-lb",
    "where: hinge, bolt: AN3-5A, nut: other, threads: oiled, to: 50 in-lb",
    "where: hinge, to: 20 in-lb, drag: 3 in-lb, set: 19 in-lb, extension: 50 mm, wrench: long",
    "where: hinge, extension: 50 mm at 90°",
    "where: hinge",
)


@pytest.mark.parametrize("entry", SILENT)
def test_where_nothing_is_wrong_nothing_is_told(tmp_path: Path, entry: str) -> None:
    """A maker's value, wood, clevis bolts and joints of unknown stuff are never judged."""
    wrenches = "{one: 2026-01-15, long: {calibrated: 2026-01-15, length: 240 mm}}"
    book = journal(tmp_path, {"2026-03-01": f"torqued: {{{entry}}}"}, wrenches)
    assert [*torque_problems(book)] == []


def test_what_was_done_again_is_told_no_more(tmp_path: Path) -> None:
    """A wrong value that a later note puts right is no doubt any longer."""
    notes = {
        "2026-03-01": f"torqued: {{{SURE}, to: 50 in-lb}}",
        "2026-03-02": f"torqued: {{{SURE}, to: 22 in-lb}}",
    }
    assert [*torque_problems(journal(tmp_path, notes))] == []


def test_a_wrench_out_of_date_is_told_once_for_each_calibration(tmp_path: Path) -> None:
    """More than a year after its calibration, or before any, a wrench is told where first used."""
    entry = "torqued: {where: a, wrench: one}\n"
    days = ("2026-01-14", "2027-01-15", "2027-01-16", "2027-02-01", "2027-02-02")
    notes = dict.fromkeys(days, entry)
    notes["2027-02-02"] = "torqued: [{where: b, wrench: one}, {where: c, wrench: other}]"
    book = journal(tmp_path, notes, "{one: 2026-01-15, other: }")
    found = [(p.code, p.place.path, p.weight.value, p.message) for p in torque_problems(book)]
    asks = (
        "AC 43.13-1B par. 7-40 a asks for one at least once a year. Write the days in "
        "journal.yaml: wrenches"
    )
    assert sorted(found) == [
        (
            "wrench-not-calibrated",
            "notes/2026-01-14.md",
            "gap",
            "'one' was used on 2026-01-14 and has no calibration on record before; " + asks,
        ),
        (
            "wrench-not-calibrated",
            "notes/2027-01-16.md",
            "gap",
            "'one' was used on 2027-01-16 (and on 2 more days) and was last calibrated on "
            "2026-01-15; " + asks,
        ),
        (
            "wrench-not-calibrated",
            "notes/2027-02-02.md",
            "gap",
            "'other' was used on 2027-02-02 and has no calibration on record before; " + asks,
        ),
    ]


def test_check_tells_them(tmp_path: Path) -> None:
    """The doubts about torque are among everything that `check` tells."""
    book = journal(tmp_path, {"2026-03-01": f"torqued: {{{SURE}, to: 50 in-lb}}"})
    assert "torque-over-limit" in [problem.code for problem in judge(book)]
