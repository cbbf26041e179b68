"""Adapters on a torque wrench, and the wrench's own length, as the builder writes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.knowing.extensions import parse_extension, parse_wrench_length
from builderlog.knowing.units import UnreadableError
from tests.knowing.journals import JOURNAL, ledger_of

READ = {
    "50 mm": ("50 mm", None),
    " 40mm on 300mm ": ("40mm", "300mm"),
    "2 in on 10 in": ("2 in", "10 in"),
    "2-1/2 in on a 10 in wrench": ("2-1/2 in", "10 in"),
    "-1.5 in on 10 in": ("-1.5 in", "10 in"),
    "\N{MINUS SIGN}1,5 cm": ("\N{MINUS SIGN}1,5 cm", None),
    "50 mm at 90°": (None, None),
    "50 mm at 90 deg on 240 mm": (None, "240 mm"),
    "2 in, 90 degrees": (None, None),
    "crowfoot at a right angle": (None, None),
    "None": (None, None),
    "no": (None, None),
}
NOT_READ = (
    *("", "none of it", "a long one", "2 in on", "2 lb", "1..2 in", "<= 2 in", "50 mm at 45 deg"),
    *("50 mm at 190°", "50 mm, not at a right angle", "2 in on 0 in", "2 in on -10 in"),
)


@pytest.mark.parametrize(("text", "found"), READ.items(), ids=READ)
def test_an_extension_is_read(text: str, found: tuple[str | None, str | None]) -> None:
    """How much longer the wrench got, and its own length where the words say it."""
    read = parse_extension(text)
    lengths = (read.longer, read.wrench)
    assert tuple(each.written if each else None for each in lengths) == found


@pytest.mark.parametrize("text", NOT_READ)
def test_what_is_no_extension_is_refused_with_what_to_write(text: str) -> None:
    """Nothing is guessed: the sentence quotes the words and says how to write them."""
    with pytest.raises(UnreadableError) as told:
        parse_extension(text)
    assert str(told.value) == (
        f"'{text}' does not tell how much longer the wrench got; write 2 in on 10 in, 50 mm, "
        "-1.5 in where it shortens the wrench, or 50 mm at 90°"
    )


def test_a_wrench_has_a_length_above_nought() -> None:
    """A length of nought, a range and a mass are no length of a wrench."""
    assert parse_wrench_length("240 mm").written == "240 mm"
    for text in ("0 mm", "-1 mm", "1..2 mm", "2 kg", "> 2 mm"):
        with pytest.raises(UnreadableError, match="write 240 mm or 10 in"):
            parse_wrench_length(text)


def test_a_wrench_is_declared_with_its_length(tmp_path: Path) -> None:
    """journal.yaml gives a wrench its length; one that is none is told at its place."""
    wrenches = "wrenches: {a: {length: 240 mm, calibrated: 2026-01-15}, b: {length: long}, c: }"
    ledger = ledger_of(tmp_path, {"journal.yaml": f"{JOURNAL}{wrenches}\n"})
    found = [each.length.written if each.length else None for each in ledger.settings.wrenches]
    assert found == ["240 mm", None, None]
    told = [(each.place.line, each.code, each.message) for each in ledger.problems]
    assert told == [
        (
            5,
            "unreadable",
            "'long' is not a measurement; write 18 mm, 17..19 mm, <= 1 mm or 40 mm ± 0.5",
        )
    ]
