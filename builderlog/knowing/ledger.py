"""The ledger: everything the journal states, apportioned and numbered, in one frozen record.

`work` is the one list of who gave how long to what; every total is a sum over it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from builderlog.knowing.entries import FixedLine, Money, Note, PartLine, PartStatus, SnagLine, Work
from builderlog.knowing.letters import Letter
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.seals import Seal
from builderlog.knowing.settings import Role, Settings, Worklist
from builderlog.reading.photo_file import PhotoFile
from builderlog.reading.problem import Place, Problem


@dataclass(frozen=True, slots=True)
class Worked:
    """One person's time in one note, given to one task or (task None) to no task."""

    note: str  # path
    day: date
    person: str
    role: Role  # as declared; in a sealed month as declared on the day of sealing
    task: str | None
    work: Work
    seconds: int
    place: Place = Place("")  # the hours or the task entry that gave the time


@dataclass(frozen=True, slots=True)
class PartEvent:
    """One sighting of a part: the note, its day, and what it said."""

    note: str
    day: date
    line: PartLine


@dataclass(frozen=True, slots=True)
class Part:
    """One thing, or one lot, with its whole history in order of date."""

    name: str
    ref: str | None
    events: tuple[PartEvent, ...]

    @property
    def status(self) -> PartStatus | None:
        """The newest status that was written."""
        told = [event.line.status for event in self.events if event.line.status]
        return told[-1] if told else None

    @property
    def cost(self) -> tuple[date, Money] | None:
        """The newest cost, with the day of the entry that first gave one: there it counts."""
        told = [(event.day, event.line.cost) for event in self.events if event.line.cost]
        return (told[0][0], told[-1][1]) if told else None

    @property
    def count(self) -> Decimal | None:
        """The newest count that was written."""
        told = [event.line.count for event in self.events if event.line.count is not None]
        return told[-1] if told else None


@dataclass(frozen=True, slots=True)
class Snag:
    """A numbered snag, where it was written, and how it was put right (None: open)."""

    number: str
    note: str
    day: date
    line: SnagLine
    fixed: FixedLine | None = None
    fixed_on: date | None = None
    fixed_in: str | None = None


@dataclass(frozen=True, slots=True)
class PhotoUse:
    """One note's use of a picture, from its `photos`."""

    note: str
    day: date
    shows: tuple[str, ...]
    seen: tuple[str, ...]
    caption: str | None
    private: bool  # the photo's own `private: yes`
    page: bool


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture that notes name (`uses`) or link in their words (`linked_from`)."""

    path: str
    file: PhotoFile
    uses: tuple[PhotoUse, ...]
    linked_from: tuple[str, ...] = ()

    @property
    def taken(self) -> str:
        """ISO 8601: when it was taken by its Exif, else the day of the first note that names it."""
        if self.file.taken:
            return self.file.taken
        return self.uses[0].day.isoformat() if self.uses else ""


@dataclass(frozen=True, slots=True)
class Ledger:
    """The whole journal with all its problems, so that a bad note never hides a good one."""

    settings: Settings
    worklist: Worklist
    notes: tuple[Note, ...]  # with a day, sorted by day and path
    work: tuple[Worked, ...]
    parts: tuple[Part, ...]
    snags: tuple[Snag, ...]
    pictures: tuple[Picture, ...]
    files: frozenset[str]  # every file of the journal, by path
    problems: tuple[Problem, ...]
    record_date: date | None
    rulebook: Rulebook | None = None  # how the journal's authority counts
    outside: frozenset[str] = frozenset()  # links in the folder that lead out of it
    seals: tuple[Seal, ...] = ()  # in the order of the chain
    digests: Mapping[str, str] = field(default_factory=dict)  # SHA-256, see `sealed_digests`
    letters: tuple[Letter, ...] = ()  # to friends, oldest month first
