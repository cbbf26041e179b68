"""When a task could be seen, by the openings and closings that notes tell of."""

from __future__ import annotations

import pytest

from builderlog.deciding.task_record import Closing
from builderlog.deciding.visible import could_be_seen, hiding
from tests import making


def closings(told: str) -> list[Closing]:
    """`c03 o05` is closed on the third of March 2026 and opened again on the fifth."""
    return [
        Closing(making.note(f"2026-03-{each[1:]}"), making.word("W"), each[0] == "c")
        for each in told.split()
    ]


@pytest.mark.parametrize(
    ("told", "hidden_since"),
    [
        ("", None),
        ("c03", "2026-03-03"),
        ("c03 o05", None),
        ("c03 o05 c07", "2026-03-07"),
        ("c03 c05", "2026-03-03"),
        ("o03", None),
        ("o03 o04 c05", "2026-03-05"),
    ],
)
def test_the_closing_that_hides(told: str, hidden_since: str | None) -> None:
    """It is the first since the last opening; closed twice it is hidden since the first time."""
    closing = hiding(closings(told))
    assert (str(closing.note.day) if closing else None) == hidden_since


@pytest.mark.parametrize(
    ("told", "seen", "hidden"),
    [
        ("", "01 09", ""),
        ("c03", "01 03", "04 09"),
        ("c03 o05", "03 05 09", "04"),
        ("c03 o05 c07", "03 05 06 07", "04 08"),
        ("c03 c05", "03", "04 05 06"),
        ("c03 o05 o06", "05 06 07", "04"),
    ],
)
def test_the_days_on_which_it_could_be_seen(told: str, seen: str, hidden: str) -> None:
    """The days of opening and closing are among them, and after the last opening all."""
    asked = closings(told)
    assert all(could_be_seen(asked, making.day(f"2026-03-{day}")) for day in seen.split())
    assert not any(could_be_seen(asked, making.day(f"2026-03-{day}")) for day in hidden.split())
