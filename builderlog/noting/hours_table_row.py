"""One row of a table of hours to a session: who, how long, on what, in which words.

What a column of no known meaning holds is kept as a comment. What is said once of the whole table
(names that nobody declared, tasks that no list has) is only collected here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from builderlog.knowing.entries import Work
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.hours import length_text
from builderlog.knowing.units import DAY, HOUR, UnreadableError
from builderlog.noting.hours_table_cells import (
    Time,
    minutes_of,
    people_of,
    span_of,
    tasks_of,
    time_of,
)
from builderlog.noting.hours_table_columns import Column, HoursColumns
from builderlog.noting.table_columns import TableRow
from builderlog.reading.csv_rows import Cell
from builderlog.reading.problem import Place, Problem, doubt, mistake

T = TypeVar("T")
_WORKS = {work.value: work.value for work in Work}
_DATE_BEFORE = re.compile(r"\S*\d[-/.]\d{1,2}[-/.]\d{1,4}[T ]\s*")
LONGEST_BREAK = 4  # hours; a larger bare number is meant as minutes


@dataclass(frozen=True, slots=True)
class Session:
    """What a row says. `times` has names, the builder's too; of a row without time it is empty."""

    place: Place
    day: date
    times: tuple[tuple[str, Time], ...] = ()
    people: tuple[str, ...] = ()
    tasks: tuple[str, ...] = ()
    area: str = ""  # of its tasks, where the table makes the work list
    work: str = ""
    per: str = ""
    title: str = ""
    text: str = ""
    next_steps: tuple[str, ...] = ()
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """Who and what is declared; names and ids by themselves without capitals."""

    builder: str
    people: Mapping[str, str]  # the builder too
    tasks: Mapping[str, str]
    has_list: bool  # tasks that are not known have no place; else the table makes the list


@dataclass(slots=True)
class Found:
    """What rows have to tell, and what is told once of all of them."""

    problems: list[Problem] = field(default_factory=list)
    strangers: dict[str, list[Place]] = field(default_factory=dict)  # people
    unlisted: dict[str, list[Place]] = field(default_factory=dict)  # tasks
    kinds: dict[str, list[Place]] = field(default_factory=dict)
    shared: list[Place] = field(default_factory=list)  # cells with several people and one time


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads the cells of one row; what there is to tell goes to `found`."""

    row: TableRow[Column]
    columns: HoursColumns
    known: Known
    found: Found

    def session(self, day: date, beside: str) -> Session:
        """The session of `day`; `beside` is a time that stood with the date."""
        comments = [*self.row.kept(), *([f"time with the date: {beside}"] if beside else [])]
        people = self._people()
        times = self._times(people, comments)
        tasks = self._tasks(comments)
        return Session(
            self.row.place(Column.DATE),
            day,
            times,
            people,
            tasks,
            self.row.text(Column.AREA),
            self._work(comments, has_task=bool(tasks)),
            self._per(comments, has_task=bool(tasks)),
            self.row.text(Column.TITLE),
            "\n\n".join(cell.text for cell in self.row.cells(Column.TEXT)),
            tuple(one_line(cell.text) for cell in self.row.cells(Column.NEXT)),
            tuple(comments),
        )

    def _read(self, cell: Cell | None, parse: Callable[[str], T]) -> T | None:
        if cell is None:
            return None
        try:
            return parse(cell.text)
        except UnreadableError as fault:
            self._tell(cell, "unreadable", str(fault))
            return None

    def _tell(self, cell: Cell, code: str, message: str) -> None:
        self.found.problems.append(mistake(self.row.table.place(cell), code, message))

    def _people(self) -> tuple[str, ...]:
        cell = self.row.cell(Column.WHO)
        if cell is None:
            return (self.known.builder,)
        people = people_of(cell.text, self.known.people, self.known.builder)
        for name in people:
            if name.casefold() not in self.known.people:
                self.found.strangers.setdefault(name, []).append(self.row.table.place(cell))
        if len(people) > 1 and self.row.cell(Column.HOURS):
            self.found.shared.append(self.row.table.place(cell))
        return people

    def _times(self, people: tuple[str, ...], comments: list[str]) -> tuple[tuple[str, Time], ...]:
        whole = self._whole(comments)
        times = [(person, whole) for person in people] if whole and whole.seconds else []
        for place, person in self.columns.people.items():
            cell = self.row.at(place)
            time = self._read(cell, time_of)
            if cell and time and time.seconds:
                if person in dict(times):
                    told = f"{person} has a time in two columns of this row; keep one"
                    self._tell(cell, "time-twice", told)
                times.append((person, time))
        for person, time in times:
            if time.seconds > DAY:
                told = f"'{time.words}' of {person} is more than a day has; mend it"
                self._tell(self._time_cell(), "day-too-long", told)
        return tuple(times)

    def _time_cell(self) -> Cell:
        cells = (self.row.cell(each) for each in (Column.HOURS, Column.MINUTES, Column.BEGIN))
        named = (self.row.at(place) for place in self.columns.people)
        return next((cell for cell in (*cells, *named) if cell), self.row.row[0])

    def _whole(self, comments: list[str]) -> Time | None:
        """The row's own time: as it says, or from start to end."""
        said = _sum(
            self._read(self.row.cell(Column.HOURS), time_of),
            self._read(self.row.cell(Column.MINUTES), minutes_of),
        )
        span = self._span()
        pause = self._read(self.row.cell(Column.BREAK), self._pause)
        if span is None or (pause and pause.seconds >= span.seconds):
            if pause:
                comments.append(f"break: {pause.words}")
            return said
        net = (
            Time(length_text(span.seconds - pause.seconds), span.seconds - pause.seconds)
            if (pause and pause.seconds)
            else span
        )
        if net is not span:
            comments.append(f"{span.words}, break {length_text(span.seconds - net.seconds)}")
        if said is None or said.seconds == net.seconds:
            return net
        if net is span:
            comments.append(span.words)
        self._tell_difference(said, net)
        return said

    def _tell_difference(self, said: Time, net: Time) -> None:
        told = f"start and end make {length_text(net.seconds)}, and the hours say {said.words}; "
        told += "the hours count, and the span is kept as a comment; mend one if that is wrong"
        place = self.row.table.place(self._time_cell())
        self.found.problems.append(doubt(place, "hours-differ", told))

    def _span(self) -> Time | None:
        begin, end = self.row.cell(Column.BEGIN), self.row.cell(Column.END)
        if begin and end:
            return self._read(end, lambda text: span_of(_clock(begin.text), _clock(text)))
        if begin or end:
            cell = begin or end
            assert cell is not None  # noqa: S101
            told = f"'{cell.text}' stands without its other end; write both start and end, or none"
            self._tell(cell, "half-a-span", told)
        return None

    def _pause(self, text: str) -> Time:
        """A break; a bare number beyond a few hours is told, for minutes are meant."""
        header = self.row.table.rows[self.columns.found.header]
        name = header[self.columns.found.at[Column.BREAK][0]].text
        if "min" in name.casefold():
            return minutes_of(text)
        time = time_of(text)
        if re.fullmatch(r"\d+", one_line(text)) and time.seconds > LONGEST_BREAK * HOUR:
            told = f"'{text}' would be a break of so many hours; write {text}m, or name the column"
            raise UnreadableError(f"{told} 'break (min)'")
        return time

    def _tasks(self, comments: list[str]) -> tuple[str, ...]:
        """The tasks of the row; one that the work list lacks stays as a comment."""
        column = Column.TASK
        if Column.TASK not in self.columns.found.at and not self.known.has_list:
            column = Column.AREA
        elif self.known.has_list and self.row.cell(Column.AREA):
            comments.append(f"area: {self.row.text(Column.AREA)}")
        tasks: list[str] = []
        for cell in self.row.cells(column):
            for task in tasks_of(cell.text, self.known.tasks):
                if not self.known.has_list or task.casefold() in self.known.tasks:
                    tasks.append(task)
                else:
                    comments.append(f"task: {task}")
                    self.found.unlisted.setdefault(task, []).append(self.row.table.place(cell))
        return tuple(tasks)

    def _work(self, comments: list[str], *, has_task: bool) -> str:
        kind = self.row.text(Column.KIND)
        if kind.casefold() in _WORKS and has_task:
            return kind.casefold()
        if kind:
            comments.append(f"kind: {kind}")
            cell = self.row.cell(Column.KIND)
            if cell and kind.casefold() not in _WORKS:
                self.found.kinds.setdefault(kind, []).append(self.row.table.place(cell))
        return ""

    def _per(self, comments: list[str], *, has_task: bool) -> str:
        per = self.row.text(Column.PER)
        if per and not has_task:
            comments.append(f"per: {per}")
        return per if has_task else ""


def _sum(hours: Time | None, minutes: Time | None) -> Time | None:
    """Hours in one column and minutes in another are one length."""
    if hours is None or minutes is None:
        return hours or minutes
    seconds = hours.seconds + minutes.seconds
    return Time(length_text(seconds), seconds)


def _clock(text: str) -> str:
    """A time of the clock without the date before it."""
    return _DATE_BEFORE.sub("", one_line(text), count=1)
