"""The entries that speak for a task, in words: measured, torqued, mixed, looked at, sent away.

Values stand as written and in the other system; a value is held against its limit exactly.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from builderlog.deciding.assistance import WorkAway
from builderlog.deciding.both_systems import both
from builderlog.deciding.limits import HELD_WORDS, Held, held_against
from builderlog.deciding.questions import CAPACITIES
from builderlog.deciding.states import sentence
from builderlog.deciding.task_record import TaskRecord, Told
from builderlog.knowing.entries import Measured, Note, PartLine, Process, Torqued, Visit
from builderlog.knowing.ledger import Snag
from builderlog.knowing.units import Quantity
from builderlog.sheets.chapter import Cell, Column, Paragraph, Rows
from builderlog.sheets.evidence_people import People
from builderlog.sheets.shelf import Shelf
from builderlog.sheets.table import as_words

MEASURED = (
    Column("Measured", share=4),
    Column("Value", share=3),
    Column("Limit", share=3),
    Column("Held against it", share=3),
    Column("Note"),
)
ENTRIES = (Column("Entry"), Column("On record", share=7), Column("Notes and papers", share=3))
# The chapters that have all entries of a kind.
REGISTERS = {
    "torqued": "closeout",
    "process": "process",
    "visit": "visits",
    "snag": "snags",
    "part": "parts",
    "work away": "help",
}
OF_NOTES = (
    "A measurement, torque or process entry belongs to its note, not to a task: in a note that "
    "works on several tasks it may speak of another of them. That holds here for {}."
)


def entry_blocks(record: TaskRecord, people: People, shelf: Shelf) -> Iterator[Rows | Paragraph]:
    """Measurements held against their limits; then every other entry; then what they may mean."""
    measured = tuple(_measured(each, shelf) for each in record.measured)
    if measured:
        yield Rows(f"Measurements of {record.id}", MEASURED, measured)
    entries = tuple(dict.fromkeys(_entries(record, people, shelf)))
    if entries:
        yield Rows(f"Entries on {record.id}", ENTRIES, entries)
    shared = _shared_days(record)
    if shared:
        yield Paragraph(OF_NOTES.format(", ".join(shared)), kind="quiet")


def _shared_days(record: TaskRecord) -> tuple[str, ...]:
    """The days of the notes whose entries may speak of another task."""
    notes = {each.path: each for each in _noted(record)}
    return tuple(
        str(note.day)
        for note in sorted(notes.values(), key=lambda note: note.order)
        if any(line.task.text != record.id for line in note.tasks)
    )


def _noted(record: TaskRecord) -> Iterator[Note]:
    """The notes of its measurements, torque and process entries."""
    yield from (each.note for each in record.measured)
    yield from (each.note for each in record.torqued)
    yield from (each.note for each in record.process)


def _measured(each: Told[Measured], shelf: Shelf) -> tuple[Cell, ...]:
    line, held = each.line, held_against(each.line.value, each.line.limit)
    return (
        Cell(line.what.text),
        Cell(_value(line.value)),
        Cell(_value(line.limit)),
        Cell(HELD_WORDS[held], weak=held in (Held.NO_LIMIT, Held.NO_VALUE)),
        Cell(links=shelf.notes([each.note.path])),
    )


def _value(quantity: Quantity | None) -> str:
    return both(quantity) if quantity else ""


def _entries(record: TaskRecord, people: People, shelf: Shelf) -> Iterator[tuple[Cell, ...]]:
    """By which drawing or page; torque, process; what came from outside; what was wrong."""
    pages: dict[str, list[str]] = {}
    for method in record.methods:
        pages.setdefault(str(method.line.per), []).append(method.note.path)
    for page, notes in pages.items():
        yield _row("method", page, shelf, dict.fromkeys(notes))
    for torqued in record.torqued:
        yield _row("torqued", torqued_words(torqued.line, people), shelf, [torqued.note.path])
    for process in record.process:
        yield _row("process", process_words(process.line), shelf, [process.note.path])
    yield from _with_papers(record, people, shelf)


def _with_papers(record: TaskRecord, people: People, shelf: Shelf) -> Iterator[tuple[Cell, ...]]:
    """Visits with their sheets, snags, parts that have a receipt, work away."""
    for visit in record.visits:
        sheet = [visit.line.sheet.text] if visit.line.sheet else []
        yield _row("visit", visit_words(visit.line, people), shelf, [visit.note.path], sheet)
    for snag in record.snags:
        told_in = dict.fromkeys((snag.note, snag.fixed_in or snag.note))
        yield _row("snag", snag_words(snag, people), shelf, told_in)
    for part in record.parts:
        if part.line.receipt:
            receipt = [part.line.receipt.text]
            yield _row("part", part_words(part.line), shelf, [part.note.path], receipt)
    for away in record.away:
        yield _row("work away", away_words(away), shelf, away.notes, away.receipts)


def _row(
    kind: str, words: str, shelf: Shelf, notes: Iterable[str], papers: Iterable[str] = ()
) -> tuple[Cell, ...]:
    return (
        Cell(kind, to=REGISTERS.get(kind, "")),
        Cell(words),
        Cell(links=(*shelf.notes(notes), *shelf.papers(papers))),
    )


def _joined(words: Iterable[object]) -> str:
    return ", ".join(str(word) for word in words if word)


def torqued_words(line: Torqued, people: People) -> str:
    """The value wanted and its source; then what the wrench showed, marks, and who."""
    count = pieces(line.count)
    asked = f"asked {_value(line.wanted)}, without drag" if line.wanted else ""
    source = f"by {line.source}" if line.source else "no source named" if line.wanted else ""
    drag = f"drag {_value(line.drag)}" if line.drag else ""
    shown = f"wrench set to {_value(line.set_to)}" if line.set_to else ""
    wrench = f"{line.wrench}" if line.wrench else ""
    extension = f"extension {line.extension}" if line.extension else ""
    return "; ".join(
        words
        for words in (
            _joined((line.where, line.bolt, count)),
            _joined((asked, source)),
            _joined((drag, shown, wrench, extension)),
            _joined((_marked(line), f"safetied: {line.safetied}" if line.safetied else "")),
            _by(line, people),
        )
        if words
    )


def _marked(line: Torqued) -> str:
    return {True: "marked", False: "not marked", None: ""}[line.marked]


def _by(line: Torqued, people: People) -> str:
    by = f"by {people.names(line.by)}" if line.by else ""
    witness = f"second pair of eyes {people.names(line.witness)}" if line.witness else ""
    return _joined((by, witness))


def pieces(count: Decimal | None) -> str:
    """1 piece, 12 pieces; nothing where no number is given."""
    if count is None:
        return ""
    return f"{as_words(count)} {'piece' if count == 1 else 'pieces'}"


def process_words(line: Process) -> str:
    """What was mixed or laid on, of which batch, in what air, and its sample."""
    named = (
        ("batch", line.batch),
        ("expires", line.expires.day if line.expires else None),
        ("mixed", line.mix),
        ("coat", line.coat),
        ("temperature", _value(line.temperature)),
        ("humidity", _value(line.humidity)),
        ("sample", line.sample),
    )
    return _joined((line.what, *(f"{name} {word}" for name, word in named if word)))


def visit_words(line: Visit, people: People) -> str:
    """Who came, as what, what they said, and with what result."""
    capacity = f" ({line.capacity})" if line.capacity else ""
    said = f"Said: {line.said}" if line.said else ""
    found = f"Found: {'; '.join(str(each.snag) for each in line.found)}" if line.found else ""
    result = f"Result: {line.result}" if line.result else ""
    told = (f"{people.names(line.who)}{capacity}", said, found, result)
    return " ".join(sentence(words) for words in told if words)


def snag_words(snag: Snag, people: People) -> str:
    """The snag with its number; how and by whom it was put right, or that it is open."""
    if not snag.fixed:
        return f"{snag.number} {snag.line.snag}; open"
    how = f": {snag.fixed.how}" if snag.fixed.how else ""
    by = f", by {people.names(snag.fixed.by)}" if snag.fixed.by else ""
    witness = f", seen by {people.names(snag.fixed.witness)}" if snag.fixed.witness else ""
    return f"{snag.number} {snag.line.snag}; put right on {snag.fixed_on}{how}{by}{witness}"


def part_words(line: PartLine) -> str:
    """A part with its number, count, standing and where it came from."""
    count = pieces(line.count)
    source = f"from {line.source}" if line.source else ""
    return _joined((line.part, line.ref, count, line.status, source))


def away_words(each: WorkAway) -> str:
    """Work that left the shop: to whom, in what capacity, and when it came back."""
    sent = f"sent {each.sent}" if each.sent else ""
    back = f"back {each.back}" if each.back else "not yet back"
    capacity = CAPACITIES[each.capacity]
    return _joined((each.what, each.firm, capacity, sent, back))
