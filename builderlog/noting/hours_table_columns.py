"""Which column of a table of hours means what, by the names that spreadsheets give them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_columns import bare_name
from builderlog.knowing.form_row import SPLIT_NUMBER
from builderlog.knowing.units import DAY, UnreadableError
from builderlog.noting.hours_table_cells import time_of
from builderlog.noting.hours_table_days import is_weekday
from builderlog.noting.table_columns import TableColumns, find_header, names_of
from builderlog.reading.csv_rows import Cell, CsvTable
from builderlog.reading.problem import Problem, doubt, mistake


class Column(StrEnum):
    """What the cells of a column say of a session, by the name that a message gives the column."""

    DATE = "date"
    WEEKDAY = "weekday"
    HOURS = "hours"
    MINUTES = "minutes"
    BEGIN = "start"
    END = "end"
    BREAK = "break"
    WHO = "who"
    TASK = "task"
    AREA = "area"
    KIND = "kind"
    PER = "per"
    TITLE = "title"
    TEXT = "text"
    NEXT = "next"
    RUNNING = "running total"


_NAMES: tuple[tuple[Column, str], ...] = (
    (Column.DATE, "date day when on sessiondate workdate builddate logdate dateofwork"),
    (Column.WEEKDAY, "weekday dayofweek dow"),
    (Column.HOURS, "hours hour hrs hr h time duration length timespent hoursspent elapsed"),
    (Column.HOURS, "hoursworked workhours workinghours buildhours buildinghours buildtime"),
    (Column.HOURS, "manhours labourhours laborhours sessionhours timeworked elapsedtime"),
    (Column.MINUTES, "minutes mins min"),
    (Column.BEGIN, "start begin starttime begintime from timein started in clockin"),
    (Column.END, "end finish stop endtime stoptime finishtime until to timeout ended out clockout"),
    (Column.BREAK, "break pause breaks pauses breaktime"),
    (Column.WHO, "who person people worker workers name names by builder builders"),
    (Column.TASK, "task tasks taskid taskno tasknumber operation job"),
    (Column.AREA, "area areas section assembly subassembly component category system phase"),
    (Column.KIND, "kind kindofwork worktype typeofwork type"),
    (Column.PER, "per manual manualpage drawing drawings plan plans page reference"),
    (Column.TITLE, "title subject heading headline"),
    (Column.TEXT, "text description descriptions notes note comment comments remarks remark"),
    (Column.TEXT, "details detail work workdone activity activities what whatdone log logentry"),
    (Column.TEXT, "whatwedid whatidid workdescription descriptionofwork taskdescription story"),
    (Column.TEXT, "entry summary done accomplished workaccomplished workperformed"),
    (Column.NEXT, "next nextstep nextsteps nexttime todo nextsession"),
    (Column.RUNNING, "total totals totalhours totaltime hourstotal cumulative cumulativehours"),
    (Column.RUNNING, "runningtotal runninghours hourstodate todate sum accumulated"),
)
NAMES = names_of(_NAMES)
_MANY = frozenset({Column.TEXT, Column.NEXT, Column.RUNNING})  # several columns of these are joined
TIMES = (Column.HOURS, Column.MINUTES, Column.BEGIN)
_MINUTES = re.compile(r"[(\[]\s*(?:m|min|mins|minutes)\s*[)\]]", re.IGNORECASE)
_HOURS_OF = re.compile(
    r"(?:hours|hrs|time)\W+(?:of\s+)?(.+)|(.+?)(?:'s|\N{RIGHT SINGLE QUOTATION MARK}s)?\W+"
    r"(?:hours|hrs|time)\W*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class HoursColumns:
    """The columns of a table of hours; `people` are those that hold one person's time."""

    found: TableColumns[Column]
    people: dict[int, str] = field(default_factory=dict)  # place to name

    @property
    def has_time(self) -> bool:
        """True where some column says how long."""
        return bool(self.people) or any(each in self.found.at for each in TIMES)


def hours_columns(
    table: CsvTable, people: Mapping[str, str]
) -> tuple[HoursColumns | None, tuple[Problem, ...]]:
    """The columns, with all that is to be told of them; None where the table has no dates.

    `people` are the names that are declared, by themselves without capitals.
    """
    found = find_header(table, NAMES, Column.DATE)
    if found is None:
        return None, (_no_dates(table),)
    columns = _told_apart(table, HoursColumns(found), people)
    return columns, tuple(_tell(table, columns))


def _told_apart(table: CsvTable, columns: HoursColumns, people: Mapping[str, str]) -> HoursColumns:
    """Weekdays beside dates, minutes by their unit, and columns that are a person's."""
    found, header = columns.found, table.rows[columns.found.header]
    at = dict(found.at)
    days = [place for place in at[Column.DATE] if _holds_weekdays(table, found.header, place)]
    if len(at[Column.DATE]) > len(days):
        _move(at, Column.DATE, days, Column.WEEKDAY)
    minutes = [place for place in at.get(Column.HOURS, ()) if _MINUTES.search(header[place].text)]
    _move(at, Column.HOURS, minutes, Column.MINUTES)
    unsure = (*found.others, *at.get(Column.HOURS, ()))  # `hours (Tomas)` looks like hours
    named = {place: _person(one_line(header[place].text), people) for place in unsure}
    whose = {place: name for place, name in named.items() if name}
    _move(at, Column.HOURS, [*whose], None)
    others = {place: name for place, name in found.others.items() if place not in whose}
    return HoursColumns(replace(found, at=at, others=others), whose)


def _move(
    at: dict[Column, tuple[int, ...]], column: Column, places: Sequence[int], to: Column | None
) -> None:
    """Takes places away from a meaning, and gives them to another."""
    moved = tuple(place for place in at.get(column, ()) if place in places)
    rest = tuple(place for place in at.pop(column, ()) if place not in places)
    at.update({column: rest} if rest else {})
    if to and moved:
        at[to] = (*at.get(to, ()), *moved)


def _holds_weekdays(table: CsvTable, header: int, place: int) -> bool:
    cells = (row[place].text for row in table.rows[header + 1 :] if place < len(row))
    filled = [text for text in cells if text]
    return bool(filled) and all(is_weekday(text) for text in filled)


def _person(name: str, people: Mapping[str, str]) -> str | None:
    """Whose hours a column holds: `Tomas`, `Tomas hours`, `hours (Tomas)` of somebody declared."""
    bare = {bare_name(key): declared for key, declared in people.items()}
    if found := bare.get(bare_name(name)):
        return found
    of = _HOURS_OF.fullmatch(name)
    return bare.get(bare_name(of[1] or of[2])) if of else None


def _tell(table: CsvTable, columns: HoursColumns) -> Iterator[Problem]:
    found, header = columns.found, table.rows[columns.found.header]
    yield from _above(table, found.header)
    for meaning, places in found.at.items():
        if len(places) > 1 and meaning not in _MANY:
            told = f"'{header[places[1]].text}' means the same as the column "
            told += f"'{header[places[0]].text}'; keep one, or give one another name"
            yield mistake(table.place(header[places[1]]), "column-twice", told)
    for place, name in found.others.items():
        yield from _other(table, columns, place, name)
    for place in found.at.get(Column.RUNNING, ()):
        yield _running(table, header[place], columns)
    if (Column.BEGIN in found.at) != (Column.END in found.at):
        one = Column.BEGIN if Column.BEGIN in found.at else Column.END
        told = f"'{header[found.at[one][0]].text}' stands without its other end; give the table "
        told += "a column 'start' and a column 'end', or give this one another name"
        yield mistake(table.place(header[found.at[one][0]]), "half-a-span", told)
    if not columns.has_time and Column.RUNNING not in found.at:
        told = "no column says how long; name one 'hours', or two 'start' and 'end': without, the "
        told += "notes have no time"
        yield doubt(table.place(header[0]), "no-hours-column", told)


def _above(table: CsvTable, header: int) -> Iterator[Problem]:
    for row in table.rows[:header]:
        words = " ".join(one_line(cell.text) for cell in row if cell.text)
        first = next(cell for cell in row if cell.text)
        told = f"'{words}' stands above the names of the columns and is left out"
        yield doubt(table.place(first), "above-the-table", told)


def _other(table: CsvTable, columns: HoursColumns, place: int, name: str) -> Iterator[Problem]:
    """A column that is not understood: its words are kept, but hours must not go uncounted."""
    rows = table.rows[columns.found.header + 1 :]
    filled = [row[place] for row in rows if place < len(row) and row[place].text]
    cell = table.rows[columns.found.header][place]
    if name and _HOURS_OF.fullmatch(name):
        told = f"whose hours does '{name}' hold? where they are one person's, say it with "
        told += "--person NAME=helper (or builder, paid); else give the column another name, and "
        told += "its words are kept as comments"
        yield mistake(table.place(cell), "whose-hours", told)
    elif name and filled:
        told = f"the column '{name}' is not understood; its words are kept as comments in the notes"
        if all(_is_time(each.text) for each in filled):
            told += f"; where it holds one person's hours, say --person '{name}=helper' (or paid)"
        yield doubt(table.place(cell), "column-not-understood", told)
    elif filled and _is_split(table, columns, place, filled):
        told = (
            f"'{filled[0].text}' stands behind a time, in a column without a name: {SPLIT_NUMBER}"
        )
        yield mistake(table.place(filled[0]), "decimal-comma", told)
    elif filled:
        told = f"'{one_line(filled[0].text)}' stands in a column without a name; its words are "
        told += "kept as comments in the notes"
        yield doubt(table.place(filled[0]), "column-without-name", told)


def _is_split(table: CsvTable, columns: HoursColumns, place: int, filled: Sequence[Cell]) -> bool:
    """`2,5` that the comma took apart, where the row of names has an empty cell at its end."""
    times = {*columns.people, *columns.found.at.get(Column.HOURS, ())}
    figures = all(cell.text.isdecimal() for cell in filled)
    return table.delimiter == "," and place - 1 in times and figures


def _is_time(text: str) -> bool:
    try:
        return time_of(text).seconds <= DAY
    except UnreadableError:
        return False


def _running(table: CsvTable, cell: Cell, columns: HoursColumns) -> Problem:
    """A running sum is never counted; where nothing else says how long that stops everything."""
    if columns.has_time:
        told = f"'{cell.text}' is taken for a running sum and left out"
        return doubt(table.place(cell), "running-sum", told)
    told = f"'{cell.text}' could be a running sum, which is never counted; if each cell is the time"
    return mistake(table.place(cell), "running-sum", f"{told} of its row, name the column 'hours'")


def _no_dates(table: CsvTable) -> Problem:
    names = ", ".join(f"'{one_line(cell.text)}'" for cell in table.rows[0] if cell.text)
    told = f"no row names a column 'date' and one more; the first row has {names}; name the columns"
    first = next(cell for cell in table.rows[0] if cell.text)
    return mistake(table.place(first), "no-date-column", told)
