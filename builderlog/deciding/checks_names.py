"""Checks of names: people, tasks, areas and wrenches that a note names must be declared."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.knowing.entries import Note
from builderlog.knowing.forms import nearest
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Role
from builderlog.reading.problem import Place, Problem, doubt, mistake
from builderlog.reading.quoting import in_braces
from builderlog.reading.words import Word


def people_of(note: Note) -> Iterator[Word]:
    """Every name in the note that must be declared; those in visits, away and from need not be."""
    yield from (hours.person for hours in note.hours if hours.person)
    yield from (name for line in note.tasks for name in line.who)
    yield from (name for line in note.photos for name in line.seen)
    yield from (name for line in note.torqued for name in (*line.by, *line.witness))
    yield from (name for line in note.fixed for name in (*line.by, *line.witness))


def unknown_people(ledger: Ledger) -> Iterator[Problem]:
    """A name that journal.yaml does not declare."""
    declared = {person.name for person in ledger.settings.people}
    for note in ledger.notes:
        for name in people_of(note):
            if name.text not in declared:
                hint = nearest(name.text, declared)
                hint = (
                    hint
                    or f"; declare it in journal.yaml: {in_braces(name.text)}: {{role: helper}}"
                )
                told = f"'{name}' is not among the people of journal.yaml{hint}"
                yield mistake(name.place, "unknown-person", told)


def repeated_people(ledger: Ledger) -> Iterator[Problem]:
    """One name twice in one list: its time counts once."""
    for note in ledger.notes:
        for line in note.tasks:
            seen: set[str] = set()
            for name in line.who:
                if name.text in seen:
                    told = f"'{name}' stands twice in who; write each person once"
                    yield mistake(name.place, "repeated-person", told)
                seen.add(name.text)


def _tasks_of(note: Note) -> Iterator[Word]:
    """Words that must be a task."""
    yield from (line.task for line in note.tasks)
    yield from (task for line in note.photos for task in line.shows)
    yield from (line.task for line in note.parts if line.task)
    yield from (line.task for line in note.snags if line.task)
    yield from (line.task for visit in note.visits for line in visit.found if line.task)
    yield from (line.task for line in note.away if line.task)


def _tasks_or_areas_of(note: Note) -> Iterator[Word]:
    """Words that may be a task or an area."""
    yield from note.closes
    yield from note.opens
    yield from (word for visit in note.visits for word in visit.looked_at)


def _areas_of(note: Note) -> Iterator[Word]:
    yield from (line.area for line in note.snags if line.area)
    yield from (line.area for visit in note.visits for line in visit.found if line.area)


def unknown_tasks(ledger: Ledger) -> Iterator[Problem]:
    """An id that the work list does not hold; without a work list ids are free text."""
    if not ledger.worklist.written:
        return
    tasks = set(ledger.worklist.by_id)
    areas = {area.id for area in ledger.worklist.areas}
    yield from _unknown(ledger.settings.visit_first, tasks | areas, "task or area")
    for note in ledger.notes:
        yield from _unknown(_tasks_of(note), tasks, "task")
        yield from _unknown(_tasks_or_areas_of(note), tasks | areas, "task or area")
        yield from _unknown(_areas_of(note), areas, "area")


def _unknown(words: Iterable[Word], known: set[str], what: str) -> Iterator[Problem]:
    for word in words:
        if word.text not in known:
            hint = nearest(word.text, sorted(known)) or "; add it there or mend the id"
            told = f"'{word}' is no {what} of worklist.yaml{hint}"
            yield mistake(word.place, f"unknown-{what.partition(' ')[0]}", told)


def tasks_that_do_not_apply(ledger: Ledger) -> Iterator[Problem]:
    """Work on a task that the work list says is not on this aircraft."""
    for note in ledger.notes:
        for line in note.tasks:
            task = ledger.worklist.by_id.get(line.task.text)
            if task and not task.applies:
                told = f"worklist.yaml says that {task.id} does not apply; mend one of the two"
                yield doubt(line.task.place, "task-does-not-apply", told)


def unknown_wrenches(ledger: Ledger) -> Iterator[Problem]:
    """A wrench that journal.yaml does not declare."""
    declared = [wrench.name for wrench in ledger.settings.wrenches]
    for note in ledger.notes:
        for line in note.torqued:
            if line.wrench and line.wrench.text not in declared:
                hint = nearest(line.wrench.text, declared)
                hint = hint or "; declare it in journal.yaml under wrenches with its calibration"
                told = f"'{line.wrench}' is not among the wrenches of journal.yaml{hint}"
                yield mistake(line.wrench.place, "unknown-wrench", told)


def builder_is_no_builder(ledger: Ledger) -> Iterator[Problem]:
    """The journal's builder should have the role of one, or no hour counts for the claim."""
    person = ledger.settings.person(ledger.settings.builder or "")
    if person and person.role and person.role is not Role.BUILDER:
        told = f"'{person.name}' is the journal's builder, but has the role {person.role}"
        yield doubt(person.place, "builder-role", f"{told}; write role: builder if that is meant")


def ids_of_two_things(ledger: Ledger) -> Iterator[Problem]:
    """A task with the id of an area: `closes` could mean either."""
    areas = {area.id for area in ledger.worklist.areas}
    for task in ledger.worklist.by_id.values():
        if task.id in areas:
            told = (
                f"'{task.id}' is both an area and a task, so closes could mean either; rename one"
            )
            yield doubt(task.place, "area-and-task", told)


def empty_notes(ledger: Ledger) -> Iterator[Problem]:
    """A note in which nothing stands but its date; not one whose words could not be read."""
    unread = {problem.place.path for problem in ledger.problems}
    for note in ledger.notes:
        if note.path not in unread and _says_nothing(note):
            told = "nothing stands in this note but its date; write what was done, or delete it"
            yield doubt(Place(note.path), "empty-note", told)


def _says_nothing(note: Note) -> bool:
    said = (
        *(note.hours, note.tasks, note.parts, note.photos, note.measured, note.torqued),
        *(note.process, note.snags, note.fixed, note.decided, note.visits, note.away),
        *(note.bulletins, note.closes, note.opens, note.next_steps, note.title),
    )
    return not any(said) and not note.prose.text.strip()


NAME_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    unknown_people,
    repeated_people,
    unknown_tasks,
    tasks_that_do_not_apply,
    unknown_wrenches,
    builder_is_no_builder,
    ids_of_two_things,
    empty_notes,
)
