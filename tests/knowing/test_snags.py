"""Snags numbered and put right; the cases of it stand in tests/cases/journals.txt."""

from __future__ import annotations

from builderlog.knowing.entries import FixedLine, Note, SnagLine
from builderlog.knowing.snags import TOLD, number_snags
from builderlog.reading.problem import Place
from tests.making import NOWHERE, day, note, word


def note_with(on: str, snags: int = 0, *fixed: str) -> Note:
    """A note with so many snags, and with numbers put right."""
    bare = note(on)
    found = tuple(SnagLine(word(f"s{at}"), Place(bare.path, 2, at + 1)) for at in range(snags))
    lines = tuple(FixedLine(word(number), NOWHERE) for number in fixed)
    return Note(bare.path, bare.place, day(on), snags=found, fixed=lines)


def test_a_long_list_of_open_snags_is_not_told_whole() -> None:
    """A number that no snag has is told with the newest open ones, and with no more than a few."""
    notes = [note_with("2026-03-14", 40), note_with("2026-03-15", 0, "2026-03-14.40", "x")]
    snags, problems = number_snags(notes)
    assert len(snags) == 40
    (problem,) = problems
    newest = ", ".join(f"2026-03-14.{number}" for number in range(39, 39 - TOLD, -1))
    assert problem.message == f"there is no snag x; the newest open ones are {newest}"


def test_a_snag_fixed_before_and_after_keeps_the_last() -> None:
    """A snag put right twice has its newest fix, and the second is a doubt."""
    notes = [
        note_with("2026-03-14", 1),
        *(note_with(on, 0, "2026-03-14.1") for on in ("2026-03-15", "2026-03-16")),
    ]
    (snag,), (problem,) = number_snags(notes)
    assert (snag.fixed_in, problem.code) == ("notes/2026-03-16.md", "fixed-twice")
