"""Checks of time that need many notes; the others stand in tests/cases/journals.txt."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.checks_time import LONG_DAY, long_days, overlapping_spans
from builderlog.knowing.entries import Note, PersonHours, TaskLine
from builderlog.knowing.units import DAY, Length, Span
from builderlog.reading.problem import Place
from tests.examples import many
from tests.making import day, ledger, note, word, worked

Spans = list[tuple[int, int]]


def note_with(on: str, hours: Spans, tasks: Spans) -> Note:
    """A note of Ines with spans in hours and in tasks, each (start, length) in minutes."""
    bare = note(on)
    made = [Span(start * 60, (start + length) * 60) for start, length in hours]
    whole = Length(sum(span.end - span.start for span in made), tuple(made))
    lines = tuple(
        TaskLine(
            word("W14"),
            Place(bare.path, 5 + at),
            Length(length * 60, (Span(start * 60, (start + length) * 60),)),
        )
        for at, (start, length) in enumerate(tasks)
    )
    told = (PersonHours(None, whole, Place(bare.path, 2)),) if made else ()
    return replace(bare, hours=told, tasks=lines)


SPANS = st.lists(st.tuples(st.integers(0, 1439), st.integers(1, 300)), max_size=3)
NOTES = st.dictionaries(
    st.sampled_from(["2026-03-14", "2026-03-15", "2026-03-16"]), st.tuples(SPANS, SPANS)
)


@given(NOTES)
@settings(max_examples=many(200), deadline=None)
def test_an_overlap_is_told_where_there_is_one(written: dict[str, tuple[Spans, Spans]]) -> None:
    """Spans that share time are told exactly where comparing each with each other finds some."""
    notes = [note_with(on, *spans) for on, spans in written.items()]
    found = list(overlapping_spans(ledger(notes=notes)))
    every = [
        (day(on).toordinal() * 1440 + start, length, on, kind)
        for on, lists in written.items()
        for kind, spans in enumerate(lists)
        for start, length in spans
    ]
    clashes = [
        (one, other)
        for one, other in combinations(every, 2)
        if one[0] < other[0] + other[1]
        and other[0] < one[0] + one[1]
        # A task's span may lie in the hours of its own note.
        and not (one[2] == other[2] and one[3] != other[3])
    ]
    assert bool(found) == bool(clashes)
    assert len(found) <= len(clashes)


def test_thousands_of_overlaps_are_told() -> None:
    """Spans are not compared each with each other; every one but the first is told."""
    crowd = note_with("2026-03-14", [], [(60, 60)] * 5_000)
    assert len(list(overlapping_spans(ledger(notes=[crowd])))) == 4_999


@given(st.lists(st.integers(1, DAY), min_size=1, max_size=4))
def test_a_day_is_judged_over_all_its_notes(seconds: list[int]) -> None:
    """Over 24 hours is a mistake, over 16 a doubt, however many entries they stand in."""
    rows = [worked("2026-03-14", each) for each in seconds]
    codes = [each.code for each in long_days(ledger(work=rows))]
    whole = sum(seconds)
    assert codes == (["day-too-long"] if whole > DAY else ["long-day"] if whole > LONG_DAY else [])


def test_two_people_and_two_days_are_judged_apart() -> None:
    """Neither another person's hours nor another day's count against a day."""
    rows = [worked("2026-03-14", LONG_DAY, person=name) for name in ("Ines", "Tomas")]
    rows.append(worked("2026-03-15", LONG_DAY))
    assert list(long_days(ledger(work=rows))) == []
