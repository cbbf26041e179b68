"""Changes of one note, exact to the byte: what was asked is added, every other byte stays.

Every function gives the bytes of the changed note, and the same bytes where nothing is to be
done. Where the note cannot be changed in place it raises CannotEditError with a sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from unicodedata import normalize

from builderlog.noting.new_note import NewPart, NewPhoto, flow_of
from builderlog.noting.note_edit_hours import with_span
from builderlog.noting.note_edit_snags import with_snag_numbers
from builderlog.noting.note_edit_text import (
    NOTE_ORDER,
    OpenNote,
    Said,
    as_items,
    finished,
    open_note,
    parsed,
    said,
)
from builderlog.reading.words import Series, Table
from builderlog.reading.yaml_edits import STEP, CannotEditError, Frame, Item, pair_of

__all__ = ["CannotEditError", "with_parts", "with_photos", "with_snag_numbers", "with_span"]


def with_photos(path: str, data: bytes, photos: Sequence[NewPhoto]) -> bytes:
    """The note with these pictures too; one that it names already is not named again."""
    note = open_note(path, data)
    named = {_photo_in(item) for item in as_items(note.said.get("photos"))}
    new: dict[str, NewPhoto] = {}
    for photo in photos:
        new.setdefault(_same_name(photo.photo), photo)
    rows = [flow_of(photo) for name, photo in new.items() if name not in named]
    return _with_rows(note, "photos", rows)


def with_parts(path: str, data: bytes, parts: Sequence[NewPart]) -> bytes:
    """The note with these parts below those that it has; two alike are two lots."""
    return _with_rows(open_note(path, data), "parts", [flow_of(part) for part in parts])


def _same_name(path: str) -> str:
    """One name for the two ways in which Unicode writes é."""
    return normalize("NFC", path)


def _photo_in(item: Said) -> str:
    path = item.get("photo") if isinstance(item, dict) else item
    return _same_name(path) if isinstance(path, str) else ""


def _with_rows(note: OpenNote, key: str, rows: Sequence[str]) -> bytes:
    """The note with more rows in the list that a key holds."""
    if not rows:
        return note.raw.source.data
    read = [parsed(row) for row in rows]
    items = [Item(row, (row,)) for row in rows]
    table = note.raw.table
    if table is None:
        frame = Frame(note.edits.line_break(note.raw.closing or 0), STEP)
        note.begin(f"{key}:{frame.lines_of(items)}")
    else:
        if _is_in_lines(note, table, key):
            items = [_in_lines(row) for row in rows]
        note.edits.append(table, key, items, NOTE_ORDER)
    wanted = (*as_items(note.said.get(key)), *(said(node) for _, node in read))
    by_hand = f"{key}: [{', '.join(rows)}]" if len(rows) > 1 else f"{key}: {rows[0]}"
    return finished(note, {**note.said, key: wanted}, by_hand)


def _is_in_lines(note: OpenNote, table: Table, key: str) -> bool:
    """True where the last row of the list is written with a line for each of its keys."""
    pair = pair_of(table, key)
    value = pair.value if pair else None
    last = value.items[-1] if isinstance(value, Series) and value.items else value
    return isinstance(last, Table) and not note.edits.is_flow(last)


def _in_lines(row: str) -> Item:
    edits, node = parsed(row)
    if not isinstance(node, Table):
        return Item(row, (row,))
    return Item(row, tuple(f"{pair.key.text}: {edits.raw(pair.value)}" for pair in node.pairs))
