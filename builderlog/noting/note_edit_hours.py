"""A span of the clock added to the hours of one person in a note that is there already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from builderlog.knowing.hours import length_text
from builderlog.knowing.notes import note_of
from builderlog.knowing.units import Length, Span, UnreadableError, parse_length
from builderlog.noting.note_edit_text import NOTE_ORDER, OpenNote, Said, finished, open_note, said
from builderlog.reading.quoting import in_braces
from builderlog.reading.words import Node, Series, Table, Word
from builderlog.reading.yaml_edits import CannotEditError, Item, is_empty, pair_of

_HOURS = "hours"


@dataclass(frozen=True, slots=True)
class _Added:
    """What is added to whose hours; `name` is "" for a builder whose name nobody told."""

    written: str
    length: Length
    name: str
    builder: str

    @property
    def own(self) -> bool:
        """True for the builder, whose hours need no name."""
        return self.name == self.builder

    @property
    def item(self) -> Item:
        """As an item of a list."""
        return Item(self.written, (self.written,))


def with_span(path: str, data: bytes, span: str, person: str = "", builder: str = "") -> bytes:
    """The note with a span of the clock, as 19:10-22:25, added to the hours of a person.

    `person` "" is the builder; `builder` is the builder's name, needed where hours go by name. A
    span there becomes a list of spans, any other length the sum. A span that is there already is
    not added again.
    """
    note = open_note(path, data)
    added = _Added(span, _read(span), person or builder, builder)
    if not added.length.spans:
        raise CannotEditError(f"'{span}' is not a span of the clock; write 19:10-22:25")
    table = note.raw.table
    pair = pair_of(table, _HOURS) if table else None
    if pair is None or is_empty(pair.value):
        hours = _begin(note, added)
    elif isinstance(pair.value, Table):
        hours = _by_name(note, pair.value, added)
    elif added.own:
        hours = _extended(note, pair.value, added)
    else:
        hours = _two_names(note, pair.value, added)
    if hours is None:
        return data
    return finished(note, {**note.said, _HOURS: hours}, f"hours: {_named(added)}")


def _read(text: str) -> Length:
    try:
        return parse_length(text)
    except UnreadableError as fault:
        raise CannotEditError(str(fault)) from None


def _named(added: _Added) -> str:
    return added.written if added.own else f"{{{in_braces(added.name)}: {added.written}}}"


def _begin(note: OpenNote, added: _Added) -> Said:
    """The note gives nobody hours yet."""
    _refuse_hours_of_tasks(note, added)
    if note.raw.table is None:
        note.begin(f"{_HOURS}: {_named(added)}")
    else:
        note.edits.set_yaml(note.raw.table, _HOURS, _named(added), NOTE_ORDER)
    return added.written if added.own else {added.name: added.written}


def _refuse_hours_of_tasks(note: OpenNote, added: _Added) -> None:
    """Who has no hours has those of their tasks, and a span beside them would replace these."""
    found, _ = note_of(note.raw, None)
    for task in found.tasks:
        who = {name.text for name in task.who} or {added.builder}
        if task.length is not None and added.name in who:
            raise CannotEditError(
                f"line {task.place.line} gives time to task {task.task}, and the note has no "
                f"hours beside it; write the time of the whole evening as hours: {_named(added)}"
            )


def _by_name(note: OpenNote, table: Table, added: _Added) -> Said:
    """`hours: {Ines: 3h15}`: one more name, or more for a name that is there."""
    if not added.name:
        raise CannotEditError("the hours here go by name; say whose this time is")
    pair = pair_of(table, added.name)
    if pair is not None and not is_empty(pair.value):
        hours = _extended(note, pair.value, added, table.place.column)
        return None if hours is None else {**_names(table), added.name: hours}
    _refuse_hours_of_tasks(note, added)
    name = in_braces(added.name)
    order = [pair.key.text for pair in table.pairs]
    if pair is not None:
        note.edits.set_yaml(table, added.name, added.written, order)
    else:
        note.edits.insert_pair(table, name, f" {added.written}", [*order, name])
    return {**_names(table), added.name: added.written}


def _names(table: Table) -> dict[str, Said]:
    return {pair.key.text: said(pair.value) for pair in table.pairs}


def _two_names(note: OpenNote, node: Node, added: _Added) -> Said:
    """`hours: 3h15` is the builder's; with somebody else beside, both get their names."""
    if not added.builder:
        raise CannotEditError("the hours here have no name; write them as {name: 3h15, name: 1h}")
    _refuse_hours_of_tasks(note, added)
    more = f"{in_braces(added.name)}: {added.written}"
    note.edits.wrap(node, f"{{{in_braces(added.builder)}: ", f", {more}}}")
    return {added.builder: said(node), added.name: added.written}


def _extended(note: OpenNote, node: Node, added: _Added, column: int = 0) -> Said:
    """More time behind what is there; None where that very span is there already."""
    spans = _spans(node)
    if spans is None and isinstance(node, Word):
        total = length_text(_read(node.text).seconds + added.length.seconds)
        note.edits.replace_text(node, total)
        return total
    if spans is None:
        raise CannotEditError("the hours here are no clock spans; mend them first")
    if added.length.spans[0] in spans:
        return None
    note.edits.append_to(node, [added.item], column or _column(note))
    items = node.items if isinstance(node, Series) else (node,)
    return (*(said(item) for item in items), added.written)


def _column(note: OpenNote) -> int:
    return note.raw.table.place.column if note.raw.table else 0


def _spans(node: Node) -> Sequence[Span] | None:
    """The clock spans that a word or a list holds; None where it holds anything else."""
    items = node.items if isinstance(node, Series) else (node,)
    spans: list[Span] = []
    for item in items:
        found = _read(item.text).spans if isinstance(item, Word) else ()
        if not found:
            return None
        spans.extend(found)
    return spans
