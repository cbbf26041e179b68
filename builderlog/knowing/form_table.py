"""A typed form or an evaluation, given as a table, to what it says of each task; no more.

Headings (a name and nothing to count) name the area of the rows below them, and an empty area
cell means the area of the row above, as merged cells of a spreadsheet come out. Rows of sums are
told and left out. Ids are the form's own and are not looked up here.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_columns import CREDITS, Columns, Meaning, columns_of
from builderlog.knowing.form_row import SPLIT_NUMBER, AreaNamed, FormRow, RowReader, is_split
from builderlog.knowing.forms import Desk
from builderlog.reading.csv_rows import CsvTable, Row
from builderlog.reading.problem import Problem, doubt

_SUMS = re.compile(
    r"(?:(?:column|section|grand|sub)[ -]*)*(?:totals?|sums?|percent(?:age)?s?)\b", re.IGNORECASE
)
_OF_SUMS = re.compile(
    r"(?:[\W\d_]|\b(?:of|for|per|all|the|listed|tasks?|items?|points?|credits?|columns?|sections?)\b)*",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"(\d+)(?:[.,](\d+))?")
_AREAS = frozenset({Meaning.AREA, Meaning.AREA_ID, Meaning.AREA_NAME})
LONGEST_AREA_ID = 4  # signs; a longer word or more than one is a name, where no column says it


@dataclass(frozen=True, slots=True)
class Form:
    """All rows that name a task, in their order; and the headings that were taken for areas."""

    rows: tuple[FormRow, ...] = ()
    headings: tuple[str, ...] = ()


def form_of(
    table: CsvTable, unguard: Callable[[str], str] = str
) -> tuple[Form, tuple[Problem, ...]]:
    """The form in a table that has a row at least, with every mistake and doubt.

    `unguard` takes off what our own tables put before a text that looks like a formula; it is
    asked for those tables only.
    """
    columns, problems = columns_of(table)
    if Meaning.ID not in columns.at:
        return Form(), problems
    reader = _Reader(table, columns, unguard if columns.ours else str, Desk([*problems]))
    for row in table.rows[1:]:
        reader.take(row)
    if len(table.rows) == 1:
        told = "no task stands below the names of the columns; write a row for each"
        reader.desk.tell(table.place(table.rows[0][0]), "no-tasks", told)
    return Form(tuple(reader.rows), tuple(reader.headings)), tuple(reader.desk.problems)


@dataclass(slots=True)
class _Reader:
    """Takes row by row and remembers the area of the rows that follow."""

    table: CsvTable
    columns: Columns
    unguard: Callable[[str], str]
    desk: Desk
    rows: list[FormRow] = field(default_factory=list)
    headings: list[str] = field(default_factory=list)
    area: AreaNamed | None = None
    lines: dict[str, int] = field(default_factory=dict)  # id to the line it first stands in

    def take(self, row: Row) -> None:
        """Reads one row for what it is: a task, a heading, sums, or a mistake."""
        texts = {
            meaning: one_line(self.unguard(cell.text))
            for meaning, cell in self.columns.cells(row).items()
        }
        cells = RowReader(self.table, self.columns, row, self.desk, texts)
        if not texts or self._too_long(row) or self._holds_sums(cells):
            return
        heading = self._heading(cells)
        if heading:
            self.area = heading
            self.headings.append(heading.name or heading.id or "")
        elif Meaning.ID not in texts:
            first = next(cell for cell in row if cell.text)
            told = "this row has no task id; write one, or delete the row if it holds sums"
            self.desk.tell(self.table.place(first), "task-id-missing", told)
        else:
            self._take_task(cells)

    def _take_task(self, cells: RowReader) -> None:
        id_, place, own = cells.texts[Meaning.ID], cells.place(Meaning.ID), self._area(cells)
        if id_ in self.lines:
            told = f"'{id_}' stands a second time (first in line {self.lines[id_]}); keep one"
            self.desk.tell(place, "task-id-twice", told)
        self.lines.setdefault(id_, place.line)
        self.rows.append(cells.task(id_, own or self.area))
        if own:
            self.area = replace(own, own=False)

    def _too_long(self, row: Row) -> bool:
        """More cells than columns; an empty one too, where a decimal comma may have made it."""
        extra = row[self.columns.width :]
        if not extra:
            return False
        split = self.table.delimiter == "," and any(is_split(*pair) for pair in pairwise(row))
        if not split and not any(cell.text for cell in extra):
            return False
        told = f"this row has {len(row)} cells, but only {self.columns.width} columns have a name"
        told = f"{told}; {SPLIT_NUMBER}" if split else told
        first = next((cell for cell in extra if cell.text), extra[0])
        self.desk.tell(self.table.place(first), "too-many-cells", told)
        return True

    def _holds_sums(self, cells: RowReader) -> bool:
        """A row of sums has no id, or the word for sums stands there; never counted."""
        row = cells.row
        if Meaning.ID in cells.texts:
            id_cell = row[self.columns.at[Meaning.ID]]
            found = id_cell if not self.columns.ours and _names_sums(id_cell.text) else None
        else:
            beyond = any(_is_more_than_a_point(cells.texts.get(each, "")) for each in CREDITS)
            found = next((cell for cell in row if _names_sums(cell.text, beyond=beyond)), None)
        if found is None:
            return False
        told = f"the row '{one_line(found.text)}' holds sums, not a task; it is left out"
        self.desk.problems.append(doubt(self.table.place(found), "sums-left-out", told))
        return True

    def _heading(self, cells: RowReader) -> AreaNamed | None:
        """The area that a heading names: an area or a name alone, with no id and no numbers.

        A form's heading may stand in the column of ids: words there, alone in a row of a table
        that has other columns, since ids are short or hold a number. Our own tables have none.
        """
        said = cells.texts.keys()
        if said <= _AREAS:
            return self._area(cells, of_rows_below=True)
        id_ = cells.texts.get(Meaning.ID, "")
        if said == {Meaning.ID} and len(self.columns.at) > 1 and not self.columns.ours:
            is_heading = " " in id_ or not (len(id_) <= LONGEST_AREA_ID or re.search(r"\d", id_))
            return AreaNamed(None, id_, cells.place(Meaning.ID), own=False) if is_heading else None
        if said != {Meaning.NAME}:
            return None
        return AreaNamed(None, cells.texts[Meaning.NAME], cells.place(Meaning.NAME), own=False)

    def _area(self, cells: RowReader, *, of_rows_below: bool = False) -> AreaNamed | None:
        """The area in the row's own cells, if it has one."""
        if not cells.texts.keys() & _AREAS:
            return None
        id_, text = cells.texts.get(Meaning.AREA_ID), cells.texts.get(Meaning.AREA)
        name = cells.texts.get(Meaning.AREA_NAME)
        if text and self._is_area_id(text):
            id_ = text
        elif text:
            name = text
        place = cells.place(Meaning.AREA, Meaning.AREA_ID, Meaning.AREA_NAME)
        return AreaNamed(id_, name, place, own=not of_rows_below)

    def _is_area_id(self, text: str) -> bool:
        """Sure where another column holds the names; else by its look."""
        sure = self.columns.ours or Meaning.AREA_NAME in self.columns.at
        return sure or (" " not in text and len(text) <= LONGEST_AREA_ID)


def begins_as_sums(text: str) -> bool:
    """`Total March`, `Sum 2025`: the word for sums at the head of a text."""
    return _SUMS.match(text) is not None


def _names_sums(text: str, *, beyond: bool = False) -> bool:
    """`Total`, `Column totals:`; with numbers beyond a point, which no task has, `Total Wings`.

    Not `Total energy probe`, which somebody may have to fit.
    """
    found = _SUMS.match(text)
    return found is not None and (beyond or _OF_SUMS.fullmatch(text, found.end()) is not None)


def _is_more_than_a_point(text: str) -> bool:
    found = _NUMBER.fullmatch(text)
    return found is not None and (int(found[1]), int(found[2] or 0)) > (1, 0)
