"""How soon notes were written after the work, and pictures taken, month by month.

A note without `written` is by the builder's word of the same day. A picture's day is that of its
Exif; one without says nothing, and is counted apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from builderlog.deciding.words import month_of
from builderlog.knowing.entries import Privacy
from builderlog.knowing.ledger import Ledger


@dataclass(slots=True)
class Timeliness:
    """One month; notes with nothing but their time for others are only counted."""

    month: str  # "2026-03"; "" over several
    notes: int = 0  # all
    hidden: int = 0  # of them with nothing but their time for others
    same_day: int = 0
    later: list[int] = field(default_factory=list)  # days from the work to the writing, of the rest
    pictures: int = 0  # a picture once for each note that names it
    on_the_day: int = 0
    within_a_day: int = 0  # the day before or after
    farther: int = 0
    undated: int = 0

    @property
    def longest(self) -> int:
        """The most days after the work; 0 where every note is of the same day."""
        return max(self.later, default=0)

    @property
    def middle(self) -> int:
        """The days of the middle one of the later notes (of two the larger); 0 where none is."""
        return sorted(self.later)[len(self.later) // 2] if self.later else 0


def timeliness(ledger: Ledger) -> tuple[Timeliness, ...]:
    """Every month with a note, oldest first."""
    found: dict[str, Timeliness] = {}
    hidden: set[str] = set()
    for note in ledger.notes:
        assert note.day is not None  # noqa: S101
        month = found.setdefault(month_of(note.day), Timeliness(month_of(note.day)))
        month.notes += 1
        if note.privacy is Privacy.HOURS_ONLY:
            month.hidden += 1
            hidden.add(note.path)
        elif note.written and note.written.day > note.day:
            month.later.append((note.written.day - note.day).days)
        else:
            month.same_day += 1
    _count_pictures(ledger, found, hidden)
    return tuple(found.values())


def in_all(months: Iterable[Timeliness]) -> Timeliness:
    """The sums over several months, under no month's name."""
    whole = Timeliness("")
    for month in months:
        whole.later.extend(month.later)
        for name in _COUNTS:
            setattr(whole, name, getattr(whole, name) + getattr(month, name))
    return whole


_COUNTS = (
    *("notes", "hidden", "same_day", "pictures"),
    *("on_the_day", "within_a_day", "farther", "undated"),
)


def _count_pictures(ledger: Ledger, found: dict[str, Timeliness], hidden: set[str]) -> None:
    for picture in ledger.pictures:
        taken = _day_taken(picture.file.taken)
        for use in picture.uses:
            if use.note not in hidden:
                _count(found[month_of(use.day)], taken, use.day)


def _count(month: Timeliness, taken: date | None, day: date) -> None:
    month.pictures += 1
    if taken is None:
        month.undated += 1
    elif taken == day:
        month.on_the_day += 1
    elif abs((taken - day).days) == 1:
        month.within_a_day += 1
    else:
        month.farther += 1


def _day_taken(taken: str | None) -> date | None:
    """The day of an ISO 8601 time as Exif gives it."""
    return date.fromisoformat(taken[:10]) if taken else None
