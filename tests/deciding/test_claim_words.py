"""The claim in numbers and sentences: exact, never on the limit's other side, granting nothing."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    form_heading,
    headroom_words,
    limit_words,
    percent_text,
    share_text,
    units_text,
    units_words,
    verdict,
)
from builderlog.deciding.portion import Portion, portion
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure, Side
from builderlog.knowing.rulebook_words import parse_limit
from builderlog.knowing.rulebooks import find_rulebook
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import HOUR, book, claimed, hours, reckoned, rules

POINTS, MARKS, HOURS = Measure.POINTS, Measure.MARKS, Measure.HOURS
BY_HOURS = rules(HOURS, ">= 0.5")
LIMITS = ("> 0.5", ">= 0.5", ">= 0.51", "> 0.333333333", ">= 0.0001", "> 0.999999999")
GRANTING = re.compile(r"approv|complian|\bpass|eligib|\bvalid", re.IGNORECASE)


def shares() -> st.SearchStrategy[Fraction]:
    """Any share, and such as lie close to a limit."""
    near = st.tuples(st.sampled_from(LIMITS), st.integers(-3, 3), st.integers(1, 10**9))
    close = near.map(lambda one: Fraction(one[0].split()[1]) + Fraction(one[1], one[2]))
    anywhere = st.fractions(0, 1)
    return st.one_of(anywhere, close.filter(lambda share: 0 <= share <= 1))


def number_in(text: str) -> Fraction:
    """The share that a reader takes from its text, percent or fraction."""
    if found := re.fullmatch(r"([\d.]+) %", text):
        return Fraction(found[1]) / 100
    found = re.fullmatch(r"(\d+/\d+) of the whole", text)
    assert found, text
    return Fraction(found[1])


@settings(deadline=None)
@given(shares(), st.sampled_from(LIMITS))
def test_a_percentage_stands_on_the_shares_side(share: Fraction, limit: str) -> None:
    """The printed share is below, on or above the limit exactly as the true one is."""
    shown, bar = number_in(percent_text(share, parse_limit(limit))), Fraction(limit.split()[1])
    assert (shown > bar, shown == bar, shown < bar) == (share > bar, share == bar, share < bar)
    assert abs(shown - share) <= Fraction(1, 2000)


@settings(deadline=None)
@given(st.fractions(0, 1))
def test_a_percentage_without_a_limit_has_one_decimal(share: Fraction) -> None:
    """Where nothing hangs on it one decimal is enough, and it is the nearest."""
    text = percent_text(share)
    assert re.fullmatch(r"\d{1,3}\.\d %", text)
    assert abs(number_in(text) - share) <= Fraction(1, 2000)


@pytest.mark.parametrize(
    ("share", "limit", "text"),
    [
        (Fraction(1, 2), "> 0.5", "50.0 %"),
        (Fraction(5004, 10000), "> 0.5", "50.04 %"),
        (Fraction(4996, 10000), "> 0.5", "49.96 %"),
        (Fraction(5561, 10900), ">= 0.51", "51.02 %"),
        (Fraction(5099, 10000), ">= 0.51", "50.99 %"),
        (Fraction(1, 2) + Fraction(1, 10**7), "> 0.5", "50.00001 %"),
        (Fraction(10**9 + 1, 2 * 10**9), "> 0.5", "1000000001/2000000000 of the whole"),
        (Fraction(0), "> 0.5", "0.0 %"),
        (Fraction(1), "> 0.5", "100.0 %"),
        (None, "> 0.5", "\N{EN DASH}"),
    ],
)
def test_percentages(share: Fraction | None, limit: str, text: str) -> None:
    """As many decimals as it takes; a fraction where six do not do; a dash for no share."""
    assert percent_text(share, parse_limit(limit)) == text


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (None, "0.000000"),
        (Fraction(0), "0.000000"),
        (Fraction(1), "1.000000"),
        (Fraction(573, 1000), "0.573000"),
        (Fraction(2, 3), "0.666667"),
        (Fraction(1, 2) + Fraction(1, 2 * 10**6), "0.500001"),
        (Fraction(1, 2) + Fraction(1, 10**7), "0.500000"),
    ],
)
def test_shares_have_six_decimals(share: Fraction | None, text: str) -> None:
    """The share of the document has six decimals, a half upwards."""
    assert share_text(share) == text


@pytest.mark.parametrize(
    ("units", "measure", "text", "words"),
    [
        (0, POINTS, "0.0", "0.0 points"),
        (1, POINTS, "0.1", "0.1 points"),
        (10, POINTS, "1.0", "1.0 point"),
        (179, POINTS, "17.9", "17.9 points"),
        (1870, POINTS, "187.0", "187.0 points"),
        (0, MARKS, "0", "0 marks"),
        (1, MARKS, "1", "1 mark"),
        (12, MARKS, "12", "12 marks"),
        (0, HOURS, "0", "0 hours"),
        (HOUR, HOURS, "1", "1 hour"),
        (10 * HOUR, HOURS, "10", "10 hours"),
        (600 * HOUR, HOURS, "600", "600 hours"),
        (585_000, HOURS, "162.5", "162.5 hours"),
        (1, HOURS, "0.000278", "0.000278 hours"),
        (1200, HOURS, "0.333333", "0.333333 hours"),
    ],
)
def test_units_as_decimal_text(units: int, measure: Measure, text: str, words: str) -> None:
    """Tenths, marks and seconds as points, marks and hours, never in powers of ten."""
    assert (units_text(units, measure), units_words(units, measure)) == (text, words)


@settings(deadline=None)
@given(st.integers(0, 10**9))
def test_hours_as_text_are_the_same_seconds(seconds: int) -> None:
    """Six decimals of an hour, rounded to the nearest second, are the seconds they came from."""
    assert round(Fraction(units_text(seconds, HOURS)) * HOUR) == seconds


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        ("> 0.5", "more than 50 %"),
        (">= 0.51", "at least 51 %"),
        ("at least 51 %", "at least 51 %"),
        ("more than 33,3333333 %", "more than 33.3333333 %"),
        (">= 0.1", "at least 10 %"),
        ("> .005", "more than 0.5 %"),
    ],
)
def test_limits_in_words(limit: str, words: str) -> None:
    """A limit is told in percent without zeros that say nothing."""
    assert limit_words(parse_limit(limit)) == words


DONE = claimed("W1", (0, 0, 10, 0), done=True)
OPEN = claimed("T1", (6, 0, 4, 0))
WORKED = book(
    claimed("W1", estimate=Length(10 * HOUR)), work=[hours(6, "W1", Work.ASSEMBLY)], kit=2
)


@pytest.mark.parametrize(
    ("found", "first", "second"),
    [
        (
            reckoned(DONE, OPEN),
            "On this record the share is 70.0 %; the rulebook asks for more than 50 %.",
            (
                "Headroom: 0.3 points of the builder's could still go to paid help before the "
                "limit is lost; all of it lies in tasks still open."
            ),
        ),
        (
            reckoned(DONE, claimed("T1", (9, 0, 1, 0))),
            "On this record the share is 55.0 %; the rulebook asks for more than 50 %.",
            (
                "Headroom: 0.0 points of the builder's could still go to paid help before the "
                "limit is lost."
            ),
        ),
        (
            reckoned(DONE, claimed("W2", (0, 0, 10, 0), done=True), OPEN),
            "On this record the share is 80.0 %; the rulebook asks for more than 50 %.",
            (
                "Headroom: 0.8 points of the builder's could still go to paid help before the "
                "limit is lost, but tasks still open hold only 0.4 points: finished work "
                "cannot be hired out."
            ),
        ),
        (
            reckoned(claimed("T1", (5, 0, 5, 0))),
            "On this record the share is 50.0 %; the rulebook asks for more than 50 %.",
            "The builder is 0.1 points short of that.",
        ),
        (
            reckoned(),
            "On this record no share can be told; the work list has no task that applies.",
            "",
        ),
        (
            reckoned(claimed("W1"), by=rules(MARKS)),
            "On this record no share can be told; nothing is claimed yet.",
            "",
        ),
        (
            portion(WORKED, BY_HOURS),
            "On this record the share is 75.0 %; the rulebook asks for at least 50 %.",
            (
                "Headroom: 4 hours of the builder's could still go to paid help before the "
                "limit is lost; that is of the hours on record, not of those planned."
            ),
        ),
        (
            portion(book(), BY_HOURS),
            (
                "On this record no share can be told; it takes hours on record and the kit's "
                "declared ones (journal.yaml, kit hours: 600h)."
            ),
            "",
        ),
    ],
)
def test_the_verdict_and_the_headroom(found: Portion, first: str, second: str) -> None:
    """One sentence holds share and limit, the next what is spare or short; or why neither is."""
    assert (verdict(found), headroom_words(found)) == (first, second)


def test_what_stands_beside_points() -> None:
    """Beside the claim: work on record, done tasks alone, all as planned, and what it could be."""
    ledger = book(DONE, OPEN, claimed("T2"), work=[hours(1, "T1", Work.ASSEMBLY)])
    assert beside(portion(ledger, rules())) == (
        (
            "Work on record",
            (
                "0.4 points of the builder's belong to tasks with work on record, "
                "13.3 % of all that apply"
            ),
        ),
        ("Done tasks alone", "100.0 % (1 task)"),
        ("All as planned", "13.3 % (3 tasks)"),
        ("At most", "80.0 %, with the 1.0 point that nobody claims yet"),
    )


def test_a_claim_that_was_not_begun_says_how_it_begins() -> None:
    """A fresh list claims nothing: it is told what is missing and where credit is written."""
    found = portion(book(claimed("T1"), claimed("T2")), rules())
    assert headroom_words(found) == (
        "The builder is 1.1 points short of that: nothing is claimed yet. "
        "Write credit in worklist.yaml, or --import a form."
    )
    assert dict(beside(found))["At most"].startswith("100.0 %, with the 2.0 points")


def test_what_stands_beside_marks() -> None:
    """Where marks are counted, it is told how many rows' marks only follow from their credit."""
    found = reckoned(claimed("T1", (5, 0, 5, 0)), claimed("T2", marks=(0, 1)), by=rules(MARKS))
    rows = dict(beside(found))
    assert rows["Work on record"] == "0 marks of the builder's belong to tasks with work on record"
    assert rows["Done tasks alone"] == "nothing to take a share of"
    assert rows["Derived marks"] == (
        "of 1 of 2 tasks the marks follow from the credit; one tenth earns a whole mark that way, "
        "so give them where the form has them"
    )


def test_what_stands_beside_hours() -> None:
    """Where hours are counted, done tasks have no share of their own; late work is told apart."""
    late = making.worked("2026-04-01", HOUR, "W1", "Ines", Work.ASSEMBLY)
    ledger = book(DONE, work=[hours(2, "W1", Work.ASSEMBLY), late], kit=2, until="2026-03-31")
    assert beside(portion(ledger, BY_HOURS)) == (
        ("Work on record", "2 hours of the amateurs', fabrication and assembly"),
        ("All as planned", "50.0 % (1 task)"),
        ("After certificate", "1 hour, no build time and counted nowhere"),
    )


def test_the_forms_own_headings() -> None:
    """Where the rulebook is a form's, its words stand over the columns, else ours."""
    checklist, _ = find_rulebook("us-checklist")
    assert checklist
    assert form_heading(Side.PAID, checklist) == "B Commercial Assistance"
    assert form_heading(Side.UNCLAIMED, checklist) == "unclaimed"
    assert form_heading(Side.PAID, rules()) == "paid"


def test_no_sentence_grants_anything() -> None:
    """No sentence of the claim says that it is granted, and the caution says that it is not."""
    found = reckoned(DONE, OPEN)
    told = [verdict(found), headroom_words(found), *(words for _, words in beside(found))]
    assert not GRANTING.search(" ".join(told))
    assert "it grants nothing" in CAUTION
    assert not GRANTING.search(CAUTION)
