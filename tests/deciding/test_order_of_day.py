"""The order of the notes of one day: by the clock, else by name; the record keeps its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.order_of_day import in_order_of_day
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.entries import Note, PersonHours, Privacy, SnagLine
from builderlog.knowing.settings import DAY_ENDS
from builderlog.knowing.snags import number_snags
from builderlog.knowing.units import parse_length
from builderlog.reading.problem import Place
from tests.making import ledger, settings, word
from tests.making import note as made

DAY = "2026-03-14"
PLACE = Place("notes/x.md")


def note(told: str) -> Note:
    """`2026-03-14-skins 19:10-20:00` is a note of that file name, with these hours."""
    name, _, hours = told.strip().partition(" ")
    path = f"notes/{name}.md"
    lines = tuple(PersonHours(None, parse_length(each), PLACE) for each in hours.split())
    return replace(made(DAY), path=path, place=Place(path), hours=lines)


def in_order(told: str, ends: time = DAY_ENDS) -> list[str]:
    """The file names in their order, without folder, date and ending."""
    notes = [note(each) for each in told.split("|")]
    orders = {
        tuple(each.path for each in in_order_of_day(order, ends)) for order in permutations(notes)
    }
    assert len(orders) == 1, "the order in which files are found changes nothing"
    return [path.removeprefix(f"notes/{DAY}").removesuffix(".md") for path in orders.pop()]


@pytest.mark.parametrize(
    ("notes", "expected"),
    [
        ("2026-03-14 | 2026-03-14-the-first-evening", ["-the-first-evening", ""]),
        ("2026-03-14-2 | 2026-03-14 | 2026-03-14-10", ["", "-2", "-10"]),
        ("2026-03-14-rib-10 | 2026-03-14-rib-2 | 2026-03-14-rib", ["-rib", "-rib-2", "-rib-10"]),
        ("2026-03-14 | 2026-03-14-rib-2 | 2026-03-14-2", ["-rib-2", "", "-2"]),
        ("2026-03-14-web | 2026-03-14-rib", ["-rib", "-web"]),
        ("2026-03-14_2 | 2026-03-14 2 2", ["", "_2"]),
        ("2026-03-14-rib 20:00-21:00 | 2026-03-14-web 9:00-12:00", ["-web", "-rib"]),
        ("2026-03-14 9:00-10:00 | 2026-03-14-web 19:00-20:00", ["", "-web"]),
        ("2026-03-14-a 20:00-21:00 | 2026-03-14-b 2 | 2026-03-14-c 9:00-10:00", ["-c", "-b", "-a"]),
        ("2026-03-14-a 20:00-21:00 9:00-9:30 | 2026-03-14-b 10:00-11:00", ["-a", "-b"]),
        ("2026-03-14-a 0:10-1:30 | 2026-03-14-b 19:00-23:50", ["-b", "-a"]),
        ("2026-03-14-a 4:00-5:00 | 2026-03-14-b 19:00-23:50", ["-a", "-b"]),
        ("2026-03-14-b 9:00-10:00 | 2026-03-14-a 9:00-10:00", ["-a", "-b"]),
    ],
)
def test_the_clock_decides_and_then_the_name(notes: str, expected: list[str]) -> None:
    """Spans first; a number counts as a number; a name that is but the date comes last."""
    assert in_order(notes) == expected


def test_where_the_day_ends_is_the_journals_word() -> None:
    """With `day ends: 0:00` ten past midnight is the morning of that day."""
    told = "2026-03-14-a 0:10-1:30 | 2026-03-14-b 19:00-23:50"
    assert in_order(told, time(0)) == ["-a", "-b"]


NAMES = st.sampled_from(["", "-2", "-10", "-a", "-a-2", "-b", "-b-10", "-c"])
HOURS = st.sampled_from(["", " 2", " 9:00-10:00", " 19:00-20:00", " 4:00-5:00"])


@given(st.dictionaries(NAMES, HOURS))
def test_none_is_lost_and_the_clock_never_runs_back(told: dict[str, str]) -> None:
    """Each note is there once, and those that have spans follow each other by the clock."""
    notes = [note(f"{DAY}{name}{hours}") for name, hours in told.items()]
    found = in_order_of_day(notes, DAY_ENDS)
    assert sorted(each.path for each in found) == sorted(each.path for each in notes)
    lengths = [hours.length for each in found for hours in each.hours]
    starts = [length.spans[0].start for length in lengths if length.spans]
    assert starts == sorted(starts)


def test_a_private_note_moves_no_other() -> None:
    """The public notes of a day stand as if it were not there, whatever its clock says."""
    shown = [note("2026-03-14-a 20:00-21:00"), note("2026-03-14-b"), note("2026-03-14")]
    hidden = replace(note("2026-03-14-c 9:00-10:00"), privacy=Privacy.PRIVATE)
    alone, beside = (
        [each.key for each in public_ledger(ledger(notes=notes)).notes]
        for notes in (shown, [*shown, hidden])
    )
    assert alone == beside == ["2026-03-14-a", "2026-03-14-b", "2026-03-14-note"]


def test_numbers_of_snags_stay_by_the_records_own_order() -> None:
    """A snag's place on its day is that of the file's name, on the site too, clock or not."""
    late, early = note("2026-03-14-a 20:00-21:00"), note("2026-03-14-b 9:00-10:00")
    both = [replace(each, snags=(SnagLine(word(each.path), each.place),)) for each in (late, early)]
    snags, problems = number_snags(sorted(both, key=lambda each: each.order))
    assert not problems
    assert {snag.number: snag.note for snag in snags} == {
        f"{DAY}.1": late.path,
        f"{DAY}.2": early.path,
    }
    told = public_ledger(replace(ledger(notes=both, settled=settings()), snags=snags))
    assert [each.key for each in told.notes] == ["2026-03-14-b", "2026-03-14-a"]
