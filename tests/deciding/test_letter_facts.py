"""Facts for a letter: what they are, that each is known by a digest, which are new."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from builderlog.deciding.letter_facts import (
    Fact,
    areas_by_time,
    facts_of,
    month_told,
    new_facts,
    summary_of,
)
from builderlog.deciding.public import (
    PublicDecision,
    PublicLedger,
    PublicPart,
    PublicPartEvent,
    PublicSnag,
)
from builderlog.knowing.letters import Letter
from builderlog.reading.problem import Place
from builderlog.reading.prose import Prose
from tests.drawing.made_public import FIRST, PUBLIC

DAY = date(2026, 3, 14)


def told(public: PublicLedger = PUBLIC) -> tuple[Fact, ...]:
    """The facts of March."""
    month = month_told(public, "2026-03")
    assert month is not None
    return facts_of(month)


def lines(kind: str, public: PublicLedger = PUBLIC) -> list[str]:
    """The lines of one kind of fact."""
    return [fact.line for fact in told(public) if fact.kind == kind]


def letter(words: str, facts: tuple[Fact, ...] = ()) -> Letter:
    """A letter that was drafted from these facts."""
    known = frozenset(fact.digest for fact in facts)
    prose = Prose(words, Place("letters/2026-03.md"))
    return Letter("letters/2026-03.md", "2026-03", None, None, known, prose, edited=True)


def with_note(**changes: object) -> PublicLedger:
    """The ledger with its first note changed."""
    note = replace(FIRST, **changes)  # type: ignore[arg-type]
    notes = tuple(note if each.key == FIRST.key else each for each in PUBLIC.notes)
    return replace(PUBLIC, notes=notes)


def test_a_month_without_a_place_in_the_record_has_no_facts() -> None:
    """A month that the ledger does not hold is none."""
    assert month_told(PUBLIC, "1999-01") is None


def test_notes_and_pictures_are_facts() -> None:
    """A note by its day and title, a picture by its caption or else by its note."""
    assert lines("note") == ["14 March: Skins <on> & off"]
    assert lines("picture") == [
        "Skins held with clecos",
        "A picture of 14 March: Skins <on> & off",
    ]


def test_a_decision_is_told_with_its_reason() -> None:
    """The reason stands behind it; where none was written, none does."""
    assert lines("decided") == ["Decided: Rivet later. Because: The arm must fit in"]
    alone = with_note(decided=(PublicDecision("Rivet now", None, None, None),))
    assert lines("decided", alone) == ["Decided: Rivet now"]


def test_what_is_next_is_told_as_last_written_in_the_month() -> None:
    """Steps of the month's notes alone."""
    assert lines("next") == ["Next: Dimple the lower row"]


@pytest.mark.parametrize(
    ("status", "line"),
    [
        ("received", "Came: Spar (2)"),
        ("short", "Did not come, though it stood on the list: Spar (2)"),
    ],
)
def test_a_part_is_told_by_what_became_of_it_in_the_month(status: str, line: str) -> None:
    """What was written of it in another month belongs there."""
    event = PublicPartEvent(FIRST.key, DAY, status, Decimal(2), None)
    later = replace(event, day=date(2026, 4, 1), status="scrapped")
    part = PublicPart("Spar", "scrapped", Decimal(2), None, (event, later))
    assert lines("part", replace(PUBLIC, parts=(part,))) == [line]


def test_a_part_that_is_only_fitted_is_no_news() -> None:
    """The notes tell it."""
    event = PublicPartEvent(FIRST.key, DAY, "fitted", Decimal(2), None)
    part = PublicPart("Spar", "fitted", Decimal(2), None, (event,))
    assert lines("part", replace(PUBLIC, parts=(part,))) == []


def test_a_snag_is_told_when_found_and_when_put_right() -> None:
    """One that was put right in the month says how."""
    snag = PublicSnag("2026-03-14.1", "A nick", DAY, FIRST.key, None, None, None, None)
    assert lines("snag", replace(PUBLIC, snags=(snag,))) == ["Found: A nick"]
    fixed = replace(snag, day=date(2026, 2, 1), fixed_on=DAY, how="blended")
    expected = ["Found and put right: A nick (blended)"]
    assert lines("snag", replace(PUBLIC, snags=(fixed,))) == expected
    elsewhere = replace(snag, day=date(2026, 2, 1))
    assert lines("snag", replace(PUBLIC, snags=(elsewhere,))) == []


def test_what_the_draft_knew_is_not_new() -> None:
    """Even where the builder took every word of it out."""
    assert new_facts(told(), letter("Nothing of it.", told()), ()) == ()


def test_everything_is_new_to_a_letter_without_a_draft() -> None:
    """As long as it does not tell it."""
    assert new_facts(told(), letter("Nothing of it."), ()) == told()


def test_a_fact_that_stands_in_the_letter_is_told() -> None:
    """Whatever its case, its line breaks and its marks; but only as whole words."""
    said = letter("we *DIMPLE the\nlower row* next, rivetlater")
    kinds = [fact.kind for fact in new_facts(told(), said, ())]
    assert "next" not in kinds
    assert "decided" in kinds


def test_a_picture_that_stands_in_the_letter_is_told() -> None:
    """By what it is, whatever the builder calls it there."""
    fresh = new_facts(told(), letter("Look."), [FIRST.photos[0].digest])
    keys = {fact.key for fact in fresh if fact.kind == "picture"}
    assert keys == {FIRST.photos[1].digest}


def test_changed_numbers_are_a_new_fact() -> None:
    """More hours in the month are a new fact, and no other is."""
    months = tuple(replace(month, seconds=month.seconds + 60) for month in PUBLIC.months)
    fresh = new_facts(told(replace(PUBLIC, months=months)), letter("x", told()), ())
    assert [fact.kind for fact in fresh] == ["month"]


def test_the_summary_adds_no_sum_of_its_own() -> None:
    """Length, days and areas as the month's page has them, with plain spaces."""
    month = month_told(PUBLIC, "2026-03")
    assert month is not None
    summary = summary_of(month)
    assert summary.startswith("March 2026 came to ")
    assert "\N{NO-BREAK SPACE}" not in summary
    assert "since the start" not in summary, "of the first month that would be said twice"
    months = tuple(replace(each, running_seconds=400_000) for each in PUBLIC.months)
    later = month_told(replace(PUBLIC, months=months), "2026-03")
    assert later is not None
    assert summary_of(later) == f"{summary} That makes 111 h 7 min since the start."


def test_other_work_is_named_only_beside_areas() -> None:
    """A journal without a work list has one sum, told once."""
    alone = tuple(replace(month, by_area=(("", month.seconds),)) for month in PUBLIC.months)
    public = replace(PUBLIC, months=alone)
    month = month_told(public, "2026-03")
    assert month is not None
    assert lines("area", public) == []
    assert "work" not in summary_of(month)


def test_the_area_with_the_most_time_comes_first() -> None:
    """Other work comes last however long it was, and an area without time not at all."""
    march = next(month for month in PUBLIC.months if month.month == "2026-03")
    times = (("T", 60), ("", 900), ("X", 0), ("W", 120))
    assert areas_by_time(replace(march, by_area=times)) == (("W", 120), ("T", 60), ("", 900))


def test_a_month_without_hours_says_so() -> None:
    """And names no days and no areas."""
    none = tuple(replace(month, seconds=0, by_area=(), days=0) for month in PUBLIC.months)
    month = month_told(replace(PUBLIC, months=none), "2026-03")
    assert month is not None
    assert summary_of(month) == "March 2026 went by without hours in the shop."
    fresh = new_facts(facts_of(month), letter("x", ()), ())
    assert "month" not in {fact.kind for fact in fresh}, "and that is offered to nobody as news"
