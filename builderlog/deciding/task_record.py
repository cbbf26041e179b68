"""One task as the record has it: the shape of what `coverage` finds, each fact with its note."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from builderlog.deciding import sums
from builderlog.deciding.assistance import WorkAway
from builderlog.knowing.entries import (
    Measured,
    Note,
    PartLine,
    Privacy,
    Process,
    TaskLine,
    Torqued,
    Visit,
)
from builderlog.knowing.ledger import Snag, Worked
from builderlog.knowing.rulebook import Proof
from builderlog.knowing.settings import Role, Task
from builderlog.reading.words import Word

Line = TypeVar("Line")

PROOF_WORDS = {
    Proof.MEASURED: "measurement",
    Proof.TORQUED: "torque entry",
    Proof.PROCESS: "process entry",
    Proof.VISITS: "visit",
}
PROOF_PLURALS = {
    Proof.MEASURED: "measurements",
    Proof.TORQUED: "torque entries",
    Proof.PROCESS: "process entries",
    Proof.VISITS: "visits",
}


@dataclass(frozen=True, slots=True)
class Told(Generic[Line]):
    """One entry of a note, with that note."""

    note: Note
    line: Line


@dataclass(frozen=True, slots=True)
class PersonTime:
    """One person's time on a task in whole seconds, and the paths of the notes that give it."""

    name: str
    role: Role
    seconds: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkPlace:
    """Where a task was worked on, and the paths of the notes that say so."""

    words: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture that shows a task, once however many notes show it.

    `taken` is the day by the camera's clock, else that of the first note that names it.
    """

    path: str
    digest: str
    taken: date
    note: str  # the first one that shows the task with it
    notes: tuple[str, ...]
    caption: str | None
    seen: tuple[str, ...]
    builder_seen: bool  # someone with the role builder is in it
    page: bool  # a scanned page of a notebook: it shows words, not the work


@dataclass(frozen=True, slots=True)
class Closing:
    """A word in `closes` or `opens` that names the task or its area."""

    note: Note
    word: Word
    closed: bool


@dataclass(frozen=True, slots=True)
class TaskRecord:
    """One task as the record has it; every list is in order of day and path.

    Measurements, torque groups and process entries carry no task of their own: they are those of
    the notes that name the task in `tasks`, and may speak of another task of the same note.
    A visit to an area looked at those of its tasks that were begun. `work` ends with the
    certificate, and so do the notes that work on it, methods, places and entries. A note of which
    only the time reaches anyone gives its time and nothing else.
    """

    id: str
    name: str
    area: str  # its id; "" without a work list
    task: Task | None  # None without a work list
    work: tuple[Worked, ...]
    late: tuple[Worked, ...]  # after the certificate: no build time
    amateur_work: tuple[Worked, ...]  # of `work`, what those gave whom the rulebook counts
    people: tuple[PersonTime, ...]  # builders, helpers, paid; who gave most first
    notes: tuple[Note, ...]  # that name it in `tasks` or in a picture's `shows`
    worked_on: tuple[Note, ...]  # of these, those that name it in `tasks`, up to the certificate
    places: tuple[WorkPlace, ...]
    methods: tuple[Told[TaskLine], ...]  # entries with `per`
    pictures: tuple[Shot, ...]
    measured: tuple[Told[Measured], ...]
    torqued: tuple[Told[Torqued], ...]
    process: tuple[Told[Process], ...]
    visits: tuple[Told[Visit], ...]
    snags: tuple[Snag, ...]
    parts: tuple[Told[PartLine], ...]  # entries with `for` it
    away: tuple[WorkAway, ...]
    closings: tuple[Closing, ...]  # that name it or its area

    @property
    def done(self) -> bool:
        """Whether the work list says that it is finished."""
        return self.task is not None and self.task.done

    @property
    def seconds(self) -> int:
        """Build time of everyone together."""
        return sums.seconds_of(self.work)

    @property
    def amateur_seconds(self) -> int:
        """Build time of the amateurs."""
        return sums.seconds_of(self.amateur_work)

    @property
    def by_role(self) -> dict[str, int]:
        """Build time by role: always builder, helper, paid."""
        return sums.by_role(self.work)

    @property
    def by_kind(self) -> dict[str, int]:
        """Build time by kind of work: always fabrication, assembly, other."""
        return sums.by_kind(self.work)

    @property
    def days(self) -> tuple[date, ...]:
        """The distinct days with build time, oldest first: the first and the last are its span."""
        return tuple(sums.days_with_time(self.work))

    @property
    def paid_work(self) -> tuple[Worked, ...]:
        """Build time of paid help."""
        return tuple(row for row in self.work if row.role is Role.PAID)

    @property
    def shots(self) -> tuple[Shot, ...]:
        """The pictures that show the work itself, scanned pages left out."""
        return tuple(shot for shot in self.pictures if not shot.page)

    @property
    def described(self) -> tuple[Note, ...]:
        """The notes that name it in `tasks` and have words below their front matter."""
        open_notes = (n for n in self.worked_on if n.privacy is not Privacy.HOURS_ONLY)
        return tuple(note for note in open_notes if note.prose.text.strip())

    @property
    def proofs(self) -> dict[Proof, int]:
        """How many entries speak for the quality of its work, by kind; kinds with none left out."""
        counts = {
            Proof.MEASURED: len(self.measured),
            Proof.TORQUED: len(self.torqued),
            Proof.PROCESS: len(self.process),
            Proof.VISITS: len(self.visits),
        }
        return {proof: number for proof, number in counts.items() if number}

    @property
    def receipts(self) -> tuple[str, ...]:
        """Receipts of its parts and of its work away, each once."""
        told = [each.line.receipt.text for each in self.parts if each.line.receipt]
        return tuple(
            dict.fromkeys((*told, *(path for away in self.away for path in away.receipts)))
        )
