"""The sessions of a table to notes, one an evening, and the tasks that they name to a work list.

Rows of one day become one note where nothing changes its meaning by that; a row whose time could
then go to another task keeps a note of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import pairwise

from builderlog.knowing.form_merge import merge_form
from builderlog.knowing.form_row import AreaNamed, FormRow
from builderlog.knowing.hours import length_text
from builderlog.knowing.settings import Worklist
from builderlog.knowing.worklist_edit import new_worklist
from builderlog.noting.hours_table_cells import Time
from builderlog.noting.hours_table_row import Session
from builderlog.noting.new_note import NewNote, NewTask, note_path, note_text

IN_WORDS = ("table", "Tasks in the words of the table")  # the area of tasks that are no ids


def notes_of(sessions: Sequence[Session], builder: str, written: date) -> tuple[NewNote, ...]:
    """The notes, oldest first; `written` is the day on which they are written."""
    return tuple(_note(group, builder, written) for group in _evenings(sessions))


def note_files(notes: Iterable[NewNote]) -> dict[str, str]:
    """The text of each note by its path; no two notes have one path."""
    files: dict[str, str] = {}
    for note in notes:
        files[note_path(note.day, note.title, files)] = note_text(note)
    return files


def _evenings(sessions: Sequence[Session]) -> Iterator[tuple[Session, ...]]:
    """The sessions of one note each, in the order of days, and then of rows."""
    days = [session.day for session in sessions]
    back = sum(a > b for a, b in pairwise(days)) > sum(a < b for a, b in pairwise(days))
    by_day: dict[date, list[Session]] = {}
    for session in reversed(sessions) if back else sessions:
        by_day.setdefault(session.day, []).append(session)
    for day in sorted(by_day):
        together = tuple(session for session in by_day[day] if _can_be_joined(session))
        if together:
            yield together
        yield from ((session,) for session in by_day[day] if session not in together)


def _can_be_joined(session: Session) -> bool:
    """A task without a time of its own would take what other rows left to no task."""
    return not session.tasks or (len(session.tasks) == 1 and bool(session.times))


def _note(group: Sequence[Session], builder: str, written: date) -> NewNote:
    hours, told = _hours(group, builder)
    alone = len(group) == 1
    return NewNote(
        group[0].day,
        next((session.title for session in group if session.title), ""),
        hours,
        tuple(
            task
            for session in group
            for task in (_tasks(session, builder) if alone else _timed(session, builder))
        ),
        text=_text(group),
        next_steps=tuple(step for session in group for step in session.next_steps),
        written=written,
        comments=(*told, *(line for session in group for line in _comments(session, builder))),
    )


def _hours(
    group: Iterable[Session], builder: str
) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """Everyone's time; spans that had to be added to a length stay as a comment."""
    by_person: dict[str, list[Time]] = {}
    for session in group:
        for person, time in session.times:
            by_person.setdefault(person, []).append(time)
    alone = set(by_person) == {builder}
    hours: list[tuple[str, str]] = []
    told: list[str] = []
    for person, times in by_person.items():
        name = "" if alone else person
        if len(times) == 1 or all(time.span for time in times):
            hours.extend((name, time.words) for time in times)
        else:
            hours.append((name, length_text(sum(time.seconds for time in times))))
            parts = " + ".join(time.words for time in times)
            told += [f"{person}: {parts}"] if any(time.span for time in times) else []
    return tuple(hours), tuple(told)


def _tasks(session: Session, builder: str) -> Iterator[NewTask]:
    """The tasks of a note with one session: a single one takes all of its time."""
    who = () if session.times or session.people == (builder,) else session.people
    for task in session.tasks:
        yield NewTask(task, who=who, work=session.work, per=session.per)


def _timed(session: Session, builder: str) -> Iterator[NewTask]:
    """The one task of a session among several, with the time that each person gave to it."""
    by_words: dict[str, list[str]] = {}
    for person, time in session.times:
        by_words.setdefault(time.words, []).append(person)
    for task in session.tasks:
        for words, people in by_words.items():
            who = () if people == [builder] else tuple(people)
            yield NewTask(task, words, who, session.work, session.per)


def _text(group: Sequence[Session]) -> str:
    """The words of all sessions, each a paragraph; a second title stands over its words."""
    named = next((session for session in group if session.title), None)
    words: list[str] = []
    for session in group:
        words += [session.title] if session.title and session is not named else []
        words += [session.text] if session.text else []
    return "\n\n".join(words)


def _comments(session: Session, builder: str) -> Iterator[str]:
    if not session.times and not session.tasks and session.people not in ((builder,), ()):
        yield f"who: {', '.join(session.people)}"
    yield from session.comments


def worklist_from(sessions: Iterable[Session], origin: str) -> bytes | None:
    """A work list of the tasks that the sessions name; None where they name none."""
    rows: dict[str, FormRow] = {}
    for session in sessions:
        for task in session.tasks:
            rows.setdefault(task, FormRow(task, session.place, area=_area(task, session)))
    if not rows:
        return None
    merge, _ = merge_form(tuple(rows.values()), Worklist())
    return new_worklist("worklist.yaml", origin, merge)


def _area(task: str, session: Session) -> AreaNamed | None:
    """As the table says, or by the letters of an id; tasks in words have one of their own."""
    if session.area:
        return AreaNamed(None, session.area, session.place)
    in_words = not any(sign.isdigit() for sign in task) or " " in task
    return AreaNamed(*IN_WORDS, session.place) if in_words else None
