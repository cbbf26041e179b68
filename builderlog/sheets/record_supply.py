"""Sheets of what came into the shop and what left it: parts, work away, wrenches, papers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding.costs import Spending, spending_of
from builderlog.deciding.papers import Papers
from builderlog.deciding.papers import papers as papers_of
from builderlog.knowing.entries import Away, Money
from builderlog.knowing.ledger import Ledger, Part, PartEvent
from builderlog.knowing.rulebook import AskedPaper
from builderlog.knowing.settings import Paper, Wrench
from builderlog.sheets.table import (
    Column,
    InNote,
    Sheet,
    entries,
    number,
    sheet,
    sheet_of_entries,
    text,
)


@dataclass(frozen=True, slots=True)
class _Sighting:
    """One event of one part; `spending` stands only at the event whose cost counts."""

    lot: int
    part: Part
    event: PartEvent
    spending: Spending | None


def parts(ledger: Ledger) -> Sheet:
    """Every part with its whole history; the sum of `counted` is what was spent."""
    columns: tuple[Column[_Sighting], ...] = (
        number("lot", "the same number: the same thing, moving along", lambda row: row.lot),
        text("part", "what it is", lambda row: row.part.name),
        text("ref", "part or serial number", lambda row: row.part.ref),
        text("date", "day of the note", lambda row: row.event.day),
        text("status", "where it stood that day", lambda row: row.event.line.status),
        number("count", "how many, as said that day", lambda row: row.event.line.count),
        text("from", "the supplier", lambda row: row.event.line.source),
        text("due", "expected on", lambda row: row.event.line.due),
        text("task", "the task it is for", lambda row: row.event.line.task),
        text("receipt", "invoice or delivery note", lambda row: row.event.line.receipt),
        *_cost_columns(),
        text("note", "the note that says so", lambda row: row.event.note),
    )
    title = "Every part and material: one row each time a note tells of it."
    return sheet("parts", title, columns, _sightings(ledger))


def _cost_columns() -> tuple[Column[_Sighting], ...]:
    """The cost as written, and as it is counted, once for each thing."""
    return (
        number("cost", "as the note gives it", lambda row: _amount(row.event.line.cost)),
        text("currency", "of `cost`", lambda row: _currency(row.event.line.cost)),
        number("counted", "in the journal's currency, exact, once a lot", lambda r: _counted(r)[0]),
        text("counted_currency", "its own where no rate is known", lambda row: _counted(row)[1]),
        text(
            "counted_on", "first day with a cost", lambda r: r.spending.day if r.spending else None
        ),
    )


def _amount(money: Money | None) -> str | None:
    """The exact amount with the digits it was written with."""
    return f"{money.amount:f}" if money else None


def _currency(money: Money | None) -> str | None:
    return money.currency if money else None


def _counted(row: _Sighting) -> tuple[str | None, str | None]:
    money = row.spending.counted if row.spending else None
    return _amount(money), _currency(money)


def _sightings(ledger: Ledger) -> Iterator[_Sighting]:
    for lot, part in enumerate(ledger.parts, start=1):
        spending = spending_of(part, ledger.settings)
        newest = max((i for i, event in enumerate(part.events) if event.line.cost), default=None)
        for index, event in enumerate(part.events):
            yield _Sighting(lot, part, event, spending if index == newest else None)


def away(ledger: Ledger) -> Sheet:
    """Work that left the shop, which an inspector asks about first."""
    columns: tuple[Column[InNote[Away]], ...] = (
        text("what", "what left", lambda row: row.line.what),
        text("task", "for which task", lambda row: row.line.task),
        text("with", "with whom", lambda row: row.line.firm),
        text("as", "paid, maker or unpaid", lambda row: row.line.capacity),
        text("sent", "day it left", lambda row: row.line.sent),
        text("due", "expected on", lambda row: row.line.due),
        text("back", "day it came back", lambda row: row.line.back),
    )
    rows = entries(ledger, lambda note: note.away)
    return sheet_of_entries("away", "Work done away from the shop.", columns, rows)


def wrenches(ledger: Ledger) -> Sheet:
    """The torque wrenches that `torqued` names."""
    columns: tuple[Column[Wrench], ...] = (
        text("wrench", "the name that notes use", lambda row: row.name),
        text("calibrated", "days of calibration", lambda row: row.calibrated),
        text("length", "from the centre of its drive to the hand", lambda row: row.length),
    )
    return sheet("wrenches", "Torque wrenches.", columns, ledger.settings.wrenches)


@dataclass(frozen=True, slots=True)
class _Paper:
    """A paper that is asked for with one of the builder's that is it; either may be missing."""

    asked: AskedPaper | None
    listed: Paper | None


def papers(ledger: Ledger) -> Sheet:
    """What the authority asks for beside what the builder lists; then the builder's others."""
    columns: tuple[Column[_Paper], ...] = (
        text("asked", "as the rulebook lists it", lambda r: r.asked.name if r.asked else None),
        text("form", "the form's number", lambda row: row.asked.form if row.asked else None),
        text("citation", "where it is asked", lambda r: r.asked.citation if r.asked else None),
        text("known", "how this is known", lambda row: row.asked.known if row.asked else None),
        text(
            "paper",
            "the document, as the builder lists it",
            lambda row: row.listed.name if row.listed else None,
        ),
        text("have", "at hand since", lambda row: row.listed.have if row.listed else None),
        text(
            "file", "its file in the journal", lambda row: row.listed.file if row.listed else None
        ),
    )
    title = "Documents that the authority asks for, as far as known, and those of the builder."
    return sheet("papers", title, columns, _papers(papers_of(ledger)))


def _papers(found: Papers) -> Iterator[_Paper]:
    for held in found.asked:
        yield from (_Paper(held.asked, paper) for paper in held.listed or (None,))
    yield from (_Paper(None, paper) for paper in found.others)
