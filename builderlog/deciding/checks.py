"""Everything that `check` tells: mistakes, doubts and gaps over the whole ledger.

Each check is a function `(ledger) -> problems` in CHECKS; adding one is adding a line. What was
told while reading is part of the ledger and comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from builderlog.deciding.checks_claim import CLAIM_CHECKS
from builderlog.deciding.checks_closing import CLOSING_CHECKS
from builderlog.deciding.checks_evidence import EVIDENCE_CHECKS
from builderlog.deciding.checks_files import FILE_CHECKS
from builderlog.deciding.checks_letters import LETTER_CHECKS
from builderlog.deciding.checks_measured import MEASURED_CHECKS
from builderlog.deciding.checks_names import NAME_CHECKS
from builderlog.deciding.checks_own_words import names_told_anyhow
from builderlog.deciding.checks_pictures import PICTURE_CHECKS
from builderlog.deciding.checks_print import PRINT_CHECKS
from builderlog.deciding.checks_rulebook import RULEBOOK_CHECKS
from builderlog.deciding.checks_seals import SEAL_CHECKS
from builderlog.deciding.checks_time import TIME_CHECKS
from builderlog.deciding.checks_torque import TORQUE_CHECKS
from builderlog.deciding.checks_twins import TWIN_CHECKS
from builderlog.deciding.costs import missing_rates
from builderlog.deciding.explaining import explain
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, Weight, sort_worst_first

CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    *NAME_CHECKS,
    *TIME_CHECKS,
    *FILE_CHECKS,
    *LETTER_CHECKS,
    *PICTURE_CHECKS,
    *EVIDENCE_CHECKS,
    *CLAIM_CHECKS,
    *CLOSING_CHECKS,
    *RULEBOOK_CHECKS,
    *SEAL_CHECKS,
    *TORQUE_CHECKS,
    *MEASURED_CHECKS,
    *PRINT_CHECKS,
    *TWIN_CHECKS,
    missing_rates,
    names_told_anyhow,
)


def judge(ledger: Ledger) -> tuple[Problem, ...]:
    """All problems, worst first; what the builder explained carries the explanation."""
    found = [*ledger.problems, *(problem for check in CHECKS for problem in check(ledger))]
    return sort_worst_first([*explain(found, ledger.settings.answers)])


def paths_with_mistakes(problems: Iterable[Problem]) -> frozenset[str]:
    """The files that hold a mistake; a note among them is left out whole."""
    return frozenset(problem.place.path for problem in problems if problem.weight is Weight.MISTAKE)
