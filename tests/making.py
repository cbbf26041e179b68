"""Ledgers made by hand for tests of `deciding`: short words for notes, work, parts and pictures."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from builderlog.knowing.entries import (
    DatedWord,
    Money,
    Note,
    PartLine,
    PartStatus,
    PhotoLine,
    Privacy,
    TaskLine,
    Work,
)
from builderlog.knowing.ledger import Ledger, Part, PartEvent, PhotoUse, Picture, Worked
from builderlog.knowing.settings import Area, Credit, Person, Rate, Role, Settings, Task, Worklist
from builderlog.knowing.units import Length
from builderlog.reading.photo_file import PhotoFile
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

PEOPLE = {
    "Ines": Role.BUILDER,
    "Tomas": Role.BUILDER,
    "Ada": Role.HELPER,
    "Shop & Co": Role.PAID,
}
NOWHERE = Place("notes/x.md")


def day(text: str) -> date:
    """A date from its ISO form."""
    return date.fromisoformat(text)


def word(text: str) -> Word:
    """A word without a place of its own."""
    return Word(text, NOWHERE)


def task(name: str, *, kind: Work = Work.ASSEMBLY, done: bool = False) -> Task:
    """A task of the area that its first letter names, with credit and an estimate of 10 hours."""
    credit = Credit(maker=3, paid=1, assembly=2, fabrication=3)
    return Task(
        name,
        f"Task {name}",
        name[0],
        NOWHERE,
        work=kind,
        estimate=Length(36_000),
        done=done,
        credit=credit,
    )


def worklist(*tasks: Task) -> Worklist:
    """The tasks in their order, each area where its first task stands."""
    areas = dict.fromkeys(one.area for one in tasks)
    return Worklist(
        tuple(
            Area(name, f"Area {name}", NOWHERE, tuple(one for one in tasks if one.area == name))
            for name in areas
        ),
        written=True,
        by_id={one.id: one for one in tasks},
    )


def settings(currency: str | None = "USD", exchange: Iterable[Rate] = ()) -> Settings:
    """A journal with four people."""
    people = tuple(Person(name, role, NOWHERE) for name, role in PEOPLE.items())
    return Settings("A test", "Ines", people, currency=currency, exchange=tuple(exchange))


def rate(currency: str, on: str, value: str) -> Rate:
    """One unit of `currency` in the journal's."""
    return Rate(currency, day(on), Decimal(value), NOWHERE)


def note(on: str, *tasks: str, shows: Iterable[str] = (), privacy: Privacy = Privacy.OPEN) -> Note:
    """A note under notes/ that names tasks, and one picture that shows others."""
    lines = tuple(TaskLine(word(name), NOWHERE) for name in tasks)
    shown = tuple(word(name) for name in shows)
    photos = (PhotoLine(word("photos/a.jpg"), NOWHERE, shown),) if shown else ()
    path = f"notes/{on}.md"
    return Note(path, Place(path), day(on), tasks=lines, photos=photos, privacy=privacy)


def worked(
    on: str, seconds: int, task_id: str | None = None, person: str = "Ines", kind: Work = Work.OTHER
) -> Worked:
    """One row of work in the note of that day."""
    return Worked(f"notes/{on}.md", day(on), person, PEOPLE[person], task_id, kind, seconds)


def picture(path: str, *uses: tuple[str, tuple[str, ...]], linked: tuple[str, ...] = ()) -> Picture:
    """A picture with its uses, each a note's day and the tasks it shows."""
    digest = hashlib.sha256(path.encode()).hexdigest()
    file = PhotoFile(path, digest, 10, "JPEG", 4, 3, None, located=False, fault=None)
    made = tuple(
        PhotoUse(f"notes/{on}.md", day(on), shows, (), None, private=False, page=False)
        for on, shows in uses
    )
    return Picture(path, file, made, linked)


def part(name: str, *events: tuple[str, str | None], status: PartStatus | None = None) -> Part:
    """A part seen on several days, each with its cost ("8.40 USD") or None."""
    seen = []
    for on, cost in events:
        amount, code = cost.split() if cost else ("0", "")
        money = Money(Decimal(amount), code) if cost else None
        line = PartLine(word(name), Place(f"notes/{on}.md", 4, 3), cost=money, status=status)
        seen.append(PartEvent(f"notes/{on}.md", day(on), line))
    return Part(name, None, tuple(seen))


def dated(text: str) -> DatedWord:
    """A day with a place."""
    return DatedWord(day(text), NOWHERE)


def _naming(one: Note, parts: tuple[Part, ...]) -> Note:
    """The note with the lines of the parts that are seen in it."""
    lines = (event.line for part in parts for event in part.events if event.note == one.path)
    return replace(one, parts=(*one.parts, *lines))


def ledger(  # noqa: PLR0913 - one keyword for each list that a ledger holds
    *,
    work: Iterable[Worked] = (),
    notes: Iterable[Note] = (),
    parts: Iterable[Part] = (),
    pictures: Iterable[Picture] = (),
    tasks: Iterable[Task] = (),
    settled: Settings | None = None,
) -> Ledger:
    """A ledger of these; every day of work has a note."""
    rows = tuple(work)
    written = {one.path: one for one in notes}
    for row in rows:
        written.setdefault(row.note, note(row.day.isoformat()))
    made = tuple(parts)
    named = (_naming(one, made) for one in written.values())
    ordered = tuple(sorted(named, key=lambda one: (one.day or date.min, one.path)))
    return Ledger(
        settings=settled or settings(),
        worklist=worklist(*tasks),
        notes=ordered,
        work=rows,
        parts=made,
        snags=(),
        pictures=tuple(pictures),
        files=frozenset(),
        problems=(),
        record_date=max((one.day for one in ordered if one.day), default=None),
    )
