"""What is new since last month, reckoned on the record and never on today; news of parts.

In the first days of a month the month before still counts as new: friends who look in on the
third want to see more than three days. Whoever comes after a pause is told of the pause.
"""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import takewhile

from builderlog.deciding import words
from builderlog.deciding.public import PublicLedger, PublicMonth, PublicPart, PublicPartEvent
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import Day, Link, day_of, time_of

FIRST_DAYS = 10  # of a month, in which the month before still counts as new
CAME = ("received", "fitted")
MOVED = (*CAME, "short", "damaged", "sent back", "scrapped")


@dataclass(frozen=True, slots=True)
class Fact:
    """A number and what it counts: "3", "notes"."""

    number: str
    words: str


@dataclass(frozen=True, slots=True)
class PartNews:
    """A part, and what befell it by a public note: it came, was fitted, went back."""

    name: str
    count: str | None
    status: str
    day: Day
    note: Link | None


@dataclass(frozen=True, slots=True)
class News:
    """What the newest of the record came to. `months` are those it speaks of, the newest first."""

    heading: str  # "New since the end of May 2026"
    months: tuple[Link, ...]
    facts: tuple[Fact, ...]  # only those that are not nought
    done: tuple[Link, ...]  # tasks
    begun: tuple[Link, ...]  # tasks that are not also done
    parts: tuple[PartNews, ...]  # received or fitted
    pause: str | None = None  # "after 3 months without a note"


def news(book: Book) -> News | None:
    """What is new; None without any month."""
    months = _new_months(book.public)
    if not months:
        return None
    done = book.links_of(task for month in months for task in month.tasks_done)
    begun = book.links_of(task for month in months for task in month.tasks_begun)
    parts = part_news(book, {month.month for month in months}, CAME)
    return News(
        heading=_heading(book.public.months[: -len(months)]),
        months=tuple(link_to_month(month.month) for month in reversed(months)),
        facts=_facts(book, months, (len(done), len(parts))),
        done=done,
        begun=tuple(link for link in begun if link not in done),
        parts=parts,
        pause=_pause(book.public.months[: -len(months)]),
    )


def _new_months(public: PublicLedger) -> tuple[PublicMonth, ...]:
    """The record's newest month; early in it the one before too, where that has a note."""
    record, newest = public.record_date, public.months[-1:]
    in_newest = record and newest and words.month_of(record) == newest[0].month
    early = record and in_newest and record.day <= FIRST_DAYS
    before = public.months[-2:-1] if early else ()
    return (*(month for month in before if month.evenings), *newest)


def _heading(older: tuple[PublicMonth, ...]) -> str:
    """Since the last month that had a note, for that is where whoever waited stopped reading."""
    told = [month for month in older if month.evenings]
    return f"New since {words.month_long(told[-1].month)}" if told else "New so far"


def _pause(older: tuple[PublicMonth, ...]) -> str | None:
    silent = sum(1 for _ in takewhile(lambda month: not month.evenings, reversed(older)))
    if not silent:
        return None
    return f"after {'a month' if silent == 1 else f'{silent} months'} without a note"


def _facts(
    book: Book, months: tuple[PublicMonth, ...], counted: tuple[int, int]
) -> tuple[Fact, ...]:
    """What it came to; where friends can read nothing of it, that there was something."""
    done, parts = counted
    keys = [key for month in months for key in month.notes if key in book.notes]
    decided = sum(len(book.notes[key].decided) for key in keys)
    hidden = sum(month.not_shown for month in months)
    seconds = sum(month.seconds for month in months)
    notes = sum(len(month.notes) for month in months)
    pictures = sum(month.photos for month in months)
    facts = (
        (seconds, Fact(time_of(seconds).words, "in the shop")),
        (notes, Fact(str(notes), _plural(notes, "note"))),
        (pictures, Fact(str(pictures), _plural(pictures, "picture"))),
        (done, Fact(str(done), f"{_plural(done, 'task')} done")),
        (parts, Fact(str(parts), f"{_plural(parts, 'part')} received or fitted")),
        (decided, Fact(str(decided), f"{_plural(decided, 'decision')} made")),
    )
    told = tuple(fact for number, fact in facts if number)
    return told or (Fact(str(hidden), f"{_plural(hidden, 'note')} not shown"),)


def _plural(number: int, one: str) -> str:
    return one if number == 1 else f"{one}s"


def part_news(
    book: Book, months: AbstractSet[str], statuses: tuple[str, ...] = MOVED
) -> tuple[PartNews, ...]:
    """The parts that something befell in some months, each once with the last of it.

    In the order of their days. What is only wanted or ordered is no news yet.
    """
    found = (
        (part, [event for event in part.events if _is_news(event, months, statuses)])
        for part in book.public.parts
    )
    rows = [(events[-1].day, _part(book, part, events[-1])) for part, events in found if events]
    return tuple(row for _, row in sorted(rows, key=lambda pair: pair[0]))


def _is_news(event: PublicPartEvent, months: AbstractSet[str], statuses: tuple[str, ...]) -> bool:
    return event.status in statuses and words.month_of(event.day) in months


def _part(book: Book, part: PublicPart, event: PublicPartEvent) -> PartNews:
    count = part.count if event.count is None else event.count
    return PartNews(
        name=part.name,
        count=None if count is None else words.amount(count),
        status=event.status or "",
        day=day_of(event.day),
        note=book.note_link(event.note),
    )
