"""Next steps as last written per area: which of the notes that have some still stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Protocol, TypeVar

from builderlog.deciding.sums import NO_AREA


class HasNext(Protocol):
    """A note that may say what to do next."""

    @property
    def next_steps(self) -> Sequence[object]:
        """As written."""


Told = TypeVar("Told", bound=HasNext)


def last_written(
    notes: Sequence[Told], areas_of: Callable[[Told], Iterable[str]]
) -> Iterator[tuple[Told, tuple[str, ...]]]:
    """An area's newest note that has any, with the areas for which it is; the newest first.

    `notes` stand in order of day. A note that works in no area speaks for what is of no area.
    """
    told: set[str] = set()
    for note in reversed(notes):
        areas = dict.fromkeys(areas_of(note)) or {NO_AREA: None}
        fresh = tuple(area for area in areas if area not in told)
        if note.next_steps and fresh:
            told |= set(fresh)
            yield note, tuple(area for area in fresh if area != NO_AREA)
