"""What stands round a claim: evaluation, bought help, disclosure, what can be hired out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.deciding.claim_sentences import (
    bought_help,
    done_among,
    evaluation,
    has_bought_help,
    hiring_words,
    source_words,
    to_disclose,
)
from builderlog.deciding.hiring import hiring, tasks_named
from builderlog.deciding.portion import portion
from builderlog.deciding.what_if import Supposed
from builderlog.knowing.entries import Away, Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Known, Measure, Rulebook, Side, Source
from builderlog.knowing.settings import KitEvaluated, Settings
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import HOUR, book, claimed, hours, rules

DONE = claimed("W1", (0, 0, 10, 0), done=True)
OPEN = claimed("T1", (6, 0, 3, 1))
UNCLAIMED = claimed("T2", (5, 0, 0, 0))
NONE_BOUGHT = "none is on record and none is claimed."


def evaluated(kit: KitEvaluated | None, *, paid: int = 0) -> Ledger:
    """A journal with this evaluation, and paid credit on one task."""
    ledger = book(claimed("W1", (3, paid, 2, 2)))
    return replace(ledger, settings=replace(ledger.settings, kit_evaluated=kit))


@pytest.mark.parametrize(
    ("kit", "first"),
    [
        (
            KitEvaluated(making.dated("2025-05-20"), making.word("papers/kit.pdf"), True),  # noqa: FBT003 - the record's own
            "The kit was evaluated on 20 May 2025 by papers/kit.pdf, and left unaltered.",
        ),
        (
            KitEvaluated(making.dated("2025-05-20"), None, False),  # noqa: FBT003 - the record's own
            "The kit was evaluated on 20 May 2025, by no named document, and was altered since.",
        ),
        (
            KitEvaluated(),
            (
                "The kit was evaluated, on no stated date, by no named document, whether it was "
                "left unaltered is not said (unaltered: yes)."
            ),
        ),
    ],
)
def test_the_evaluation_and_the_first_question(kit: KitEvaluated, first: str) -> None:
    """First by which document the kit was evaluated, then whether help was bought."""
    by = replace(rules(), evaluated="Column A is taken from it.")
    assert list(evaluation(evaluated(kit), by)) == [
        first,
        f"The first question then is bought help: {NONE_BOUGHT}",
        "Column A is taken from it.",
    ]
    assert len(list(evaluation(evaluated(kit), rules()))) == 2


def test_a_kit_that_was_not_evaluated() -> None:
    """Without an evaluation nothing is said of one."""
    assert list(evaluation(evaluated(None, paid=3), rules())) == []


def test_a_rulebook_without_bought_help() -> None:
    """A rulebook for projects without bought help says so where there is some, and only there."""
    by = replace(rules(), allows_paid_help=False)
    told = ["This rulebook is for projects without bought help, and the journal has some."]
    assert list(evaluation(evaluated(None, paid=3), by)) == told
    assert list(evaluation(evaluated(None), by)) == []


def test_every_trace_of_bought_help() -> None:
    """Paid people, work away for pay and paid credit are told; what does not apply is not."""
    away = tuple(
        Away(making.word(f"seat {number}"), making.NOWHERE, capacity=kind)
        for number, kind in enumerate(("paid", "maker", "unpaid", None, "paid"))
    )
    note = replace(making.note("2026-03-20"), away=away)
    tasks = (claimed("W1", (0, 2, 0, 0)), claimed("W2", (0, 2, 0, 0), applies=False), DONE)
    work = [hours(1, "W1", Work.ASSEMBLY, "Shop & Co"), hours(1, "W1", Work.ASSEMBLY)]
    found = making.ledger(tasks=tasks[:2], work=work, notes=[note])
    assert has_bought_help(found)
    assert bought_help(found) == (
        "Shop & Co worked for pay; 2 pieces of work went out for pay; paid credit is claimed on W1."
    )


def test_no_bought_help() -> None:
    """Builders and helpers alone leave no trace of bought help."""
    found = book(OPEN, work=[hours(1, "T1", Work.ASSEMBLY, "Ada")])
    assert not has_bought_help(found)
    assert bought_help(found) == NONE_BOUGHT


def test_help_after_the_certificate_is_none() -> None:
    """Who worked for pay after the certificate had no part in the building."""
    settled: Settings = replace(making.settings(), certificated=making.dated("2026-03-13"))
    work = [hours(1, None, Work.OTHER, "Shop & Co")]
    assert not has_bought_help(making.ledger(work=work, settled=settled))


def test_what_would_have_to_be_disclosed() -> None:
    """What the rulebook asks for, and how the notes would have to say it of the tasks named."""
    by = replace(rules(), disclose=("who was paid",))
    assert to_disclose(by, [Supposed("W1", 5), Supposed("T1", 2)]) == (
        "who was paid",
        "in the notes: hours of a person with role: paid on W1 and T1, or away with as: paid",
    )


def test_finished_tasks_are_named() -> None:
    """Of the tasks supposed, those that are done are told."""
    changes = [Supposed("T1", 5), Supposed("W1", 5)]
    assert done_among(book(DONE, OPEN), changes) == ("W1",)


def said(before: Ledger, by: Rulebook, *names: str) -> list[str]:
    """What is said of hiring these out."""
    found = portion(before, by)
    return list(hiring_words(hiring(tasks_named(before.worklist, names), found), found))


def test_hiring_in_words() -> None:
    """How many tasks are open, what is claimed there, what could go, and what it does."""
    assert said(book(DONE, claimed("W2", (0, 0, 10, 0), done=True), OPEN), rules(), "W", "T") == [
        "1 task of 3 still open: T1",
        "There the amateurs claim 0.4 points.",
        (
            "All of it could go to paid help: the share goes from 80.0 % to 66.7 % "
            "(the rulebook asks for more than 50 %)."
        ),
        "Finished work cannot be hired out any more: W1 and W2.",
    ]


def test_hiring_a_part_in_words() -> None:
    """Where not all can go, it is said how much, and that unclaimed parts cost no share."""
    assert said(book(DONE, OPEN, UNCLAIMED), rules(), "T") == [
        "2 tasks of 2 still open: T1 and T2",
        "There the amateurs claim 0.4 points.",
        "The share does not reach more than 50 %, so none can be hired out.",
    ]
    assert said(book(DONE, OPEN, claimed("T2", (0, 0, 3, 0))), rules(), "T") == [
        "2 tasks of 2 still open: T1 and T2",
        "There the amateurs claim 0.7 points.",
        (
            "0.1 points could go to paid help: the share goes from 56.7 % to 53.3 % "
            "(the rulebook asks for more than 50 %)."
        ),
        "A further 0.7 points there nobody claims: hiring that out costs no share.",
    ]


def test_hiring_what_is_nobodys() -> None:
    """Where the builder claims nothing, only what nobody claims can go, and it costs no share."""
    two = (DONE, claimed("W2", (0, 0, 10, 0), done=True))
    assert said(book(*two, UNCLAIMED), rules(), "T2") == [
        "1 task of 1 still open: T2",
        "There the amateurs claim 0.0 points.",
        "A further 0.5 points there nobody claims: hiring that out costs no share.",
    ]


def test_unclaimed_work_that_would_cost() -> None:
    """Where paid help counts against the builder and unclaimed work does not, it is not free."""
    by = rules(against=(Side.MAKER, Side.PAID))
    assert said(book(DONE, UNCLAIMED), by, "T") == [
        "1 task of 1 still open: T2",
        "There the amateurs claim 0.0 points.",
    ]


def test_hiring_finished_work() -> None:
    """Of finished work nothing is said but that it cannot be hired out."""
    assert said(book(DONE), rules(), "W1") == [
        "no tasks of 1 still open: none",
        "There the amateurs claim 0.0 points.",
        "Finished work cannot be hired out any more: W1.",
    ]


def test_hiring_hours_in_words() -> None:
    """Where hours are counted it is the share as planned that is told."""
    task = claimed("W1", estimate=Length(10 * HOUR))
    ledger = book(task, work=[hours(4, "W1", Work.ASSEMBLY)], kit=8)
    assert said(ledger, rules(Measure.HOURS, ">= 0.5"), "W1") == [
        "1 task of 1 still open: W1",
        "There the amateurs have left to do 6 hours.",
        (
            "2 hours could go to paid help: the share goes from 55.6 % to 50.0 %, as planned "
            "(the rulebook asks for at least 50 %)."
        ),
    ]


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (Source("Order 1", Known.READ), "Order 1 (read)"),
        (
            Source("Order 1", Known.SECOND_HAND, "part 3", "2009", "More than half."),
            "Order 1, part 3, 2009: More than half. (known second hand)",
        ),
        (
            Source("Order 1", Known.MEMORY, says="More than half."),
            "Order 1: More than half. (from memory, not verified)",
        ),
    ],
)
def test_sources_in_words(source: Source, words: str) -> None:
    """What, where, of when, what it says, and how it is known."""
    assert source_words(source) == words
