"""Next steps as last written: an area's newest note that has any speaks for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.deciding.next_steps import last_written
from builderlog.knowing.entries import Note
from tests import making


def note(told: str) -> Note:
    """`03 E1 W1: one` is the note of 3 March that works on two tasks and says one thing next."""
    head, _, step = told.partition(":")
    day, *tasks = head.split()
    steps = (making.word(step.strip()),) if step else ()
    return replace(making.note(f"2026-03-{day}", *tasks), next_steps=steps)


@pytest.mark.parametrize(
    ("notes", "expected"),
    [
        ("01 E1: a", "E a"),
        ("01 E1: a | 02 E1: b", "E b"),
        ("01 E1: a | 02 E1", "E a"),
        ("01 E1: a | 02 W1: b", "W b | E a"),
        ("01 E1 W1: a | 02 W1: b", "W b | E a"),
        ("01 E1: a | 02 E1 W1: b", "EW b"),
        ("01: a | 02 E1: b", "E b | a"),
        ("01: a | 02: b", "b"),
        ("01 E1", ""),
    ],
)
def test_an_area_has_its_newest(notes: str, expected: str) -> None:
    """A later note without any leaves it; what is of no area stands apart."""
    told = [note(each) for each in notes.split("|")]
    found = last_written(told, lambda each: (line.task.text[0] for line in each.tasks))
    said = [f"{''.join(areas)} {each.next_steps[0]}".strip() for each, areas in found]
    assert " | ".join(said) == expected
