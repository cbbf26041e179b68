"""Who gave how long to which task: the rules of `hours` and `tasks`, applied note by note.

Nothing is divided by guess: where several tasks without hours could take what is left of a
person's time, it stays with no task and the even split is offered.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from builderlog.knowing.entries import Note, TaskLine, Work
from builderlog.knowing.ledger import Worked
from builderlog.knowing.settings import Role, Settings, Worklist
from builderlog.knowing.units import HOUR, MINUTE
from builderlog.reading.problem import Place, Problem, doubt, mistake
from builderlog.reading.quoting import in_braces


@dataclass(frozen=True, slots=True)
class _Stint:
    """A person's time on one task line, or on none."""

    person: str
    line: TaskLine | None
    seconds: int
    place: Place


def apportion(
    note: Note, settings: Settings, worklist: Worklist, sealed: Mapping[str, Role] | None = None
) -> tuple[tuple[Worked, ...], tuple[Problem, ...]]:
    """One note's time by person, task and kind of work, and what does not fit together in it.

    `sealed` are the roles that the seal of the note's month gives; they come before today's.
    """
    problems: list[Problem] = []
    stints = [*_stints(note, settings.builder or "", problems)]
    roles = {person.name: person.role for person in settings.people} | dict(sealed or {})
    work = tuple(
        _worked(note, stint, role, worklist)
        for stint in stints
        if stint.seconds and (role := roles.get(stint.person))
    )
    return work, tuple(problems)


def _worked(note: Note, stint: _Stint, role: Role, worklist: Worklist) -> Worked:
    task = stint.line.task.text if stint.line else None
    if worklist.written and task not in worklist.by_id:
        task = None  # a task that nobody knows is a mistake, told in the checks
    kind = stint.line.work if stint.line else None
    if kind is None and task in worklist.by_id:
        kind = worklist.by_id[task].work
    assert note.day is not None  # noqa: S101
    return Worked(
        note=note.path,
        day=note.day,
        person=stint.person,
        role=role,
        task=task,
        work=kind or Work.OTHER,
        seconds=stint.seconds,
        place=stint.place,
    )


def _stints(note: Note, builder: str, problems: list[Problem]) -> Iterator[_Stint]:
    given: dict[str, tuple[int, Place]] = {}
    for hours in note.hours:
        name = hours.person.text if hours.person else builder
        given[name] = (hours.length.seconds, hours.place)
    for person, (seconds, place) in given.items():
        yield from _with_hours(note, person, (seconds, place), builder, problems)
    for line in note.tasks:
        for person in _doers(line, builder):
            if person not in given and line.length:
                yield _Stint(person, line, line.length.seconds, line.place)
    problems.extend(_without_time(note, builder, set(given)))


def _doers(line: TaskLine, builder: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word.text for word in line.who)) or (builder,)


def _with_hours(
    note: Note, person: str, given: tuple[int, Place], builder: str, problems: list[Problem]
) -> Iterator[_Stint]:
    """A person named in `hours`: timed tasks first, what is left to the one task without hours."""
    left, place = given
    for line in note.tasks:
        if line.length is None or person not in _doers(line, builder):
            continue
        if line.length.seconds > left:
            problems.append(_exceeds(line, person, left, given[0]))
            continue
        left -= line.length.seconds
        yield _Stint(person, line, line.length.seconds, line.place)
    open_lines = [line for line in note.tasks if _takes_rest(line, person)]
    if len(open_lines) == 1:
        yield _Stint(person, open_lines[0], left, open_lines[0].place)
    else:
        yield _Stint(person, None, left, place)
        if open_lines and left:
            problems.append(_several(open_lines, person, left))


def _takes_rest(line: TaskLine, person: str) -> bool:
    return line.length is None and (not line.who or person in {word.text for word in line.who})


def _exceeds(line: TaskLine, person: str, left: int, whole: int) -> Problem:
    seconds = line.length.seconds if line.length else 0
    told = (
        f"{length_text(seconds)} on {line.task} are more than {person} has left "
        f"({length_text(left)} of {length_text(whole)} in hours); write less here or more in hours"
    )
    return mistake(line.place, "task-exceeds-hours", told)


def _several(lines: list[TaskLine], person: str, left: int) -> Problem:
    share, rest = divmod(left, len(lines))
    parts = [share + (1 if index < rest else 0) for index in range(len(lines))]
    split = ", ".join(_share(line, person, part) for line, part in zip(lines, parts, strict=True))
    told = (
        f"{length_text(left)} of {person} could belong to {len(lines)} tasks and stay with none; "
        f"evenly split they are: [{split}]"
    )
    return doubt(lines[0].place, "time-without-task", told)


def _share(line: TaskLine, person: str, seconds: int) -> str:
    """The line with its share of one person's time, all else kept."""
    words = {
        "task": line.task.text,
        "hours": length_text(seconds),
        "who": person,
        "work": line.work,
        "per": line.per.text if line.per else None,
    }
    written = (f"{key}: {in_braces(text)}" for key, text in words.items() if text)
    return f"{{{', '.join(written)}}}"


def _without_time(note: Note, builder: str, given: set[str]) -> Iterator[Problem]:
    """A task without hours, of somebody who has none in the note: it counts nothing."""
    for line in note.tasks:
        if line.length is not None or (given and not line.who):
            continue
        for person in _doers(line, builder):
            if person not in given:
                told = f"no time of {person} stands for {line.task}"
                told = f"{told}; write hours: {{{in_braces(person)}: 2h}}"
                yield doubt(line.place, "task-without-time", told)


def length_text(seconds: int) -> str:
    """A length as a note writes it, exact: `2h30`, `45m`, or decimal hours where seconds remain."""
    if seconds % MINUTE:
        return f"{Decimal(seconds) / HOUR:.6f}".rstrip("0")
    hours, minutes = divmod(seconds // MINUTE, MINUTE)
    if not hours:
        return f"{minutes}m"
    return f"{hours}h{minutes:02}" if minutes else f"{hours}h"
