"""A new journal from a spreadsheet of hours: the table is read whole, or nothing is laid out."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from builderlog.command.shape import words
from builderlog.command.terminal import count_problems, print_problems, say
from builderlog.deciding.words import counted, duration, listed
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.settings import Role
from builderlog.knowing.worklist_edit import read_worklist
from builderlog.knowing.worklists import worklist_text
from builderlog.noting.hours_table import Asked, HoursTable, hours_table
from builderlog.noting.hours_table_days import Order
from builderlog.noting.hours_table_notes import note_files, notes_of, worklist_from
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, Weight, sort_worst_first
from builderlog.storing.taking_in import take_table

ROLES = tuple(role.value for role in Role)


def table_options(parser: ArgumentParser) -> None:
    """The words of the command line for a table."""
    told = "begin with the notes of a spreadsheet, saved as CSV: dates, hours, tasks, texts"
    parser.add_argument("--from-table", metavar="FILE", type=Path, help=told)
    told = "who else worked, by the name in the table: helper, paid or builder; may be repeated"
    parser.add_argument(
        "--person", metavar="NAME=ROLE", type=person, action="append", default=[], help=told
    )
    told = f"how the table's dates are written, where they do not tell: {', '.join(Order)}"
    parser.add_argument("--dates", metavar="ORDER", choices=tuple(Order), help=told)


def person(text: str) -> tuple[str, str]:
    """`Tomas=helper`; argparse prints the sentence of what it raises."""
    name, _, role = text.rpartition("=")
    if not name.strip() or role.strip() not in ROLES:
        raise ArgumentTypeError(
            f"'{text}' is no name with a role; write NAME=ROLE with {', '.join(ROLES)}"
        )
    return words(name), role.strip()


@dataclass(frozen=True, slots=True)
class FromTable:
    """What comes of a table: the files to lay out, the first day, and all that is to be told."""

    file: Path
    read: HoursTable
    problems: tuple[Problem, ...]
    folder: Folder  # with nothing but the table in it, so that its lines can be shown
    files: dict[str, str]

    @property
    def is_stopped(self) -> bool:
        """True where a mistake stands in the table, so that nothing is laid out."""
        return any(each.weight is Weight.MISTAKE for each in self.problems)

    @property
    def first_day(self) -> date:
        """The day on which the project began, as far as the table knows."""
        return min(session.day for session in self.read.sessions)


def read_table(arguments: Namespace, today: date) -> FromTable | None:
    """The table that the command line names; None where it names none.

    Raises Refused where it cannot be read.
    """
    file: Path | None = arguments.from_table
    if file is None:
        return None
    table, told = read_csv(str(file), take_table(file))
    asked = Asked(
        arguments.builder,
        today,
        dict(arguments.person),
        _tasks(arguments.worklist),
        Order(arguments.dates) if arguments.dates else None,
    )
    read = hours_table(table, asked) if table.rows else HoursTable()
    folder = Folder(file.parent, ()).overlaid((), {str(file): table.source.text.encode()})
    problems = sort_worst_first((*told, *read.problems))
    if any(each.weight is Weight.MISTAKE for each in problems):
        return FromTable(file, read, problems, folder, {})
    files = note_files(notes_of(read.sessions, arguments.builder, today))
    made = worklist_from(read.sessions, one_line(file.name)) if asked.tasks is None else None
    files |= {"worklist.yaml": made.decode()} if made else {}
    return FromTable(file, read, problems, folder, files)


def _tasks(worklist: str | None) -> dict[str, str] | None:
    """The tasks of one of our lists by id and name, without capitals; None where none is named."""
    if worklist is None:
        return None
    tasks = read_worklist("worklist.yaml", worklist_text(worklist).encode()).worklist.by_id
    names = {one_line(task.name).casefold(): id_ for id_, task in reversed(tasks.items())}
    return names | {id_.casefold(): id_ for id_ in tasks}


def stop(table: FromTable) -> None:
    """Says all that must be mended, and that nothing was laid out."""
    print_problems(table.problems, table.folder, sys.stderr)
    say(f"builderlog: {count_problems(table.problems)}; no journal was laid out", sys.stderr)


def report(table: FromTable) -> None:
    """Says what was doubtful, and what became of the table."""
    print_problems(table.problems, table.folder, sys.stderr)
    for line in _report(table):
        say(line, sys.stdout)


def _report(table: FromTable) -> Iterator[str]:
    sessions = table.read.sessions
    notes = sum(path.startswith("notes/") for path in table.files)
    days = sorted({session.day for session in sessions})
    yield (
        f"{counted(len(sessions), 'row')} of {table.file} became {counted(notes, 'note')} of "
        f"{counted(len(days), 'day')}, {days[0]} to {days[-1]}"
    )
    by_person: dict[str, int] = {}
    for session in sessions:
        for name, time in session.times:
            by_person[name] = by_person.get(name, 0) + time.seconds
    if by_person:
        each = listed([f"{name} {duration(seconds)}" for name, seconds in by_person.items()])
        yield f"time in all: {each}; see that the spreadsheet says so too"
    if table.read.order:
        yield f"dates written in figures were read as {table.read.order}"
    timeless = sum(not session.times for session in sessions)
    if timeless:
        yield f"{counted(timeless, 'row')} of them without time"
    tasks = {task for session in sessions for task in session.tasks}
    if "worklist.yaml" in table.files:
        yield f"worklist.yaml holds the {counted(len(tasks), 'task')} of the table, without credit"
