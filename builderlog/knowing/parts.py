"""Parts with their history: which entries of which notes speak of one thing.

Entries with the same part and ref are one thing. Without a ref an entry moves the oldest lot of
that part along for which its status comes later; else it is another lot.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from heapq import heappop, heappush

from builderlog.knowing.entries import Note, PartLine, PartStatus
from builderlog.knowing.ledger import Part, PartEvent

_ORDER = {status: place for place, status in enumerate(PartStatus)}


def follow_parts(notes: Iterable[Note]) -> tuple[Part, ...]:
    """All parts, in the order in which they first appear; `notes` in order of day and path."""
    lots: list[list[PartEvent]] = []
    by_name: dict[tuple[str, str | None], _Lots] = {}
    for note in notes:
        for line in note.parts:
            assert note.day is not None  # noqa: S101
            known = by_name.setdefault(_identity(line), _Lots())
            lot = known.take(line)
            if lot is None:
                lot = len(lots)
                lots.append([])
            lots[lot].append(PartEvent(note.path, note.day, line))
            known.put(lot, line.status)
    return tuple(_part(lot) for lot in lots)


def _identity(line: PartLine) -> tuple[str, str | None]:
    return line.part.text, line.ref.text if line.ref else None


@dataclass(slots=True)
class _Lots:
    """The lots of one name by the newest status of each, the oldest first; lots are numbers."""

    newest: int | None = None
    waiting: dict[PartStatus, list[int]] = field(default_factory=dict)

    def take(self, line: PartLine) -> int | None:
        """The lot that the line moves along, or None for a new one."""
        if line.ref is not None:
            return self.newest
        status = line.status
        if status is None:
            return None
        earlier = [
            lots for at, lots in self.waiting.items() if lots and _ORDER[at] < _ORDER[status]
        ]
        return heappop(min(earlier)) if earlier else None

    def put(self, lot: int, status: PartStatus | None) -> None:
        """The lot now stands at `status`; None is no status that a later one could follow."""
        self.newest = lot
        if status is not None:
            heappush(self.waiting.setdefault(status, []), lot)


def _part(lot: list[PartEvent]) -> Part:
    name, ref = _identity(lot[0].line)
    return Part(name, ref, tuple(lot))
