"""Parts that move along; the cases of it stand in tests/cases/journals.txt."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.entries import Note, PartLine, PartStatus
from builderlog.knowing.parts import follow_parts
from tests.making import NOWHERE, day, note, word

STATUSES = tuple(PartStatus)


def notes_of(*lines: tuple[str, str | None, PartStatus | None]) -> list[Note]:
    """One note with these entries, each a part, its number and its status."""
    bare = note("2026-03-14")
    parts = tuple(
        PartLine(word(name), NOWHERE, ref=word(ref) if ref else None, status=status)
        for name, ref, status in lines
    )
    return [Note(bare.path, bare.place, day("2026-03-14"), parts=parts)]


LINES = st.lists(
    st.tuples(
        st.sampled_from(["bolt", "nut"]),
        st.sampled_from([None, None, "S-1", "S-2"]),
        st.sampled_from([None, *STATUSES]),
    ),
    max_size=14,
)


@given(LINES)
def test_every_entry_belongs_to_one_lot(
    lines: list[tuple[str, str | None, PartStatus | None]],
) -> None:
    """No entry is lost or counted twice, and each lot is of one name and one number."""
    notes = notes_of(*lines)
    parts = follow_parts(notes)
    events = [event.line for part in parts for event in part.events]
    assert sorted(map(id, events)) == sorted(map(id, notes[0].parts))
    for part in parts:
        names = {(each.line.part.text, str(each.line.ref or "")) for each in part.events}
        assert names == {(part.name, part.ref or "")}


@given(LINES)
def test_without_a_number_a_lot_only_moves_forward(
    lines: list[tuple[str, str | None, PartStatus | None]],
) -> None:
    """The statuses of a lot without a number come one after another; a number makes one thing."""
    parts = follow_parts(notes_of(*lines))
    for part in parts:
        statuses = [event.line.status for event in part.events]
        if part.ref is None and len(statuses) > 1:
            order = [STATUSES.index(status) for status in statuses if status]
            assert order == sorted(set(order))
            assert len(order) == len(statuses)
    numbered = [(part.name, part.ref) for part in parts if part.ref]
    assert len(numbered) == len(set(numbered))


def test_the_oldest_lot_moves_first() -> None:
    """Of several lots that could move along the one that was written first does."""
    received, fitted = PartStatus.RECEIVED, PartStatus.FITTED
    wanted = PartStatus.WANTED
    parts = follow_parts(
        notes_of(
            ("bolt", None, received),
            ("bolt", None, wanted),
            ("bolt", None, received),
            ("bolt", None, fitted),
        )
    )
    assert [[event.line.status for event in part.events] for part in parts] == [
        [received, fitted],
        [wanted, received],
    ]


def test_thousands_of_lots_of_one_name() -> None:
    """A lot is found without looking at all others of its name."""
    wanted, fitted = PartStatus.WANTED, PartStatus.FITTED
    lines = [("rivet", None, status) for status in (wanted, fitted) for _ in range(10_000)]
    parts = follow_parts(notes_of(*lines))
    assert len(parts) == 10_000
    assert all(part.status is fitted for part in parts)
