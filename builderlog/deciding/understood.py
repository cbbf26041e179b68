"""What was understood of a note: its hours, the month's and all; what needs mending or closes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.before_closing import BeforeClosing, closing_now
from builderlog.deciding.sealing import is_sealed
from builderlog.deciding.words import counted, day_plain, duration, listed, month_long, month_of
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, Weight

NO_TASK = ""  # stands where a task's id would, for time that belongs to no task


@dataclass(frozen=True, slots=True)
class Understood:
    """What a note says, summed; all in whole seconds. `problems` are of that note alone."""

    path: str
    day: date | None  # None where no date could be read: then nothing of it counts
    tonight: int
    by_person: Mapping[str, int]
    by_task: Mapping[str, int]  # in the work list's order, `NO_TASK` last
    pictures: int
    month: int
    month_days: int
    whole: int
    problems: tuple[Problem, ...] = ()  # worst first
    elsewhere: int = 0  # mistakes in other files
    closing: tuple[BeforeClosing, ...] = ()
    sealed: bool = False  # its month was sealed before the note was written

    @property
    def mistakes(self) -> tuple[Problem, ...]:
        """What must be mended before the note counts."""
        return tuple(one for one in self.problems if one.weight is Weight.MISTAKE)

    @property
    def doubts(self) -> tuple[Problem, ...]:
        """What is counted as written, but worth a second look tonight."""
        return tuple(one for one in self.problems if one.weight is Weight.DOUBT and not one.because)


def understood(ledger: Ledger, problems: Iterable[Problem], path: str) -> Understood:
    """What the journal's ledger holds of the note at `path`; `problems` are the journal's."""
    told = tuple(problems)
    note = next((one for one in ledger.notes if one.path == path), None)
    rows = [row for row in ledger.work if row.note == path]
    month = [row for row in ledger.work if note and note.day and _same_month(row.day, note.day)]
    tasks = sums.seconds_by(rows, lambda row: row.task or NO_TASK)
    order = [*sums.in_task_order(tasks.keys() - {NO_TASK}, ledger.worklist), NO_TASK]
    return Understood(
        path=path,
        day=note.day if note else None,
        tonight=sums.seconds_of(rows),
        by_person=sums.seconds_by(rows, lambda row: row.person),
        by_task={task: tasks[task] for task in order if tasks.get(task)},
        pictures=len(note.photos) if note else 0,
        month=sums.seconds_of(month),
        month_days=len(sums.days_with_time(month)),
        whole=sums.seconds_of(ledger.work),
        problems=tuple(one for one in told if one.place.path == path),
        elsewhere=sum(one.weight is Weight.MISTAKE and one.place.path != path for one in told),
        closing=closing_now(ledger, note) if note else (),
        sealed=_is_sealed(ledger, note),
    )


def _same_month(day: date, other: date) -> bool:
    return month_of(day) == month_of(other)


def _is_sealed(ledger: Ledger, note: Note | None) -> bool:
    return bool(note and note.day and is_sealed(ledger, month_of(note.day)))


def understood_lines(found: Understood, tonight: date) -> tuple[str, str, str]:
    """Tonight, the month, all of it: a line each. `tonight` is the day whose evening it is."""
    if found.day is None:
        raise ValueError("a note without a day is no part of any month")
    when = "tonight" if found.day == tonight else f"on {day_plain(found.day)}"
    days = counted(found.month_days, "day")
    return (
        _of_tonight(found, when),
        f"{month_long(month_of(found.day))}: {duration(found.month)} on {days}",
        f"In all: {duration(found.whole)}",
    )


def _of_tonight(found: Understood, when: str) -> str:
    """`3 h tonight (Runa 2 h and Pim 1 h): W14 2 h, no task 1 h; 2 pictures`."""
    head = (
        f"{duration(found.tonight)} {when}{_people(found)}" if found.tonight else f"No time {when}"
    )
    tasks = ", ".join(_tasks(found.by_task))
    photos = f"; {counted(found.pictures, 'picture')}" if found.pictures else ""
    return f"{head}{f': {tasks}' if tasks else ''}{photos}"


def _people(found: Understood) -> str:
    """Who, and where they are several how long each."""
    told = {name: seconds for name, seconds in found.by_person.items() if seconds}
    names = [*told] if len(told) == 1 else [f"{name} {duration(told[name])}" for name in told]
    return f" ({listed(names)})"


def _tasks(by_task: Mapping[str, int]) -> Iterator[str]:
    for task, seconds in by_task.items():
        yield f"{task or 'no task'} {duration(seconds)}"
