"""What is known for tonight's note: the last session, what is left to do, parts and snags."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from builderlog.deciding.sums import NO_AREA, area_of
from builderlog.knowing.entries import DatedWord, Note, PartStatus, TaskLine
from builderlog.knowing.ledger import Ledger, Part, Snag

EXPECTED = (PartStatus.ORDERED, PartStatus.BACK_ORDERED, PartStatus.SHORT)


@dataclass(frozen=True, slots=True)
class TaskBefore:
    """A task of the last session; `name` by the work list, "" where that has none."""

    task: str
    name: str = ""
    work: str = ""
    per: str = ""


@dataclass(frozen=True, slots=True)
class PartExpected:
    """A part that is on its way; `late` where it should have been here before this day."""

    part: str
    ref: str
    status: str
    due: date | None
    late: bool


@dataclass(frozen=True, slots=True)
class SnagOpen:
    """An open snag, by its number."""

    number: str
    snag: str
    day: date


@dataclass(frozen=True, slots=True)
class Tonight:
    """What a note of `day` can begin with; nothing of it is taken for done."""

    day: date
    last_day: date | None = None  # of the last session, up to this day
    tasks: tuple[TaskBefore, ...] = ()
    next_steps: tuple[str, ...] = ()
    parts: tuple[PartExpected, ...] = ()  # the earliest due first
    snags: tuple[SnagOpen, ...] = ()  # of the areas of the last session, the oldest first
    people: tuple[str, ...] = ()  # who had hours in the last session, the builder first
    pictures: tuple[str, ...] = ()  # of the day, in no note yet
    written: tuple[str, ...] = ()  # the notes that the day has already


def night_of(now: datetime, day_ends: time) -> date:
    """The day whose evening it is: before `day_ends` it is still yesterday's."""
    before = now.time() < day_ends and now.date() > date.min
    return now.date() - timedelta(days=1) if before else now.date()


def known_for(ledger: Ledger, day: date, unfiled: Sequence[str] = ()) -> Tonight:
    """What the journal knows for a note of that day; `unfiled` are its pictures without a note."""
    session = _last_session(ledger.notes, day)
    tasks = _tasks_of(ledger, session)
    areas = {area_of(task.task, ledger.worklist) for task in tasks} - {NO_AREA}
    return Tonight(
        day=day,
        last_day=session[-1].day if session else None,
        tasks=tasks,
        next_steps=tuple(dict.fromkeys(step.text for one in session for step in one.next_steps)),
        parts=tuple(_expected(ledger.parts, day)),
        snags=tuple(_open_snags(ledger, areas, {task.task for task in tasks})),
        people=_people_of(ledger, session),
        pictures=tuple(unfiled),
        written=tuple(note.path for note in ledger.notes if note.day == day),
    )


def _last_session(notes: Iterable[Note], day: date) -> tuple[Note, ...]:
    """The notes of the newest day up to `day` on which there was work or something left to do."""
    told = [
        note
        for note in notes
        if note.day and note.day <= day and (note.tasks or note.hours or note.next_steps)
    ]
    return tuple(note for note in told if note.day == told[-1].day)


def _tasks_of(ledger: Ledger, session: Iterable[Note]) -> tuple[TaskBefore, ...]:
    """Each task once, as it was last written, without those that are done or do not apply."""
    lines: dict[str, list[TaskLine]] = {}
    for line in (line for note in session for line in note.tasks):
        lines.setdefault(line.task.text, []).append(line)
    return tuple(
        TaskBefore(
            task=name,
            name=known.name if known and known.name != name else "",
            work=next((str(line.work) for line in reversed(said) if line.work), ""),
            per=next((line.per.text for line in reversed(said) if line.per), ""),
        )
        for name, said in lines.items()
        if not (known := ledger.worklist.by_id.get(name)) or (known.applies and not known.done)
    )


def _people_of(ledger: Ledger, session: Iterable[Note]) -> tuple[str, ...]:
    paths = {note.path for note in session}
    builder = ledger.settings.builder or ""
    names = dict.fromkeys(row.person for row in ledger.work if row.note in paths)
    return tuple(sorted(names, key=lambda name: name != builder))


def _expected(parts: Iterable[Part], day: date) -> list[PartExpected]:
    found = [_part_of(part, day) for part in parts if part.status in EXPECTED]
    return sorted(found, key=lambda part: (part.due or date.max, part.part))


def _part_of(part: Part, day: date) -> PartExpected:
    due = _due(part)
    return PartExpected(
        part=part.name,
        ref=part.ref or "",
        status=str(part.status),
        due=due.day if due else None,
        late=bool(due and due.day < day),
    )


def _due(part: Part) -> DatedWord | None:
    """The newest day that was promised."""
    told = [event.line.due for event in part.events if event.line.due]
    return told[-1] if told else None


def _open_snags(ledger: Ledger, areas: set[str], tasks: set[str]) -> Iterable[SnagOpen]:
    for snag in ledger.snags:
        if snag.fixed is None and _belongs(ledger, snag, areas, tasks):
            yield SnagOpen(snag.number, snag.line.snag.text, snag.day)


def _belongs(ledger: Ledger, snag: Snag, areas: set[str], tasks: set[str]) -> bool:
    """True for a snag of these areas, or of one of these tasks where no work list has it."""
    area, task = snag.line.area, snag.line.task
    if area and area.text in areas:
        return True
    return bool(task and (task.text in tasks or area_of(task.text, ledger.worklist) in areas))
