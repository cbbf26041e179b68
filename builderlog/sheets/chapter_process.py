"""The chapter of process records and measurements: materials by batch, values by their limits."""

from __future__ import annotations

from collections.abc import Iterator

from builderlog.deciding.both_systems import both
from builderlog.deciding.limits import HELD_WORDS, Held
from builderlog.deciding.measurements import Measurement, measurements
from builderlog.deciding.words import counted
from builderlog.knowing.entries import Privacy, Process
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.knowing.units import Quantity
from builderlog.sheets.cells import maybe, said
from builderlog.sheets.chapter import Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import Shelf
from builderlog.sheets.table import InNote, entries

TITLE = "Process records and measurements"
NONE = "No note tells of glue, resin, fabric, primer or heat, and none of a measurement."
CAUTION = (
    "A limit is the one that the builder wrote beside the value; the maker's documents prevail. "
    "That a value lies inside it is arithmetic and grants nothing. Values in brackets are "
    "converted exactly and rounded for reading only."
)
PROCESS_COLUMNS = (
    Column("Day", share=2),
    Column("Material or process", share=4),
    Column("Batch", share=2),
    Column("Last day", share=3),
    Column("Mix", share=2),
    Column("Coat", share=2),
    Column("Temperature", share=3),
    Column("Humidity", share=2),
    Column("Sample kept", share=3),
)
MEASURED_COLUMNS = (
    Column("Day", share=2),
    Column("Measured", share=5),
    Column("Value", share=4),
    Column("Limit", share=4),
    Column("Held against it", share=4),
)


def process(held: Material) -> Iterator[Chapter]:
    """Both parts; each says so where it has no entry."""
    made = _processes(held.ledger)
    taken = measurements(held.ledger)
    if not made and not taken:
        yield Chapter("process", TITLE, (Paragraph(NONE, "lead"),))
        return
    lead = f"{counted(len(made), 'process entry', 'process entries')} and "
    lead += f"{counted(len(taken), 'measurement')} on record."
    yield Chapter(
        "process",
        TITLE,
        (
            Paragraph(lead[0].upper() + lead[1:], "lead"),
            Paragraph(CAUTION, "caution"),
            _process_section(made, held.shelf),
            _measured_section(taken, held.shelf),
        ),
    )


def _processes(ledger: Ledger) -> tuple[InNote[Process], ...]:
    """Oldest first; a note of which only the time reaches anyone gives none."""
    return tuple(
        row
        for row in entries(ledger, lambda note: note.process)
        if row.note.privacy is not Privacy.HOURS_ONLY
    )


def _process_section(made: tuple[InNote[Process], ...], shelf: Shelf) -> Section:
    rows = tuple(_process_row(row, shelf) for row in made)
    title = "Glue, resin, fabric, primer, heat"
    table = Rows(title, PROCESS_COLUMNS, rows, empty="No note tells of any.")
    late = sum(_expired(row) for row in made)
    aside = f"{late} used after the last day" if late else ""
    return Section("process-records", title, (table,), aside=aside)


def _process_row(row: InNote[Process], shelf: Shelf) -> tuple[Cell, ...]:
    line = row.line
    return (
        Cell(links=shelf.notes((row.note.path,))),
        said(line.what),
        said(line.batch),
        _last_day(row),
        maybe(line.mix),
        maybe(line.coat),
        _value(line.temperature),
        _value(line.humidity),
        maybe(line.sample),
    )


def _expired(row: InNote[Process]) -> bool:
    return bool(row.line.expires and row.note.day and row.note.day > row.line.expires.day)


def _last_day(row: InNote[Process]) -> Cell:
    """The last day of use; flagged where it was past on the day of the note."""
    if row.line.expires is None:
        return said(None)
    late = _expired(row)
    return Cell(f"{row.line.expires.day}{', past when used' if late else ''}", weak=late)


def _measured_section(taken: tuple[Measurement, ...], shelf: Shelf) -> Section:
    rows = tuple(_measured_row(each, shelf) for each in taken)
    table = Rows("Measurements", MEASURED_COLUMNS, rows, empty="No note tells of any.")
    outside = sum(each.held is Held.OUTSIDE for each in taken)
    aside = f"{outside} outside the limit" if outside else ""
    return Section("process-measurements", "Measurements and their limits", (table,), aside=aside)


def _measured_row(each: Measurement, shelf: Shelf) -> tuple[Cell, ...]:
    return (
        Cell(links=shelf.notes((each.note.path,))),
        said(each.line.what),
        _value(each.line.value),
        _value(each.line.limit),
        _held(each),
    )


def _held(each: Measurement) -> Cell:
    """How it stands to its limit; where outside, what the record tells of it since."""
    told = [HELD_WORDS[each.held]]
    if each.held is Held.OUTSIDE:
        told += [f"measured again on {each.again}"] if each.again else []
        told += [f"snag {snag.number} of the same note {_state(snag)}" for snag in each.snags]
    return Cell("; ".join(told), weak=each.held in {Held.NO_LIMIT, Held.NO_VALUE})


def _state(snag: Snag) -> str:
    if snag.fixed is None:
        return "is open"
    return f"was put right on {snag.fixed_on}" if snag.fixed_on else "was put right"


def _value(quantity: Quantity | None) -> Cell:
    """In both systems; an empty cell where there is none."""
    return Cell(both(quantity) if quantity else "")
