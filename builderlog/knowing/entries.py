"""The trade's nouns as a note states them: hours, tasks, parts, photos, snags, visits and the rest.

Frozen, each with its place, never pointing back at the ledger. What follows from several notes
together (a part's history, a snag's fix) is made in `ledger`, not here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from builderlog.knowing.units import Length, Quantity
from builderlog.reading.problem import Place
from builderlog.reading.prose import Prose
from builderlog.reading.words import Word


class Work(StrEnum):
    """The kind of work an hour was: what an authority tells apart, and the rest."""

    FABRICATION = "fabrication"
    ASSEMBLY = "assembly"
    OTHER = "other"  # planning, inventory, taking apart, doing again


class Privacy(StrEnum):
    """Who may see a note."""

    OPEN = "no"
    PRIVATE = "yes"  # totals and the inspector only
    HOURS_ONLY = "hours only"  # nothing but the time reaches anyone


class PartStatus(StrEnum):
    """Where a part stands, in the order in which it moves along."""

    WANTED = "wanted"
    ORDERED = "ordered"
    BACK_ORDERED = "back-ordered"
    RECEIVED = "received"
    SHORT = "short"
    DAMAGED = "damaged"
    FITTED = "fitted"
    SENT_BACK = "sent back"
    SCRAPPED = "scrapped"


@dataclass(frozen=True, slots=True)
class Money:
    """An exact amount in one currency (ISO 4217 code)."""

    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class DatedWord:
    """A day as written and as understood."""

    day: date
    place: Place


@dataclass(frozen=True, slots=True)
class PersonHours:
    """What `hours` says for one person; `person` is None where the journal's builder is meant."""

    person: Word | None
    length: Length
    place: Place


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One entry of `tasks`; without `length` it takes what is left of a person's time."""

    task: Word
    place: Place
    length: Length | None = None
    who: tuple[Word, ...] = ()
    work: Work | None = None
    per: Word | None = None


@dataclass(frozen=True, slots=True)
class PartLine:
    """One entry of `parts`: a sighting of a thing that may move along over several notes."""

    part: Word
    place: Place
    count: Decimal | None = None
    cost: Money | None = None
    source: Word | None = None
    status: PartStatus | None = None
    due: DatedWord | None = None
    ref: Word | None = None
    task: Word | None = None
    receipt: Word | None = None


@dataclass(frozen=True, slots=True)
class PhotoLine:
    """One entry of `photos`; `photo` is the path as written."""

    photo: Word
    place: Place
    shows: tuple[Word, ...] = ()
    seen: tuple[Word, ...] = ()
    caption: Word | None = None
    private: bool = False
    page: bool = False


@dataclass(frozen=True, slots=True)
class Measured:
    """A measurement with its limit; both also as the builder wrote them."""

    what: Word
    place: Place
    value: Quantity | None = None
    limit: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Torqued:
    """A group of fasteners brought to torque; values as written, never judged here."""

    where: Word | None
    place: Place
    bolt: Word | None = None
    nut: str | None = None
    threads: str | None = None
    count: Decimal | None = None
    wanted: Quantity | None = None
    drag: Quantity | None = None
    set_to: Quantity | None = None
    extension: Word | None = None
    source: Word | None = None
    wrench: Word | None = None
    marked: bool | None = None
    safetied: str | None = None
    by: tuple[Word, ...] = ()
    witness: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True)
class Process:
    """Glue, resin, fabric, primer or heat: what a later question will ask about."""

    what: Word | None
    place: Place
    batch: Word | None = None
    expires: DatedWord | None = None
    mix: Word | None = None
    coat: Word | None = None
    temperature: Quantity | None = None
    humidity: Quantity | None = None
    sample: Word | None = None


@dataclass(frozen=True, slots=True)
class SnagLine:
    """Something found wrong or forgotten, as written; its number is given in `ledger`."""

    snag: Word
    place: Place
    area: Word | None = None
    task: Word | None = None
    number: Word | None = None


@dataclass(frozen=True, slots=True)
class FixedLine:
    """A snag put right."""

    number: Word
    place: Place
    how: Word | None = None
    by: tuple[Word, ...] = ()
    witness: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision, its reason, and when to look at it again."""

    what: Word
    place: Place
    why: Word | None = None
    instead_of: Word | None = None
    again: Word | None = None


@dataclass(frozen=True, slots=True)
class Visit:
    """Someone came to look at the work; names need no declaration."""

    who: tuple[Word, ...]
    place: Place
    capacity: Word | None = None
    looked_at: tuple[Word, ...] = ()
    said: Word | None = None
    found: tuple[SnagLine, ...] = ()
    sheet: Word | None = None
    result: Word | None = None


@dataclass(frozen=True, slots=True)
class Away:
    """Work that left the shop."""

    what: Word
    place: Place
    task: Word | None = None
    firm: Word | None = None
    capacity: str | None = None  # paid, maker or unpaid
    sent: DatedWord | None = None
    due: DatedWord | None = None
    back: DatedWord | None = None


@dataclass(frozen=True, slots=True)
class Bulletin:
    """A maker's or authority's bulletin: whether it applies and when it was done."""

    number: Word
    place: Place
    applies: bool | None = None
    done: Word | None = None


@dataclass(frozen=True, slots=True)
class Note:
    """One shop note, understood as far as it could be; what could not is among the problems."""

    path: str
    place: Place
    day: date | None
    title: Word | None = None
    hours: tuple[PersonHours, ...] = ()
    tasks: tuple[TaskLine, ...] = ()
    parts: tuple[PartLine, ...] = ()
    photos: tuple[PhotoLine, ...] = ()
    measured: tuple[Measured, ...] = ()
    torqued: tuple[Torqued, ...] = ()
    process: tuple[Process, ...] = ()
    snags: tuple[SnagLine, ...] = ()
    fixed: tuple[FixedLine, ...] = ()
    decided: tuple[Decided, ...] = ()
    visits: tuple[Visit, ...] = ()
    away: tuple[Away, ...] = ()
    bulletins: tuple[Bulletin, ...] = ()
    closes: tuple[Word, ...] = ()
    opens: tuple[Word, ...] = ()
    next_steps: tuple[Word, ...] = ()
    where: Word | None = None
    written: DatedWord | None = None
    privacy: Privacy = Privacy.OPEN
    prose: Prose = Prose("", Place(""))

    @property
    def order(self) -> tuple[date, str]:
        """How notes follow each other: by day, then by name without its ending.

        With the ending `2026-03-14-2.md`, the second note of a day, would come before its first.
        """
        return (self.day or date.min, self.path.rpartition(".")[0])
