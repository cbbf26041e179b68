"""The rows that sheets are made of: ready words and numbers, each with what a page may link to.

Frozen, and without HTML: a page, a table and a paper print the same rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builderlog.deciding import words


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead to a page of the site, by its site path."""

    words: str
    path: str


@dataclass(frozen=True, slots=True)
class Time:
    """A length of time: whole seconds, and the ways to write it, to the minute."""

    seconds: int
    words: str  # "3 h 15 min"
    clock: str  # "3:15"
    hours: str  # "3.3 h"
    iso: str  # "PT3H15M"


def time_of(seconds: int) -> Time:
    """A length of time from whole seconds."""
    return Time(
        seconds,
        words.duration(seconds),
        words.duration_clock(seconds),
        words.duration_hours(seconds),
        words.duration_iso(seconds),
    )


@dataclass(frozen=True, slots=True)
class Day:
    """A day and the ways to write it."""

    iso: str  # "2026-03-14"
    long: str  # "Saturday 14 March 2026"
    plain: str  # "14 March 2026"
    short: str  # "14 Mar 2026"


def day_of(day: date) -> Day:
    """A day in words."""
    return Day(day.isoformat(), words.day_long(day), words.day_plain(day), words.day_short(day))


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture by its digest; `alt` is its caption, else made from its day and tasks."""

    digest: str
    alt: str
    caption: str | None
    day: Day
    note: Link


@dataclass(frozen=True, slots=True)
class TimeRow:
    """A length of time under a label: a person, a role, an area without a page."""

    label: str
    time: Time


@dataclass(frozen=True, slots=True)
class TaskTimeRow:
    """A task, or an area, with time given to it; `link` leads to its page if it has one."""

    id: str
    name: str
    link: Link | None
    time: Time


@dataclass(frozen=True, slots=True)
class NoteRow:
    """A note as lists show it. `number` counts the shown notes from the oldest, from 1."""

    number: int
    link: Link
    day: Day
    time: Time | None  # None where no time is written
    cover: Photo | None
    opening: str  # the first words of its prose
    tasks: tuple[str, ...]  # names
    pictures: int


@dataclass(frozen=True, slots=True)
class Hole:
    """One applicable task of an area: "done", "begun" (has time, is not done) or "open"."""

    id: str
    name: str
    state: str


@dataclass(frozen=True, slots=True)
class AreaRow:
    """An area: where it stands and the time it took."""

    id: str
    link: Link
    time: Time
    done: int
    applicable: int
    standing: str  # "7 of 9 tasks done, 1 begun"
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class TaskRow:
    """A task in the list of its area."""

    id: str
    link: Link
    state: str  # as Hole, or "not needed"
    time: Time
    estimate: Time | None


@dataclass(frozen=True, slots=True)
class MonthRow:
    """A month as lists show it; `empty` where no evening was written at all."""

    link: Link
    month: str  # "2026-03"
    time: Time
    notes: str  # "9 notes"
    pictures: str  # "4 pictures"
    empty: bool
    per_week: Time | None = None


@dataclass(frozen=True, slots=True)
class PartEventRow:
    """One sighting of a part."""

    day: Day
    status: str | None
    count: str | None
    due: Day | None
    note: Link | None


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part with its history; cost, supplier and ref only where the journal shows them."""

    name: str
    count: str | None
    status: str | None
    task: Link | None
    events: tuple[PartEventRow, ...]
    cost: str | None
    supplier: str | None
    ref: str | None
    anchor: str  # its place on the page of the parts


@dataclass(frozen=True, slots=True)
class SnagRow:
    """A snag, open while `fixed_on` is None."""

    number: str
    text: str
    day: Day
    note: Link | None
    at: tuple[Link, ...]  # its area and task
    fixed_on: Day | None
    how: str | None


@dataclass(frozen=True, slots=True)
class NextRow:
    """One next step as last written."""

    text: str
    day: Day
    note: Link | None
    areas: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ChartArea:
    """One area of a chart; `id` is "" for time given to no area."""

    id: str
    name: str
    link: Link | None
    time: Time


@dataclass(frozen=True, slots=True)
class ChartMonth:
    """One month of a chart; `parts` are whole seconds, one for each area of the chart."""

    link: Link
    month: str  # "2026-03"
    short: str  # "Mar 2026"
    time: Time
    parts: tuple[Time, ...]
    empty: bool  # no note was written: a hole


@dataclass(frozen=True, slots=True)
class HoursChart:
    """Hours by month and area, oldest month first, months without notes in their place."""

    title: str
    description: str
    areas: tuple[ChartArea, ...]
    months: tuple[ChartMonth, ...]
    total: Time
