"""The claim as friends may see it: none unless asked for, and without paid help unless asked for.

Until the journal shows paid help too, only sums are told in which it cannot be found, be it there
or not: what a rulebook sets against the builder as one number, and no hours at all, since the
site tells all hours of a task and the amateurs' share of them would leave the rest.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from builderlog.deciding.claim_sentences import source_words
from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    form_heading,
    headroom_words,
    limit_words,
    percent_text,
    verdict,
)
from builderlog.deciding.counting import Count
from builderlog.deciding.portion import Portion, portion
from builderlog.deciding.public import PublicClaim, PublicClaimColumn, PublicClaimRow
from builderlog.deciding.words import day_plain, first_upper
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Area, Role

BESIDE = ("Work on record", "Done tasks alone", "All as planned")
BY_WORKER = ("Work on record", "All as planned")  # of these who worked on a task is a part


@dataclass(frozen=True, slots=True)
class _Column:
    """A public column and the sides of the count that are summed in it."""

    shown: PublicClaimColumn
    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class _Table:
    """The columns of one claim, and whether their numbers are told."""

    rulebook: Rulebook
    columns: tuple[_Column, ...]
    told: bool

    def row(self, count: Count, area: Area | None = None) -> PublicClaimRow:
        """An area's row; without one that of the whole, whose `done` are for the caller to sum."""
        limit = self.rulebook.limit
        return PublicClaimRow(
            area=area.id if area else None,
            name=area.name if area else "In all",
            tasks=count.tasks,
            done=sum(task.done and task.applies for task in area.tasks) if area else 0,
            units=tuple(self._units(count, area)) if self.told else (),
            share=None if count.share is None else percent_text(count.share, limit),
            permille=None if count.share is None else int(count.share * 1000),
        )

    def _units(self, count: Count, area: Area | None) -> Iterable[int | None]:
        """By column; the maker declares hours for the whole kit alone."""
        no_maker = self.rulebook.measure is Measure.HOURS and area is not None
        for column in self.columns:
            absent = no_maker and Side.MAKER in column.sides
            yield None if absent else count.columns.of(column.sides)


def public_claim(ledger: Ledger, show: frozenset[str]) -> PublicClaim | None:
    """The claim, where `show` has it, a rulebook is named and the work list has tasks to count."""
    rulebook = ledger.rulebook
    if "claim" not in show or rulebook is None:
        return None
    opened = "paid help" in show
    found = portion(ledger, rulebook)
    if not found.whole.tasks or not (opened or _hides_paid_help(rulebook)):
        return None
    return _claim(ledger, found, opened=opened)


def _hides_paid_help(rulebook: Rulebook) -> bool:
    """Whether the share can be told and paid help not be reckoned from it.

    It can where paid help alone stands against the builder, and where it alone counts on no side
    while the sum of all sides is known. Of hours friends know all but the maker's, so that the
    maker's must be among those that the share is taken of.
    """
    beside_both = set(Side) - {*rulebook.builder, *rulebook.against}
    if {Side.PAID} in (set(rulebook.against), beside_both):
        return False
    return rulebook.measure is not Measure.HOURS or Side.MAKER in rulebook.against


def _claim(ledger: Ledger, found: Portion, *, opened: bool) -> PublicClaim:
    rulebook = found.rulebook
    columns = tuple(_all_columns(rulebook) if opened else _sums(rulebook))
    table = _Table(rulebook, columns, told=opened or rulebook.measure is not Measure.HOURS)
    areas = tuple(table.row(each.count, each.area) for each in found.areas)
    return PublicClaim(
        measure=rulebook.measure.value,
        facts=_facts(rulebook),
        limit=limit_words(rulebook.limit),
        limit_permille=int(rulebook.limit.share * 1000),
        verdict=_verdict(found),
        unsettled=rulebook.unsettled,
        columns=tuple(column.shown for column in columns),
        whole=replace(table.row(found.whole), done=sum(row.done for row in areas)),
        areas=areas,
        beside=_beside(ledger, found, opened=opened),
        headroom=(headroom_words(found) or None) if opened else None,
        sources=tuple(map(source_words, rulebook.sources)),
        cautions=(CAUTION, _counted_by(rulebook, ledger.record_date), *rulebook.cautions),
    )


def _all_columns(rulebook: Rulebook) -> Iterable[_Column]:
    """Every side under the form's own words, where the rulebook has them."""
    for side in Side:
        heading = first_upper(form_heading(side, rulebook))
        yield _Column(PublicClaimColumn(side.value, heading, _counts(side, rulebook)), (side,))


def _counts(side: Side, rulebook: Rulebook) -> str:
    if side in rulebook.builder:
        return "for"
    return "against" if side in rulebook.against else ""


def _sums(rulebook: Rulebook) -> Iterable[_Column]:
    """The two sides of the share, each as one number."""
    yield _Column(PublicClaimColumn("amateurs", "Amateurs", "for"), rulebook.builder)
    others = PublicClaimColumn("others", _others(rulebook), "against")
    yield _Column(others, rulebook.against)


def _others(rulebook: Rulebook) -> str:
    """By what the rulebook counts, whether there is any of it or not."""
    if rulebook.against == (Side.MAKER,):
        return "Maker"
    if Side.UNCLAIMED in rulebook.against:
        return "Others and not yet claimed"
    return "Others"


def _facts(rulebook: Rulebook) -> tuple[tuple[str, str], ...]:
    rows = (
        ("Rulebook", rulebook.title),
        ("Rule", rulebook.rule),
        ("Citation", rulebook.citation),
        ("Form", rulebook.form or ""),
    )
    return tuple(row for row in rows if row[1])


def _counted_by(rulebook: Rulebook, record: date | None) -> str:
    """By which rulebook, from which source and of when, and on the record of which day."""
    first = next(iter(rulebook.sources), None)
    told = (first.what, first.paragraph, first.date) if first else ()
    source = ", ".join(part for part in told if part) or "none that is published"
    day = f" It is reckoned on the record of {day_plain(record)}." if record else ""
    return f"The rulebook is: {rulebook.title}. Its source: {source}.{day}"


def _verdict(found: Portion) -> str:
    """As everywhere; where there is no share, without the advice that is for the builder."""
    if found.whole.share is None:
        asked = limit_words(found.rulebook.limit)
        return f"On this record no share can be told yet; the rulebook asks for {asked}."
    return verdict(found)


def _beside(ledger: Ledger, found: Portion, *, opened: bool) -> tuple[tuple[str, str], ...]:
    if not opened and found.rulebook.measure is Measure.HOURS:
        return ()
    kept = set(BESIDE)
    if not opened and _tells_who_worked(ledger, found):
        kept -= set(BY_WORKER)
    return tuple(row for row in beside(found) if row[0] in kept)


def _tells_who_worked(ledger: Ledger, found: Portion) -> bool:
    """Whether a task that friends see worked on counts as one that no amateur worked on."""
    by_builders = tuple(replace(row, role=Role.BUILDER) for row in ledger.work)
    anyone = portion(replace(ledger, work=by_builders), found.rulebook)
    return (anyone.recorded, anyone.planned) != (found.recorded, found.planned)
