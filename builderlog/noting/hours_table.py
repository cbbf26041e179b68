"""A spreadsheet of dates, hours, tasks and words, given as a table, to sessions.

What cannot be read is a mistake, and all mistakes are told at once; who asked then writes nothing.
What can be read in more than one way is told and decided by the whole column, or not at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from builderlog.deciding.words import counted
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_table import begins_as_sums
from builderlog.knowing.hours import length_text
from builderlog.knowing.units import DAY, UnreadableError
from builderlog.noting.hours_table_cells import looks_like_minutes, time_of
from builderlog.noting.hours_table_columns import Column, HoursColumns, hours_columns
from builderlog.noting.hours_table_days import DayCell, Order, day_cell, weekday_of
from builderlog.noting.hours_table_order import Dated, Decided, day_of, decide, tell_order
from builderlog.noting.hours_table_row import Found, Known, RowReader, Session
from builderlog.noting.table_columns import TableRow
from builderlog.reading.csv_rows import CsvTable
from builderlog.reading.problem import Place, Problem, Weight, doubt, mistake

MOST_LINES = 8  # so many lines are named in one message


@dataclass(frozen=True, slots=True)
class Asked:
    """What the builder says beside the table; `people` are the others, each with a role."""

    builder: str
    today: date
    people: Mapping[str, str] = field(default_factory=dict)
    tasks: Mapping[str, str] | None = None  # ids by themselves without capitals; None: no work list
    order: Order | None = None

    def known(self) -> Known:
        """All of it, to look up."""
        names = {name.casefold(): name for name in (*self.people, self.builder)}
        return Known(self.builder, names, self.tasks or {}, self.tasks is not None)


@dataclass(frozen=True, slots=True)
class HoursTable:
    """What a table says, and all that is to be told of it."""

    sessions: tuple[Session, ...] = ()
    problems: tuple[Problem, ...] = ()
    order: Order | None = None  # None where no date was written in figures that leave a choice

    @property
    def has_mistakes(self) -> bool:
        """True where something could not be read, so that nothing may be written."""
        return any(each.weight is Weight.MISTAKE for each in self.problems)


def hours_table(table: CsvTable, asked: Asked) -> HoursTable:
    """All sessions of a table that has a row at least, in the order of its rows."""
    known = asked.known()
    columns, told = hours_columns(table, known.people)
    if columns is None:
        return HoursTable(problems=told)
    reader = _Reader(table, columns, asked, Found([*told]))
    return reader.read()


@dataclass(slots=True)
class _Reader:
    """Goes through the rows: first for their days, then for all else."""

    table: CsvTable
    columns: HoursColumns
    asked: Asked
    found: Found
    counted: int = 0  # seconds since the row of sums before, of all people
    whole: int = 0

    def read(self) -> HoursTable:
        """The table; the mistakes of all rows are told in one run."""
        rows = [row for row in self._rows() if self._belongs(row)]
        cells = [self._day_cell(row) for row in rows]
        dated = [
            Dated(row.place(Column.DATE), cell)
            for row, cell in zip(rows, cells, strict=True)
            if cell
        ]
        decided = decide(dated, self.asked.order, self.asked.today)
        header = self.table.rows[self.columns.found.header]
        place = self.table.place(header[self.columns.found.at[Column.DATE][0]])
        self.found.problems.extend(tell_order(dated, decided, place, self.asked.today))
        sessions = tuple(self._sessions(rows, cells, decided))
        self.found.problems.extend(_tell_of_all(self.found))
        self.found.problems.extend(_tell_twice(sessions))
        self.found.problems.extend(_tell_long_days(sessions))
        self.found.problems.extend(self._tell_decimals(rows))
        if not sessions and not any(p.weight is Weight.MISTAKE for p in self.found.problems):
            told = "no session stands below the names of the columns; write a row for each"
            self.found.problems.append(mistake(place, "no-sessions", told))
        return HoursTable(sessions, tuple(self.found.problems), decided.order)

    def _rows(self) -> Iterator[TableRow[Column]]:
        """The rows below the names; the names again, as on every page of a print, are left out."""
        header = self.columns.found.header
        names = [cell.text for cell in self.table.rows[header]]
        for row in self.table.rows[header + 1 :]:
            if [cell.text for cell in row] != names:
                yield TableRow(self.table, self.columns.found, row)

    def _belongs(self, row: TableRow[Column]) -> bool:
        """False for what is no session: a day alone, a heading; and for a row that is too long."""
        extra = row.beyond()
        if extra:
            told = f"this row has {len(row.row)} cells, but only {row.columns.width} columns have "
            told += "a name; name them, put a text with commas into quotes, and write 2.5, not 2,5"
            first = next(cell for cell in extra if cell.text)
            self.found.problems.append(mistake(self.table.place(first), "too-many-cells", told))
            return False
        filled = [cell for cell in row.row if cell.text]
        said = [cell for cell in filled if cell not in row.cells(Column.WEEKDAY)]
        if said == [row.cell(Column.DATE)] and not begins_as_sums(said[0].text):
            self._tell_heading(row)
            return False
        return True

    def _tell_heading(self, row: TableRow[Column]) -> None:
        """A day with nothing beside it says nothing; words alone in a row are a heading."""
        cell = row.cell(Column.DATE)
        assert cell is not None  # noqa: S101
        try:
            day_cell(cell.text, self.asked.today.year)
        except UnreadableError:
            told = f"'{one_line(cell.text)}' stands alone in its row; it is taken for a heading and"
            place = self.table.place(cell)
            self.found.problems.append(doubt(place, "heading-left-out", f"{told} left out"))

    def _day_cell(self, row: TableRow[Column]) -> DayCell | None:
        """What the date of a row can mean; None where it has none, or none that can be read."""
        cell = row.cell(Column.DATE)
        if cell is None or begins_as_sums(cell.text):
            return None
        try:
            found = day_cell(cell.text, self.asked.today.year)
        except UnreadableError as fault:
            told = mistake(self.table.place(cell), "unreadable", str(fault))
            self.found.problems.append(told)
            return None
        weekday = row.cell(Column.WEEKDAY)
        return found.on(weekday_of(weekday.text)) if weekday else found

    def _sessions(
        self,
        rows: Sequence[TableRow[Column]],
        cells: Sequence[DayCell | None],
        decided: Decided,
    ) -> Iterator[Session]:
        before, known = None, self.asked.known()
        for row, cell in zip(rows, cells, strict=True):
            day = day_of(cell, decided.order) if cell else None
            if cell is None and not row.cell(Column.DATE):
                if self._holds_sums(row):
                    continue
                day = self._day_before(row, before)
            elif cell is None and self._holds_sums(row):
                continue
            reader = RowReader(row, self.columns, known, self.found)
            # A row without a day is read for its mistakes; one of them stops the writing.
            session = reader.session(day or self.asked.today, cell.beside if cell else "")
            self._count(session)
            before = day or before
            if day:
                yield session

    def _count(self, session: Session) -> None:
        seconds = sum(time.seconds for _, time in session.times)
        self.counted += seconds
        self.whole += seconds

    def _day_before(self, row: TableRow[Column], before: date | None) -> date | None:
        """An empty cell means the day of the row above, as merged cells come out; told."""
        if before is None:
            told = mistake(row.place(), "no-date", "no date stands in this row; write one")
            self.found.problems.append(told)
            return None
        told = doubt(
            row.place(),
            "no-date",
            f"no date stands in this row; {before} counts, as in the row above",
        )
        self.found.problems.append(told)
        return before

    def _holds_sums(self, row: TableRow[Column]) -> bool:
        """`Total`, or a bare number that is the sum of what is above; told, never counted."""
        word = next((cell for cell in row.row if begins_as_sums(cell.text)), None)
        said = self._sum_in(row)
        filled = [cell for cell in row.row if cell.text]
        bare = said is not None and len(filled) == 1 and said in {self.counted, self.whole}
        if word is None and not bare:
            return False
        told = f"the row '{one_line((word or filled[0]).text)}' holds sums and is left out"
        if said is not None and said not in {self.counted, self.whole}:
            told += f"; it says {length_text(said)}, and the rows above come to "
            told += length_text(self.whole)
        place = self.table.place(word or filled[0])
        self.found.problems.append(doubt(place, "sums-left-out", told))
        self.counted = 0
        return True

    def _sum_in(self, row: TableRow[Column]) -> int | None:
        cell = row.cell(Column.HOURS)
        try:
            return time_of(cell.text).seconds if cell else None
        except UnreadableError:
            return None

    def _tell_decimals(self, rows: Iterable[TableRow[Column]]) -> Iterator[Problem]:
        """`2.30` is 2 h 18 min; where a column has but .15, .30 and .45 that may not be meant."""
        cells = [cell for row in rows if (cell := row.cell(Column.HOURS))]
        if looks_like_minutes([cell.text for cell in cells]):
            first = next(cell for cell in cells if cell.text[-2:] in {"15", "30", "45"})
            meant = f"{first.text[:-3]}:{first.text[-2:]}"
            told = f"'{first.text}' is read as decimal hours, {length_text(_seconds(first.text))}; "
            told += f"if {meant} is meant, write the times of this column with a colon"
            yield doubt(self.table.place(first), "decimal-hours", told)


def _seconds(text: str) -> int:
    return time_of(text).seconds


def _lines(places: Sequence[Place]) -> str:
    """`line 4`, or `lines 4, 9 and 31 others`."""
    numbers = [str(place.line) for place in places[:MOST_LINES]]
    more = len(places) - len(numbers)
    named = f"line{'s' if len(places) > 1 else ''} {', '.join(numbers)}"
    return f"{named} and {counted(more, 'other')}" if more else named


def _tell_of_all(found: Found) -> Iterator[Problem]:
    """Names, tasks and kinds, each told once with the lines in which it stands."""
    for name, places in found.strangers.items():
        told = f"who is '{name}' ({_lines(places)})? say --person '{name}=helper' where it was "
        told += f"unpaid help, '{name}=paid' where it was paid, '{name}=builder' for one who makes "
        told += f"the claim too, or --builder '{name}' if that is you"
        yield mistake(places[0], "unknown-person", told)
    for task, places in found.unlisted.items():
        told = f"'{task}' is no task of the work list ({_lines(places)}); its time belongs to no "
        yield doubt(places[0], "unknown-task", f"{told}task, and the word is kept as a comment")
    for kind, places in found.kinds.items():
        told = f"'{kind}' is neither fabrication, assembly nor other ({_lines(places)}); it is kept"
        yield doubt(places[0], "unknown-word", f"{told} as a comment")
    if found.shared:
        told = "a time beside several names is read as the time of each of them "
        told += f"({_lines(found.shared)}); where it is their sum, write what each has"
        yield doubt(found.shared[0], "time-of-several", told)


def _tell_twice(sessions: Iterable[Session]) -> Iterator[Problem]:
    first: dict[object, Session] = {}
    for session in sessions:
        said = (session.day, session.times, session.tasks, session.title, session.text)
        before = first.setdefault(said, session)
        if before is not session and (session.times or session.text):
            told = f"this row says the same as line {before.place.line}; both count; delete one if "
            yield doubt(session.place, "row-twice", f"{told}it was entered twice")


def _tell_long_days(sessions: Iterable[Session]) -> Iterator[Problem]:
    """More than 24 hours of one person over the rows of a day; one row that long is told itself."""
    sums: dict[tuple[str, date], int] = {}
    for session in sessions:
        for person, time in session.times:
            before = sums.get((person, session.day), 0)
            sums[person, session.day] = before + time.seconds
            if before <= DAY < before + time.seconds and time.seconds <= DAY:
                told = f"with this row {person} has {length_text(before + time.seconds)} on "
                told += f"{session.day}; a day has 24 hours, mend the times"
                yield mistake(session.place, "day-too-long", told)
