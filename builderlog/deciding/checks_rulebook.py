"""Checks of the rulebook: what it needs, what it rules out, and a claim that cannot be shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.claim_sentences import bought_help, has_bought_help
from builderlog.deciding.publishing_claim import public_claim
from builderlog.knowing.journal import JOURNAL_FILE
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.reading.problem import Place, Problem, doubt

JOURNAL = Place(JOURNAL_FILE)


def kit_hours_not_said(ledger: Ledger) -> Iterator[Problem]:
    """Where hours are counted, no share can be told without the maker's declared ones."""
    counts_hours = ledger.rulebook is not None and ledger.rulebook.measure is Measure.HOURS
    if counts_hours and ledger.settings.kit_hours is None:
        told = "the rulebook counts hours, but the maker's declared hours are not said, so no share"
        told = f"{told} can be told; write kit hours: 600h (0h where nothing of it is a kit)"
        yield doubt(JOURNAL, "no-kit-hours", told)


def paid_help_ruled_out(ledger: Ledger) -> Iterator[Problem]:
    """A rulebook for projects without bought help, in a journal that has some."""
    rulebook = ledger.rulebook
    if rulebook and not rulebook.allows_paid_help and has_bought_help(ledger):
        told = f"the rulebook {rulebook.name} is for projects without bought help, but"
        told = f"{told} {bought_help(ledger).rstrip('.')}; ask your authority which one is yours"
        yield doubt(JOURNAL, "paid-help-ruled-out", told)


def claim_not_shown(ledger: Ledger) -> Iterator[Problem]:
    """The site is to show the claim, and there is none that it could show."""
    show = ledger.settings.site.show
    if "claim" in show and public_claim(ledger, show) is None:
        told = "site shows the claim, but there is none to show: it needs a rulebook and a work"
        told = f"{told} list with tasks that apply (and paid help in show, where it counts by that)"
        yield doubt(JOURNAL, "claim-not-shown", told)


RULEBOOK_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    kit_hours_not_said,
    paid_help_ruled_out,
    claim_not_shown,
)
