"""What the claim's tables and pages are made of, found once: count, records, help, what is missing.

The gathering takes longer than all the writing; so whoever makes several of them hands one of
these round.
"""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding.assistance import Assistance, assistance
from builderlog.deciding.checks import judge
from builderlog.deciding.coverage import coverage
from builderlog.deciding.portion import Portion, portion
from builderlog.deciding.task_record import TaskRecord
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, Weight

# These tell the builder what to tidy, or what friends will see; of the evidence they say nothing.
# Where a hidden note took its gap along, its explanation (an answer to nothing) is no doubt either.
UPKEEP = (
    "answer-to-nothing",
    "link-not-shown",
    "claim-not-shown",
    "cache-not-kept",
    "sign-not-printed",
    "hidden-name",
    "kept-twin",
)


@dataclass(frozen=True, slots=True)
class Findings:
    """A ledger with what was found in it."""

    ledger: Ledger
    portion: Portion | None  # None where no rulebook is named
    records: tuple[TaskRecord, ...]  # as `coverage` orders them
    help: Assistance
    missing: tuple[Problem, ...]  # doubts and gaps, worst first


def find(ledger: Ledger) -> Findings:
    """Everything once.

    Mistakes are not among what is missing: with one no evidence is handed over, and what looks
    like one afterwards is a link to a note of which only the time went along.
    """
    return Findings(
        ledger=ledger,
        portion=portion(ledger, ledger.rulebook) if ledger.rulebook else None,
        records=coverage(ledger),
        help=assistance(ledger),
        missing=tuple(
            problem
            for problem in judge(ledger)
            if problem.weight is not Weight.MISTAKE and problem.code not in UPKEEP
        ),
    )
