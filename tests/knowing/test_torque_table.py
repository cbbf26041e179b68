"""Which thread a bolt's words mean: read where they are sure, never guessed."""

from __future__ import annotations

import pytest

from builderlog.knowing.torque_table import ROWS, Nut, bolt_of

KNOWN = {
    "AN3-5A": "10-32",
    "AN3": "10-32",
    "an 4-7": "1/4-28",
    "AN-6-10": "3/8-24",
    "AN3H-5A bolt": "10-32",
    "AN4C7A": "1/4-28",
    "AN10-20A.": "5/8-18",
    "AN12-20": "3/4-16",
    "AN4-7 with AN310-4": "1/4-28",
    "MS20365-1032 on AN3-6A": "10-32",
    "AN3-5A (10-32)": "10-32",
    "#10-32": "10-32",
    "No. 10-32 screw": "10-32",
    "10-32 x 1-1/4": "10-32",
    "1/4-28 UNF": "1/4-28",
    "5/16-18": "5/16-18",
    "1-14": "1-14",
    "1-1/4-12": "1-1/4-12",
}
UNKNOWN = {
    "AN11-5": "tells no thread",
    "AN14-20": "tells no thread",  # its thread is not among those that are sure
    "AN42-10": "tells no thread",
    "AN310-3": "tells no thread",  # a nut
    "AN3.5": "tells no thread",
    "NAS1103-5": "tells no thread",
    "M6": "tells no thread",
    "110-32": "tells no thread",
    "1-8-32": "tells no thread",
    "11-1/4-12": "tells no thread",
    "10-32.5": "tells no thread",
    "BAN3-5": "tells no thread",
    "hardware of the kit": "tells no thread",
    "AN3-5A and AN4-7": "names two threads",
    "AN3-5A, 1/4-28 nut": "names two threads",
    "AN3DD5A": "aluminium alloy",
    "an4hdd-7": "aluminium alloy",
    "AN23-11": "clevis bolt",
    "AN36-11, 10-32": "clevis bolt",
    "Clevis bolt 10-32": "clevis bolt",
}


@pytest.mark.parametrize(("words", "thread"), KNOWN.items(), ids=KNOWN)
def test_a_bolt_that_is_sure_has_its_thread(words: str, thread: str) -> None:
    """A designation or a thread in a bolt's words leads to one row of the table."""
    bolt = bolt_of(words)
    assert (bolt.thread, bolt.row, bolt.clevis) == (thread, ROWS[thread], False)


@pytest.mark.parametrize(("words", "why"), UNKNOWN.items(), ids=UNKNOWN)
def test_a_bolt_that_is_not_sure_has_none(words: str, why: str) -> None:
    """What may mean another thread, several or none has none, and says why."""
    bolt = bolt_of(words)
    assert (bolt.thread, bolt.row, bolt.clevis) == (None, None, why == "clevis bolt")
    assert why in bolt.why


def test_all_clevis_bolts_are_left_out() -> None:
    """AN21 to AN36 are clevis bolts, their neighbours are not (memory)."""
    clevis = [n for n in range(1, 100) if bolt_of(f"AN{n}-5").clevis]
    assert clevis == list(range(21, 37))


def test_the_table_makes_sense_within_itself() -> None:
    """Every range runs upwards and ends at or below its limit; a shear nut gets less."""
    for row in ROWS.values():
        for nut in Nut:
            low, high = row.recommended(nut)
            assert 0 < low < high <= row.limit(nut)
        assert row.shear < row.tension
        assert row.shear_limit < row.tension_limit
    assert [thread for thread, row in ROWS.items() if row.estimated(Nut.SHEAR)] == [
        "1-14",
        "1-1/8-12",
        "1-1/4-12",
    ]
    assert not any(row.estimated(Nut.TENSION) for row in ROWS.values())
