"""When a month may be sealed or amended, and the sentence that says why not."""

from __future__ import annotations

from collections.abc import Iterator

from builderlog.deciding.sealing import Sealing, is_sealed, notes_by_month
from builderlog.deciding.weeks import last_day_of
from builderlog.deciding.words import month_long
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.seals import newest_seals


def why_not(ledger: Ledger, asked: Sealing) -> str | None:
    """The first reason against it, in a sentence that says what to do; None where there is none."""
    return next(iter(_reasons(ledger, asked)), None)


def _reasons(ledger: Ledger, asked: Sealing) -> Iterator[str]:
    if asked.on <= last_day_of(asked.month):
        over = last_day_of(asked.month)
        yield (
            f"{month_long(asked.month)} is not over on {asked.on}; seal it after {over},"
            " or name a later day with --on"
        )
    yield from _reasons_of_chain(ledger, asked)
    yield from _against_amending(ledger, asked) if asked.amend else _against_sealing(ledger, asked)


def _reasons_of_chain(ledger: Ledger, asked: Sealing) -> Iterator[str]:
    latest = max(ledger.seals, key=lambda seal: seal.sealed_on, default=None)
    if latest and asked.on < latest.sealed_on:
        yield (
            f"{latest.path} was sealed on {latest.sealed_on}, and a seal cannot be older than the"
            f" one before it; name a day that is not before {latest.sealed_on}"
        )


def _against_sealing(ledger: Ledger, asked: Sealing) -> Iterator[str]:
    month, notes = asked.month, notes_by_month(ledger)
    sealed = newest_seals(ledger.seals)
    if asked.why:
        yield "--why is the reason of an amendment; write --amend with it"
    if month in sealed:
        yield (
            f"{month} is sealed already, in {sealed[month].path}, and a seal is never rewritten;"
            f' what changed since is sealed by: --amend {month} --why "the reason"'
        )
    if month not in notes:
        yield f"no note is dated in {month}, so there is nothing to seal"
    open_months = [one for one in notes if one < month and not is_sealed(ledger, one)]
    if open_months:
        first = min(open_months)
        yield f"{first} has notes and is not sealed yet; months are sealed in order: seal it first"


def _against_amending(ledger: Ledger, asked: Sealing) -> Iterator[str]:
    if not is_sealed(ledger, asked.month):
        yield f"{asked.month} is not sealed, so there is no seal to amend; leave --amend out"
    if not asked.why:
        yield 'an amendment says why: write --why "the reason"'
