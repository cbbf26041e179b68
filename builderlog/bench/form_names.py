"""Names as one writes them in a hurry, to the ids that the journal knows: tasks, areas, people."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from builderlog.knowing.forms import nearest
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Person
from builderlog.knowing.units import UnreadableError


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the things that a field offers: what is written, and what it is called."""

    id: str
    name: str = ""


def tasks_offered(ledger: Ledger) -> tuple[Choice, ...]:
    """The tasks of the work list that apply, open ones first; without a list those used before."""
    if not ledger.worklist.written:
        used = dict.fromkeys(row.task for row in reversed(ledger.work) if row.task)
        return tuple(map(Choice, used))
    tasks = [task for area in ledger.worklist.areas for task in area.tasks if task.applies]
    return tuple(Choice(task.id, task.name) for task in sorted(tasks, key=lambda task: task.done))


def areas_offered(ledger: Ledger) -> tuple[Choice, ...]:
    """The areas of the work list."""
    return tuple(Choice(area.id, area.name) for area in ledger.worklist.areas)


def people_offered(ledger: Ledger, on: date) -> tuple[Person, ...]:
    """Who works here on that day, the journal's builder first."""
    people = [person for person in ledger.settings.people if _here(person, on)]
    return tuple(sorted(people, key=lambda person: person.name != ledger.settings.builder))


def _here(person: Person, on: date) -> bool:
    begun = person.since is None or person.since.day <= on
    return begun and (person.until is None or on <= person.until.day)


def task_meant(text: str, ledger: Ledger) -> str:
    """The id of the task that is meant by its id or its name. Raises UnreadableError."""
    if not ledger.worklist.written:
        return text
    tasks = [Choice(task.id, task.name) for task in ledger.worklist.by_id.values()]
    return _meant(text, tasks, "no task of the work list; write its id or its name")


def subject_meant(text: str, ledger: Ledger) -> str:
    """The id of the task or area that is meant. Raises UnreadableError."""
    if not ledger.worklist.written:
        return text
    tasks = [Choice(task.id, task.name) for task in ledger.worklist.by_id.values()]
    known = (*areas_offered(ledger), *tasks)
    return _meant(text, known, "no area and no task of the work list; write its id or its name")


def is_area(word: str, ledger: Ledger) -> bool:
    """Whether an id is an area's and no task's."""
    areas = {area.id for area in ledger.worklist.areas}
    return word in areas and word not in ledger.worklist.by_id


def _meant(text: str, known: Iterable[Choice], wrong: str) -> str:
    """Exactly first, then in any case, then by name, then "W14 Fit aileron skins"."""
    choices = list(known)
    if any(text == choice.id for choice in choices):
        return text
    word = " ".join(text.split()).casefold()
    for spoken in (_id, _name, _both):
        found = {choice.id for choice in choices if spoken(choice) == word}
        if len(found) == 1:
            return found.pop()
    names = {choice.name: choice.id for choice in choices if choice.name}
    hint = nearest(text, [choice.id for choice in choices]) or nearest(text, names)
    raise UnreadableError(f"'{text}' is {wrong}{hint}")


def _id(choice: Choice) -> str:
    return choice.id.casefold()


def _name(choice: Choice) -> str:
    return " ".join(choice.name.split()).casefold()


def _both(choice: Choice) -> str:
    return f"{_id(choice)} {_name(choice)}"
