"""What journal.yaml and worklist.yaml say: people, aircraft, money, wrenches, areas and tasks."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from enum import StrEnum

from builderlog.knowing.entries import DatedWord, Work
from builderlog.knowing.forms import Row
from builderlog.knowing.units import Length, Quantity
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

DAY_ENDS = time(4)  # till then an evening goes on
WHOLE_POINT = 10  # a task's one point, in tenths


class Role(StrEnum):
    """In what capacity a person works."""

    BUILDER = "builder"  # one of the amateurs who make the claim
    HELPER = "helper"  # unpaid
    PAID = "paid"  # for hire or compensation


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who works on the aircraft; `name` is the one that the notes use."""

    name: str
    role: Role | None
    place: Place
    full_name: str | None = None
    since: DatedWord | None = None
    until: DatedWord | None = None
    may_show: bool | None = None  # None: not said


@dataclass(frozen=True, slots=True)
class Aircraft:
    """The aircraft as its papers and data plate name it; all as written."""

    design: str | None = None
    kit: str | None = None
    registration: str | None = None
    maker: str | None = None
    model: str | None = None
    serial: str | None = None


@dataclass(frozen=True, slots=True)
class KitEvaluated:
    """The authority's evaluation from which the maker's credit is taken."""

    on: DatedWord | None = None
    file: Word | None = None
    unaltered: bool | None = None


@dataclass(frozen=True, slots=True)
class Rate:
    """One unit of `currency` is worth `rate` of the journal's currency, from `on` on."""

    currency: str
    on: date
    rate: Decimal
    place: Place


@dataclass(frozen=True, slots=True)
class Wrench:
    """A torque wrench, the days it was calibrated, and how long it is from drive to hand."""

    name: str
    place: Place
    calibrated: tuple[DatedWord, ...] = ()
    length: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Paper:
    """A document that the authority asks for."""

    name: str
    place: Place
    have: DatedWord | None = None
    file: Word | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """A gap that the builder explains."""

    gap: Word
    because: Word | None


@dataclass(frozen=True, slots=True)
class Holiday:
    """Days on which no work is expected, the first and the last too; past or to come."""

    since: DatedWord
    until: DatedWord | None = None  # None: the first day alone
    why: str | None = None

    @property
    def last(self) -> date:
        """The last day."""
        return self.until.day if self.until else self.since.day


@dataclass(frozen=True, slots=True)
class SiteSettings:
    """What the friends' site is and what it may tell beyond its default."""

    address: str | None = None  # as `web_names.parse_address` gives it
    theme: str | None = None
    findable: bool = False
    show: frozenset[str] = frozenset()
    tag: str | None = None  # as `web_names.parse_tag` gives it


@dataclass(frozen=True, slots=True)
class DossierSettings:
    """How the inspector's dossier is made out: `paper` by its name, and who hands it over."""

    paper: str = "a4"
    organization: str | None = None


@dataclass(frozen=True, slots=True)
class Settings:
    """journal.yaml, understood as far as it could be."""

    title: str
    builder: str | None
    people: tuple[Person, ...] = ()
    primary: str | None = None
    aircraft: Aircraft = Aircraft()
    kit_evaluated: KitEvaluated | None = None
    kit_hours: Length | None = None
    place: str | None = None
    started: DatedWord | None = None
    certificated: DatedWord | None = None
    rulebook: str | None = None
    own_rulebook: Row | None = None
    citation: str | None = None
    units: str | None = None
    currency: str | None = None
    exchange: tuple[Rate, ...] = ()
    wrenches: tuple[Wrench, ...] = ()
    papers: tuple[Paper, ...] = ()
    answers: tuple[Answer, ...] = ()
    visit_first: tuple[Word, ...] = ()  # areas or tasks to be looked at before they are closed
    week_starts: str | None = None
    day_ends: time = DAY_ENDS
    holidays: tuple[Holiday, ...] = ()
    site: SiteSettings = SiteSettings()
    dossier: DossierSettings = DossierSettings()

    def person(self, name: str) -> Person | None:
        """The declared person of that name, or None."""
        return next((person for person in self.people if person.name == name), None)


@dataclass(frozen=True, slots=True)
class Credit:
    """A task's one point in tenths (0 to 10 each); the rest is unclaimed."""

    maker: int = 0
    paid: int = 0
    assembly: int = 0
    fabrication: int = 0

    @property
    def builder(self) -> int:
        """What the amateurs claim."""
        return self.assembly + self.fabrication

    @property
    def unclaimed(self) -> int:
        """What is missing to the whole point; it never counts for the builder."""
        return WHOLE_POINT - self.maker - self.paid - self.builder


@dataclass(frozen=True, slots=True)
class Task:
    """One task of the work list."""

    id: str
    name: str
    area: str
    place: Place
    work: Work | None = None
    applies: bool = True
    estimate: Length | None = None
    done: bool = False
    credit: Credit | None = None
    marks: tuple[int, int] | None = None  # maker, builder


@dataclass(frozen=True, slots=True)
class Area:
    """One area of the aircraft with its tasks, in the order of the list."""

    id: str
    name: str
    place: Place
    tasks: tuple[Task, ...] = ()


@dataclass(frozen=True, slots=True)
class Worklist:
    """All areas; `written` is false where there is no work list and task ids are free text."""

    areas: tuple[Area, ...] = ()
    written: bool = False
    by_id: dict[str, Task] = field(default_factory=dict, compare=False, repr=False)
