"""Every measurement of the journal, held against its limit, and whether it was taken again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builderlog.deciding.limits import Held, held_against
from builderlog.knowing.entries import Measured, Note, Privacy
from builderlog.knowing.ledger import Ledger, Snag


@dataclass(frozen=True, slots=True)
class Measurement:
    """One measurement; `again` is the day of a later one of the same thing.

    `snags` are those of its note: a builder who measures a fault writes it down as one.
    """

    note: Note
    line: Measured
    held: Held
    again: date | None
    snags: tuple[Snag, ...] = ()


def measurements(ledger: Ledger) -> tuple[Measurement, ...]:
    """All, in order of day and path; notes of which only the time reaches anyone are left out.

    Two entries speak of one thing where their `what` is the same but for case and blanks.
    """
    told = [note for note in ledger.notes if note.privacy is not Privacy.HOURS_ONLY]
    notes = sorted(told, key=lambda note: note.order)
    entries = [(note, line) for note in notes for line in note.measured]
    newest = {_folded(line.what.text): note for note, line in entries if line.value}
    snags: dict[str, list[Snag]] = {}
    for snag in ledger.snags:
        snags.setdefault(snag.note, []).append(snag)
    return tuple(
        Measurement(
            note,
            line,
            held_against(line.value, line.limit),
            _later(newest.get(_folded(line.what.text)), note),
            tuple(snags.get(note.path, ())),
        )
        for note, line in entries
    )


def _later(newest: Note | None, note: Note) -> date | None:
    """The day of the newest note, where it is another one: one note may tell of two sides."""
    return newest.day if newest and newest is not note else None


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())
