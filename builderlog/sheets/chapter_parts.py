"""The chapter of parts and materials: what for, from whom, at what cost, receipts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from builderlog.deciding import sums
from builderlog.deciding.costs import Spending, shown, spending_of, sum_by_currency
from builderlog.deciding.words import amount
from builderlog.knowing.entries import PartStatus
from builderlog.knowing.ledger import Ledger, Part
from builderlog.sheets.cells import NOT_SAID, Names, maybe, money_words, names_of, sums_words
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.material import Material
from builderlog.sheets.places import area_title
from builderlog.sheets.shelf import Shelf

NOT_HERE = (PartStatus.WANTED, PartStatus.ORDERED, PartStatus.BACK_ORDERED, PartStatus.SHORT)
GONE = (PartStatus.SENT_BACK, PartStatus.SCRAPPED)
NO_SOURCE = "no source on record"
LACKING = "Of the parts and materials that came in and stayed,"
NONE = "No note tells of a part or a material, so the record does not say where any came from."


@dataclass(frozen=True, slots=True)
class _Lot:
    """One part with what all its entries say together."""

    part: Part
    spending: Spending | None
    sources: tuple[str, ...]
    receipts: tuple[str, ...]
    tasks: tuple[str, ...]
    area: str  # that of its first task

    @property
    def is_here(self) -> bool:
        """Came into the shop, whatever became of it then."""
        return self.part.status not in NOT_HERE

    @property
    def title(self) -> str:
        """Name with part or serial number."""
        return f"{self.part.name}, {self.part.ref}" if self.part.ref else self.part.name


@dataclass(frozen=True, slots=True)
class _Desk:
    names: Names
    shelf: Shelf
    currency: str | None  # the journal's, which comes first among sums


def parts(held: Material) -> Iterator[Chapter]:
    """What came in by area, what is awaited, what has neither source nor receipt, and all sums."""
    ledger = held.ledger
    lots = tuple(_lot(part, ledger) for part in ledger.parts)
    title = "Parts and materials"
    if not lots:
        yield Chapter("parts", title, (Paragraph(NONE, "gap"),))
        return
    desk = _Desk(names_of(held.found), held.shelf, ledger.settings.currency)
    here = [lot for lot in lots if lot.is_here]
    blocks: tuple[Block, ...] = (
        Paragraph(_opening(lots, here), "lead"),
        *_by_area(here, ledger, desk),
        *_awaited([lot for lot in lots if not lot.is_here], desk),
        *_thin(here, desk),
        _by_source(lots, desk),
    )
    yield Chapter("parts", title, blocks)


def _lot(part: Part, ledger: Ledger) -> _Lot:
    lines = [event.line for event in part.events]
    tasks = _each_once(line.task for line in lines)
    area = sums.area_of(tasks[0], ledger.worklist) if tasks else sums.NO_AREA
    return _Lot(
        part=part,
        spending=spending_of(part, ledger.settings),
        sources=_each_once(line.source for line in lines),
        receipts=_each_once(line.receipt for line in lines),
        tasks=tasks,
        area=area,
    )


def _each_once(words: Iterable[object]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(word) for word in words if word))


def _opening(lots: Sequence[_Lot], here: Sequence[_Lot]) -> str:
    told = f"Parts and materials in the notes, each thing or lot once: {len(lots)}"
    awaited = len(lots) - len(here)
    return f"{told}, of which {awaited} not yet here." if awaited else f"{told}."


def _by_area(lots: Iterable[_Lot], ledger: Ledger, desk: _Desk) -> Iterator[Section]:
    """Areas in the order of the work list, then what is for no area."""
    found: dict[str, list[_Lot]] = {}
    for lot in lots:
        found.setdefault(lot.area, []).append(lot)
    titles = {area.id: area_title(area) for area in ledger.worklist.areas}
    areas = [*titles, sums.NO_AREA]
    for number, area in enumerate(areas, start=1):
        if area in found:
            title = titles.get(area, "For no one area")
            yield Section(f"parts-{number}", title, (_table(title, found[area], desk),))


def _table(caption: str, lots: Sequence[_Lot], desk: _Desk) -> Rows:
    columns = (
        Column("Part or material", share=5),
        Column("Count", number=True),
        Column("Standing", share=2),
        Column("From", share=3),
        Column("For", share=3),
        Column("Cost", share=3),
        Column("Receipt", share=3),
        Column("Notes", share=3),
    )
    rows = tuple(_row(lot, desk) for lot in lots)
    spent = _spent(lots, desk)
    total = tuple(map(Cell, ("Together", "", "", "", "", spent, "", "")))
    return Rows(caption, columns, (*rows, total) if spent else rows, sums=1 if spent else 0)


def _spent(lots: Iterable[_Lot], desk: _Desk) -> str:
    money = [lot.spending.counted for lot in lots if lot.spending]
    return sums_words(shown(sum_by_currency(money, desk.currency)))


def _row(lot: _Lot, desk: _Desk) -> tuple[Cell, ...]:
    part = lot.part
    notes = dict.fromkeys(event.note for event in part.events)
    receipts = desk.shelf.papers(lot.receipts)
    return (
        Cell(lot.title),
        Cell("" if part.count is None else amount(part.count)),
        maybe(part.status),
        Cell("; ".join(lot.sources)) if lot.sources else NOT_SAID,
        desk.names.cells(lot.tasks),
        _cost(lot.spending),
        Cell(links=receipts) if receipts else Cell("none", weak=True),
        Cell(links=desk.shelf.notes(notes)),
    )


def _cost(spending: Spending | None) -> Cell:
    """In its own currency, and as it is counted where that is another."""
    if spending is None:
        return Cell()
    written, counted_as = spending.written, spending.counted
    if written.currency == counted_as.currency:
        return Cell(money_words(written))
    return Cell(f"{money_words(written)} = {money_words(counted_as)}")


def _awaited(lots: Sequence[_Lot], desk: _Desk) -> Iterator[Section]:
    if not lots:
        return
    columns = (
        Column("Part or material", share=5),
        Column("Count", number=True),
        Column("Standing", share=3),
        Column("Expected on", share=3),
        Column("From", share=4),
        Column("For", share=4),
        Column("Cost", share=3),
        Column("Notes", share=3),
    )
    title = "Not yet here: wanted, ordered, back-ordered or short"
    rows = tuple(_waiting(lot, desk) for lot in lots)
    yield Section("parts-awaited", title, (Rows(title, columns, rows),))


def _waiting(lot: _Lot, desk: _Desk) -> tuple[Cell, ...]:
    name, count, standing, source, task, cost, _, notes = _row(lot, desk)
    due = [event.line.due.day for event in lot.part.events if event.line.due]
    return name, count, standing, maybe(due[-1] if due else None), source, task, cost, notes


def _thin(here: Sequence[_Lot], desk: _Desk) -> Iterator[Section]:
    """What came in and has no source, or no receipt, on record."""
    lacking = [lot for lot in here if lot.part.status not in GONE and not _is_documented(lot)]
    if not lacking:
        return
    no_source = sum(not lot.sources for lot in lacking)
    no_receipt = sum(not lot.receipts for lot in lacking)
    counts = ((no_source, "source"), (no_receipt, "receipt"))
    told = " and ".join(f"{number} have no {what}" for number, what in counts if number)
    columns = (
        Column("Part or material", share=5),
        Column("For", share=4),
        Column("Not on record", share=4),
    )
    rows = tuple(
        (Cell(lot.title), desk.names.cells(lot.tasks), Cell(_lacks(lot), weak=True))
        for lot in lacking
    )
    title = "Without a source or a receipt"
    yield Section(
        "parts-thin", title, (Paragraph(f"{LACKING} {told}.", "gap"), Rows(title, columns, rows))
    )


def _is_documented(lot: _Lot) -> bool:
    return bool(lot.sources and lot.receipts)


def _lacks(lot: _Lot) -> str:
    found = {"source": lot.sources, "receipt": lot.receipts}
    return " and ".join(word for word, told in found.items() if not told)


def _by_source(lots: Sequence[_Lot], desk: _Desk) -> Section:
    """Each source once; the last row is what was spent in all."""
    found: dict[str, list[_Lot]] = {}
    for lot in lots:
        found.setdefault("; ".join(lot.sources), []).append(lot)
    columns = (
        Column("From", share=5),
        Column("Parts", number=True),
        Column("Spent", number=True, share=4),
    )
    rows = (
        *(_source(name, found[name], desk) for name in sorted(found, key=_last_if_none)),
        tuple(map(Cell, ("In all", str(len(lots)), _spent(lots, desk)))),
    )
    told = Paragraph(
        "Each thing counts once, with the newest cost on record, also where it is not here yet; in "
        "the journal's currency by its own dated list of exchange, and without a rate in its own. "
        "Sums are exact and are rounded once, at the end; data/tables/parts.csv has every amount.",
        "quiet",
    )
    title = "What was spent, by source"
    return Section("parts-spent", title, (Rows(title, columns, rows, sums=1), told))


def _last_if_none(name: str) -> tuple[bool, str]:
    return not name, name.casefold()


def _source(name: str, lots: Sequence[_Lot], desk: _Desk) -> tuple[Cell, ...]:
    named = Cell(name) if name else Cell(NO_SOURCE, weak=True)
    return named, Cell(str(len(lots))), Cell(_spent(lots, desk))
