"""Everything that `check` tells: mistakes, doubts and gaps over the whole ledger.

Each check is a function `(ledger) -> problems` in CHECKS; adding one is adding a line. What was
told while reading is part of the ledger and comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from builderlog.deciding.checks_evidence import EVIDENCE_CHECKS
from builderlog.deciding.checks_files import FILE_CHECKS
from builderlog.deciding.checks_names import NAME_CHECKS
from builderlog.deciding.checks_time import TIME_CHECKS
from builderlog.deciding.costs import missing_rates
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Answer
from builderlog.reading.problem import Problem, Weight, sort_worst_first

CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    *NAME_CHECKS,
    *TIME_CHECKS,
    *FILE_CHECKS,
    *EVIDENCE_CHECKS,
    missing_rates,
)


def judge(ledger: Ledger) -> tuple[Problem, ...]:
    """All problems, worst first; a gap that the builder explained carries the explanation."""
    found = [*ledger.problems, *(problem for check in CHECKS for problem in check(ledger))]
    return sort_worst_first([*_explained(found, ledger.settings.answers)])


def _explained(problems: Iterable[Problem], answers: tuple[Answer, ...]) -> Iterator[Problem]:
    for problem in problems:
        whole = f"{problem.code}: {problem.message}"
        because = [str(answer.because) for answer in answers if answer.gap.text in whole]
        if problem.weight is Weight.GAP and because:
            yield replace(problem, message=f"{problem.message} (explained: {'; '.join(because)})")
        else:
            yield problem


def paths_with_mistakes(problems: Iterable[Problem]) -> frozenset[str]:
    """The files that hold a mistake; a note among them is left out whole."""
    return frozenset(problem.place.path for problem in problems if problem.weight is Weight.MISTAKE)
