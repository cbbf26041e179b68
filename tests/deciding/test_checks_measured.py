"""Measurements beyond their limits, and materials past their last day."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.checks import judge
from builderlog.deciding.measurements import measurements
from builderlog.knowing.ledger import Ledger
from tests.deciding.torque_entries import journal

CODES = ("outside-limit", "units-differ", "expired-material")


def told(book: Ledger) -> list[tuple[str, str]]:
    """Code and sentence of what the checks here tell."""
    return [(each.code, each.message) for each in judge(book) if each.code in CODES]


def test_a_value_beyond_its_limit_is_a_doubt(tmp_path: Path) -> None:
    """It is told in both systems; one inside, one without limit and one without value are not."""
    rows = "{what: gap, value: 2 mm, limit: <= 1 mm}, {what: a, value: 1 mm, limit: <= 1 mm}"
    note = f"measured: [{rows}, {{what: b, value: 9 mm}}, {{what: c, limit: 9 mm}}]"
    assert told(journal(tmp_path, {"2026-03-01": note})) == [
        (
            "outside-limit",
            (
                "gap: 2 mm (0.0787 in) is outside its limit, <= 1 mm (<= 0.0394 in); write it "
                "under snags, too, or mend one of the two"
            ),
        )
    ]


def test_a_value_of_another_kind_cannot_be_held(tmp_path: Path) -> None:
    """A length and a mass are told to be of two kinds."""
    note = "measured: {what: gap, value: 2 mm, limit: <= 1 kg}"
    assert told(journal(tmp_path, {"2026-03-01": note})) == [
        (
            "units-differ",
            (
                "gap: 2 mm (0.0787 in) cannot be held against <= 1 kg (<= 2.20 lb); write both in "
                "units of one kind"
            ),
        )
    ]


def test_a_fault_that_is_a_snag_or_measured_again_is_no_doubt(tmp_path: Path) -> None:
    """Who wrote the fault down, or measured again in a later note, needs no reminder."""
    fault = "measured: {what: Gap, value: 2 mm, limit: <= 1 mm}"
    again = "measured: {what: ' gap', value: 1 mm, limit: <= 1 mm}"
    assert told(journal(tmp_path / "a", {"2026-03-01": f"{fault}\nsnags: too wide"})) == []
    book = journal(tmp_path / "b", {"2026-03-01": fault, "2026-03-02": again})
    assert told(book) == []
    assert [str(each.again) for each in measurements(book)] == ["2026-03-02", "None"]
    late = journal(tmp_path / "c", {"2026-03-01": again, "2026-03-02": fault})
    assert len(told(late)) == 1


def test_two_sides_in_one_note_are_two(tmp_path: Path) -> None:
    """The same words twice in one note are two measurements: the good one hides no bad one."""
    rows = "{what: gap, value: 2 mm, limit: <= 1 mm}, {what: gap, value: 1 mm, limit: <= 1 mm}"
    assert len(told(journal(tmp_path, {"2026-03-01": f"measured: [{rows}]"}))) == 1


def test_a_material_past_its_last_day_is_a_doubt(tmp_path: Path) -> None:
    """On its last day it may still be used, on the next one it is told."""
    rows = "{what: primer, expires: 2026-02}, {expires: 2026-03-01}, {what: glue}"
    notes = {
        "2026-02-28": f"process: [{rows}]",
        "2026-03-01": f"process: [{rows}]",
        "2026-03-02": "process: {expires: 2026-03-01}",
    }
    mend = "mend the date, or say in the note why it was used"
    assert told(journal(tmp_path, notes)) == [
        (
            "expired-material",
            f"primer was used on 2026-03-01, after its last day, 2026-02-28; {mend}",
        ),
        (
            "expired-material",
            f"the material was used on 2026-03-02, after its last day, 2026-03-01; {mend}",
        ),
    ]


def test_hidden_notes_measure_nothing(tmp_path: Path) -> None:
    """Of a note of which only the time reaches anyone no measurement is told."""
    note = "hours: 1h\nmeasured: {what: gap, value: 2 mm, limit: <= 1 mm}\nprivate: hours only"
    assert measurements(journal(tmp_path, {"2026-03-01": note})) == ()
