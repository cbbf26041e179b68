"""Numbers for the snags of a note, written into the file: they stay when notes are added."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from builderlog.knowing.entries import Note
from builderlog.knowing.notes import note_of
from builderlog.knowing.snags import numbered
from builderlog.noting.note_edit_text import OpenNote, Said, finished, open_note, said
from builderlog.reading.quoting import in_braces
from builderlog.reading.words import Node, Series, Table, Word
from builderlog.reading.yaml_edits import CannotEditError, pair_of

_SNAG_ORDER = ("snag", "area", "task", "no")


def with_snag_numbers(path: str, data: bytes, day: date, notes: Sequence[Note] = ()) -> bytes:
    """The note with `no:` on every snag that has none: the number that the ledger gives it today.

    `notes` are the ledger's, in which other notes of the day may have snags and numbers; a number
    that another snag has already is passed over for the next one.
    """
    note = open_note(path, data)
    found, _ = note_of(note.raw, None)
    numbers = _numbers(replace(found, day=day), notes)
    if not numbers:
        return data
    wanted = _said_with(note, numbers)
    for node in _snags_in(note.raw.table):
        if node.place.start in numbers:
            _write(note, node, numbers[node.place.start])
    given = ", ".join(f"no: {number}" for number in numbers.values())
    return finished(note, wanted, given)


def _numbers(note: Note, notes: Sequence[Note]) -> dict[int, str]:
    """The number of each snag of the note that has none, by where the snag stands."""
    others = [other for other in notes if other.path != note.path and other.day is not None]
    ordered = sorted([*others, note], key=lambda each: each.order)
    lines = list(numbered(ordered))
    taken = {line.number.text for _, line, _ in lines if line.number}
    taken |= {number for of, _, number in lines if of.path != note.path}
    numbers: dict[int, str] = {}
    for of, line, number in lines:
        if of.path == note.path and line.number is None:
            numbers[line.place.start] = _free(number, taken)
            taken.add(numbers[line.place.start])
    return numbers


def _free(number: str, taken: set[str]) -> str:
    """The number, or the next one of that day that nobody has."""
    day, _, place = number.rpartition(".")
    count = int(place)
    while f"{day}.{count}" in taken:
        count += 1
    return f"{day}.{count}"


def _snags_in(table: Table | None) -> Iterator[Node]:
    """Every snag that a note tells, those found on a visit too."""
    for pair in table.pairs if table else ():
        if pair.key.text in ("snags", "squawks"):
            yield from _rows(pair.value)
        elif pair.key.text == "visits":
            for visit in _rows(pair.value):
                found = pair_of(visit, "found") if isinstance(visit, Table) else None
                yield from _rows(found.value) if found else ()


def _rows(node: Node) -> tuple[Node, ...]:
    return node.items if isinstance(node, Series) else (node,)


def _write(note: OpenNote, node: Node, number: str) -> None:
    if isinstance(node, Table):
        note.edits.set_yaml(node, "no", in_braces(number), _SNAG_ORDER)
    elif isinstance(node, Word):
        note.edits.wrap(node, "{snag: ", f", no: {in_braces(number)}}}")
    else:
        raise CannotEditError("a list stands where a snag should")


def _said_with(note: OpenNote, numbers: dict[int, str]) -> dict[str, Said]:
    """What the note says once each of these snags has its number."""
    table = note.raw.table
    return {
        pair.key.text: _numbered(pair.value, numbers) for pair in (table.pairs if table else ())
    }


def _numbered(node: Node, numbers: dict[int, str]) -> Said:
    number = numbers.get(node.place.start)
    match node:
        case Series():
            return tuple(_numbered(item, numbers) for item in node.items)
        case Table() if number is None or pair_of(node, "snag") is None:
            return {pair.key.text: _numbered(pair.value, numbers) for pair in node.pairs}
        case Table():
            return {**{pair.key.text: said(pair.value) for pair in node.pairs}, "no": number}
        case Word() if number is not None and not node.empty:
            return {"snag": node.text, "no": number}
    return said(node)
