"""When a task could be seen: between its openings and its closings, by the notes that say so."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from builderlog.deciding.task_record import Closing


def hiding(closings: Iterable[Closing]) -> Closing | None:
    """The closing since which a task cannot be seen; None where it still can.

    `closings` are those that name the task or its area, in order of day and path.
    """
    found: Closing | None = None
    for closing in closings:
        if not closing.closed:
            found = None
        elif found is None:
            found = closing
    return found


def could_be_seen(closings: Iterable[Closing], day: date) -> bool:
    """From the beginning, or from an opening, to the next closing; these days included."""
    since: date | None = date.min
    for closing in closings:
        at = closing.note.day or date.min
        if closing.closed:
            if since is not None and since <= day <= at:
                return True
            since = None
        elif since is None:
            since = at
    return since is not None and since <= day
