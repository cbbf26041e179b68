"""One row of a typed form: what it says of its task, cell by cell, with every mistake in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from builderlog.knowing.entries import Work
from builderlog.knowing.form_cells import (
    credit_of,
    done_of,
    is_not_applicable,
    is_yes,
    marks_of,
    seconds_of,
    tenths_text,
    truth_of,
    whole_seconds_of,
    work_of,
)
from builderlog.knowing.form_columns import CREDITS, MARKS, Columns, Meaning
from builderlog.knowing.forms import Desk
from builderlog.knowing.settings import WHOLE_POINT
from builderlog.knowing.units import UnreadableError
from builderlog.reading.csv_rows import Cell, CsvTable, Row
from builderlog.reading.problem import Place

T = TypeVar("T")
SPLIT_NUMBER = (
    "where commas separate the cells, a decimal comma splits its number; write 0.3, "
    "or separate the cells with semicolons"
)
_CHOICES = (Meaning.KIND, Meaning.STATE, Meaning.APPLIES, Meaning.NOT_APPLICABLE)
_DIGITS = frozenset("123456789")
_NUMBERS = (*CREDITS, *MARKS)
_BOXES = (*_NUMBERS, Meaning.APPLIES, Meaning.NOT_APPLICABLE)


@dataclass(frozen=True, slots=True)
class AreaNamed:
    """An area as a row names it; `own`: in a cell of its own, not in a row above."""

    id: str | None
    name: str | None
    place: Place
    own: bool = True


@dataclass(frozen=True, slots=True)
class FormRow:
    """What a row says of its task; None or absent: nothing is said of it."""

    id: str
    place: Place
    name: str | None = None
    area: AreaNamed | None = None
    work: Work | None = None
    applies: bool | None = None
    done: bool | None = None
    estimate: int | None = None  # seconds
    credit: dict[str, int] = field(default_factory=dict)  # column to tenths
    marks: tuple[int | None, int | None] = (None, None)  # maker, builder
    credit_at: Place = Place("")  # its first credit cell, if it has one
    marks_at: Place = Place("")  # its first cell of marks, likewise


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads the cells of one row; mistakes go to the desk."""

    table: CsvTable
    columns: Columns
    row: Row
    desk: Desk
    texts: dict[Meaning, str]  # of the cells that are not empty, each in one line

    def place(self, *meanings: Meaning) -> Place:
        """Where the first of these cells stands that says something, or the row's first cell."""
        at = next((self.columns.at[each] for each in meanings if each in self.texts), 0)
        return self.table.place(self.row[at])

    def task(self, id_: str, area: AreaNamed | None) -> FormRow:
        """All that the row says of the task `id_`."""
        applies, counts = self._applies(), self._counts()
        if applies is False:
            counts = self._without_use(counts)
        credit = {each.value: value for each, value in counts.items() if each in CREDITS}
        if sum(credit.values()) > WHOLE_POINT:
            told = f"the credit adds to {tenths_text(sum(credit.values()))}; a task has one point"
            self.desk.tell(self.place(*CREDITS), "credit-above-1", told)
        return FormRow(
            id_,
            self.place(Meaning.ID),
            self.texts.get(Meaning.NAME),
            area,
            work=self._read(Meaning.KIND, work_of),
            applies=applies,
            done=self._read(Meaning.STATE, done_of),
            estimate=self._estimate(),
            credit=credit,
            marks=self._marks(counts),
            credit_at=self.place(*CREDITS),
            marks_at=self.place(*MARKS),
        )

    def _read(self, meaning: Meaning, parse: Callable[[str], T]) -> T | None:
        text = self.texts.get(meaning)
        if text is None:
            return None
        try:
            return parse(text)
        except UnreadableError as fault:
            code = "unknown-word" if meaning in _CHOICES else "unreadable"
            self.desk.tell(self.place(meaning), code, f"{fault}{self._split(meaning)}")
            return None

    def _split(self, meaning: Meaning) -> str:
        """What to say of `0,3` whose comma ended the cell."""
        at = self.columns.at[meaning]
        if meaning not in CREDITS or self.table.delimiter != "," or not at:
            return ""
        return f"; {SPLIT_NUMBER}" if is_split(self.row[at - 1], self.row[at]) else ""

    def _applies(self) -> bool | None:
        """N/A in any box of the form, or what a column of its own says."""
        if any(self._crossed_out(each) for each in _BOXES):
            return False
        not_applicable = self._read(Meaning.NOT_APPLICABLE, truth_of)
        if not_applicable is not None:
            return not not_applicable
        return self._read(Meaning.APPLIES, truth_of)

    def _crossed_out(self, meaning: Meaning) -> bool:
        text = self.texts.get(meaning)
        if text is None:
            return False
        return is_not_applicable(text) or (meaning is Meaning.NOT_APPLICABLE and is_yes(text))

    def _counts(self) -> dict[Meaning, int]:
        """Tenths and marks, of the cells that hold a number."""
        counts: dict[Meaning, int] = {}
        for meaning in _NUMBERS:
            if not self._crossed_out(meaning):
                value = self._read(meaning, credit_of if meaning in CREDITS else marks_of)
                counts.update({} if value is None else {meaning: value})
        return counts

    def _without_use(self, counts: dict[Meaning, int]) -> dict[Meaning, int]:
        """A task that does not apply has no numbers; beside a `no` a 0 says the same."""
        crossed_out = any(self._crossed_out(each) for each in _BOXES)
        for meaning, value in counts.items():
            if value or crossed_out:
                told = (
                    f"'{self.texts[meaning]}' stands in the row of a task that does not apply; "
                    "delete the number, or what says that it does not apply"
                )
                self.desk.tell(self.place(meaning), "number-beside-na", told)
        return {meaning: value for meaning, value in counts.items() if not value}

    def _marks(self, counts: dict[Meaning, int]) -> tuple[int | None, int | None]:
        """A box without a tick beside one with a tick has no mark."""
        maker, builder = (counts.get(each) for each in MARKS)
        if (maker, builder) != (None, None) and set(MARKS) <= self.columns.at.keys():
            return maker or 0, builder or 0
        return maker, builder

    def _estimate(self) -> int | None:
        if Meaning.SECONDS in self.columns.at:
            return self._read(Meaning.SECONDS, whole_seconds_of)
        return self._read(Meaning.ESTIMATE, seconds_of)


def is_split(first: Cell, second: Cell) -> bool:
    """`0` and `3` side by side: perhaps `0,3` in a table whose cells end at commas."""
    return first.text == "0" and second.text in _DIGITS
