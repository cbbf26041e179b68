"""Checks of measurements and materials: a value beyond its limit, a batch past its last day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.both_systems import both
from builderlog.deciding.limits import Held
from builderlog.deciding.measurements import measurements
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, doubt


def beyond_limits(ledger: Ledger) -> Iterator[Problem]:
    """A value outside the limit that stands beside it.

    Not where it was measured again in a later note, nor where its note tells of a snag.
    """
    for each in measurements(ledger):
        line = each.line
        if each.again or not line.value or not line.limit:
            continue
        value, limit = both(line.value), both(line.limit)
        if each.held is Held.OUTSIDE and not each.snags:
            told = f"{line.what}: {value} is outside its limit, {limit}; write it under snags, too,"
            told = f"{told} or mend one of the two"
            yield doubt(line.place, "outside-limit", told)
        elif each.held is Held.OTHER_KIND:
            told = f"{line.what}: {value} cannot be held against {limit}; write both in units of"
            yield doubt(line.place, "units-differ", f"{told} one kind")


def past_their_day(ledger: Ledger) -> Iterator[Problem]:
    """A material used after its last day."""
    for note in ledger.notes:
        for line in note.process:
            if line.expires and note.day and note.day > line.expires.day:
                what = line.what or "the material"
                told = f"{what} was used on {note.day}, after its last day, {line.expires.day}"
                told = f"{told}; mend the date, or say in the note why it was used"
                yield doubt(line.expires.place, "expired-material", told)


MEASURED_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    beyond_limits,
    past_their_day,
)
