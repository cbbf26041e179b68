"""A kit's packing list, given as a table, to the parts of a note: what came, and what did not.

What is short, damaged or back-ordered is an entry of its own beside what came. What cannot be
read is a mistake, and all mistakes are told at once; who asked then writes nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import TypeVar

from builderlog.deciding.words import amount, any_of
from builderlog.knowing.entries import Note, PartStatus
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_table import begins_as_sums
from builderlog.knowing.forms import nearest
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.money import parse_money
from builderlog.knowing.units import UnreadableError, parse_count
from builderlog.noting.hours_table_days import day_cell
from builderlog.noting.new_note import NewNote, NewPart
from builderlog.noting.packing_list_columns import Column, packing_columns
from builderlog.noting.table_columns import TableColumns, TableRow
from builderlog.reading.csv_rows import Cell, CsvTable
from builderlog.reading.problem import Problem, Weight, doubt, mistake

T = TypeVar("T")
_PIECES = re.compile(r"(\d[\d.,]*)\s*(?:pcs?|pieces?|ea|each|off|x|no|nos)?\.?", re.IGNORECASE)
_CURRENCY = re.compile(r"[(\[]\s*([A-Za-z]{3}|[€£$])\s*[)\]]")
_TICKS = frozenset({"x", "yes", "y", "ok", "\N{CHECK MARK}", "\N{HEAVY CHECK MARK}"})
_NONE = frozenset({"no", "n", "none"})
_WORDS: tuple[tuple[PartStatus, str], ...] = (
    (PartStatus.RECEIVED, "received|ok|yes|x|y|here|there|present|complete|shipped|packed|in box"),
    (PartStatus.RECEIVED, "delivered|included|in|\N{CHECK MARK}|\N{HEAVY CHECK MARK}|good"),
    (PartStatus.SHORT, "short|missing|not in box|not found|lacking|not received|no|absent"),
    (PartStatus.DAMAGED, "damaged|broken|bent|dented|scratched|cracked|defective"),
    (PartStatus.BACK_ORDERED, "back-ordered|backordered|back ordered|backorder|back order|b/o|bo"),
    (PartStatus.BACK_ORDERED, "back-order|to follow|on back order|on backorder"),
    (PartStatus.ORDERED, "ordered|on order"),
    (PartStatus.WANTED, "wanted"),
    (PartStatus.SENT_BACK, "sent back|returned"),
)
_STATUS = {word: status for status, words in _WORDS for word in words.split("|")}
_OWN_COLUMNS = (
    (Column.SHORT, PartStatus.SHORT),
    (Column.DAMAGED, PartStatus.DAMAGED),
    (Column.BACK, PartStatus.BACK_ORDERED),
)


@dataclass(frozen=True, slots=True)
class PackingList:
    """The parts of a list in its order, and all that is to be told of it."""

    parts: tuple[NewPart, ...] = ()
    comments: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def has_mistakes(self) -> bool:
        """True where something could not be read, so that nothing may be written."""
        return any(each.weight is Weight.MISTAKE for each in self.problems)


def packing_list(
    table: CsvTable, tasks: Mapping[str, str] | None, currency: str | None, today: date
) -> PackingList:
    """All parts of a table that has a row at least.

    `tasks` are the work list's ids by themselves without capitals, None where there is none.
    """
    columns, told = packing_columns(table)
    if columns is None:
        return PackingList(problems=told)
    reader = _Reader(table, columns, tasks, currency, today, [*told])
    for row in table.rows[columns.header + 1 :]:
        reader.take(TableRow(table, columns, row))
    if not reader.parts and not any(p.weight is Weight.MISTAKE for p in reader.problems):
        told_none = "no part stands below the names of the columns; write a row for each"
        place = table.place(table.rows[columns.header][0])
        reader.problems.append(mistake(place, "no-parts", told_none))
    return PackingList(tuple(reader.parts), tuple(reader.comments), tuple(reader.problems))


def packing_note(found: PackingList, name: str, day: date) -> NewNote:
    """The note of the day on which the list was gone through."""
    return NewNote(day, f"Packing list {name}", parts=found.parts, comments=found.comments)


def note_with(found: PackingList, ledger: Ledger) -> Note | None:
    """A note that holds every part of the list already: it was brought in before."""
    wanted = {(one_line(p.part), one_line(p.ref), p.count) for p in found.parts}
    for note in ledger.notes:
        held = {
            (line.part.text, line.ref.text if line.ref else "", _words(line.count))
            for line in note.parts
        }
        if wanted and wanted <= held:
            return note
    return None


def _words(count: Decimal | None) -> str:
    return "" if count is None else amount(count)


@dataclass(slots=True)
class _Reader:
    """Takes row by row."""

    table: CsvTable
    columns: TableColumns[Column]
    tasks: Mapping[str, str] | None
    currency: str | None
    today: date
    problems: list[Problem]
    parts: list[NewPart] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)
    lines: dict[tuple[str, str], int] = field(default_factory=dict)  # part and ref to a line

    def take(self, row: TableRow[Column]) -> None:
        """Reads one row for what it is: a part, a heading, sums, or a mistake."""
        if self._is_no_part(row):
            return
        cell = row.cell(Column.PART)
        part, ref = row.text(Column.PART) or row.text(Column.REF), row.text(Column.REF)
        if cell is None and not ref:
            told = "this row names no part; write its name, or delete the row"
            self.problems.append(mistake(row.place(), "no-part", told))
            return
        self._tell_twice(row, part, ref)
        whole = NewPart(
            part,
            cost=self._cost(row),
            source=row.text(Column.FROM),
            due=self._read(row.cell(Column.DUE), self._due) or "",
            ref=ref if cell else "",
            task=self._task(row, part),
        )
        self.parts.extend(self._entries(row, whole))
        self.comments.extend(f"{part}: {words}" for words in row.kept())

    def _is_no_part(self, row: TableRow[Column]) -> bool:
        filled = [cell for cell in row.row if cell.text]
        first = filled[0]
        extra = row.beyond()
        if extra:
            told = f"this row has {len(row.row)} cells, but only {row.columns.width} columns have "
            told += "a name; name them, or put a text with commas into quotes"
            place = self.table.place(next(cell for cell in extra if cell.text))
            self.problems.append(mistake(place, "too-many-cells", told))
        elif begins_as_sums(first.text) and row.cell(Column.PART) in (None, first):
            told = f"the row '{one_line(first.text)}' holds sums, not a part; it is left out"
            self.problems.append(doubt(self.table.place(first), "sums-left-out", told))
        elif len(filled) == 1 and len(self.columns.at) > 1:
            told = f"'{one_line(first.text)}' stands alone in its row; it is taken for a heading "
            told += "and left out"
            self.problems.append(doubt(self.table.place(first), "heading-left-out", told))
        else:
            return False
        return True

    def _tell_twice(self, row: TableRow[Column], part: str, ref: str) -> None:
        line = row.place(Column.PART).line
        before = self.lines.setdefault((part, ref), line)
        if ref and before != line:
            told = f"'{part}' with the number '{ref}' stands in line {before} too; a note takes "
            told += "both for one thing; add them up, or tell them apart by their ref"
            self.problems.append(doubt(row.place(Column.REF), "part-twice", told))

    def _read(self, cell: Cell | None, parse: Callable[[str], T]) -> T | None:
        if cell is None:
            return None
        try:
            return parse(one_line(cell.text))
        except UnreadableError as fault:
            told = mistake(self.table.place(cell), "unreadable", str(fault))
            self.problems.append(told)
            return None

    def _entries(self, row: TableRow[Column], whole: NewPart) -> Iterator[NewPart]:
        """What came first, with the cost; then what is short, damaged or back-ordered."""
        count = self._read(row.cell(Column.COUNT), _count)
        came = self._read(row.cell(Column.CAME), _came)
        status = self._read(row.cell(Column.STATUS), _status_of)
        lacking = dict(self._lacking(row, status, (count, came)))
        left = (
            None if count is None else count - sum((n or 0 for n in lacking.values()), Decimal(0))
        )
        if lacking and (None in lacking.values() or (left is not None and left <= 0)):
            self._tell_too_many(row, left)
            rest: list[NewPart] = []
        else:
            here = left if came is None else came
            stands = PartStatus.RECEIVED if lacking else status or PartStatus.RECEIVED
            rest = [replace(whole, count=_words(here), status=stands)]
        for lack, number in lacking.items():
            words = _words(number if number is not None else count)
            rest.append(replace(whole, count=words, status=lack, cost="" if rest else whole.cost))
        yield from rest

    def _lacking(
        self,
        row: TableRow[Column],
        status: PartStatus | None,
        numbers: tuple[Decimal | None, Decimal | None],
    ) -> Iterator[tuple[PartStatus, Decimal | None]]:
        """What did not come whole, and how many of it; None: all of the row."""
        count, came = numbers
        own = [
            (state, number)
            for column, state in _OWN_COLUMNS
            if (cell := row.cell(column)) and (number := self._read(cell, _lack)) is not None
        ]
        told = [(state, None if number < 0 else number) for state, number in own if number]
        if not told and count is not None and came is not None and came < count:
            missing = status if status and status is not PartStatus.RECEIVED else PartStatus.SHORT
            told = [(missing, count - came if came else None)]
        if came is not None and count is not None and came > count:
            more = f"{amount(came)} came of {amount(count)} that the list has; check which is true"
            self.problems.append(doubt(row.place(Column.CAME), "more-than-listed", more))
        yield from told

    def _tell_too_many(self, row: TableRow[Column], left: Decimal | None) -> None:
        if left is not None and left < 0:
            told = "more is short, damaged or back-ordered than the list has of it; mend the counts"
            self.problems.append(mistake(row.place(*(c for c, _ in _OWN_COLUMNS)), "count", told))

    def _cost(self, row: TableRow[Column]) -> str:
        """For the whole entry: as it says, or its price times its count; exact."""
        if cell := row.cell(Column.COST):
            return self._read(cell, lambda text: self._money(text, Column.COST)[0]) or ""
        cell, count = row.cell(Column.PRICE), row.cell(Column.COUNT)
        if cell is None:
            return ""
        price = self._read(cell, lambda text: self._money(text, Column.PRICE))
        if price is None or count is None:
            return price[0] if price else ""
        try:
            number = _count(one_line(count.text))
        except UnreadableError:  # told where the count is read
            return ""
        return f"{price[1] * number:f} {price[2]}"

    def _money(self, text: str, column: Column) -> tuple[str, Decimal, str]:
        """The words of an amount, with the currency of the column's name where it has none."""
        header = self.table.rows[self.columns.header][self.columns.at[column][0]].text
        named = _CURRENCY.search(header)
        bare = re.fullmatch(r"[\d.,' ]+", text)
        words = f"{text} {named[1]}" if named and bare else text
        money = parse_money(words, self.currency)
        return words, money.amount, money.currency

    def _due(self, text: str) -> str:
        days = dict.fromkeys(day_cell(text, self.today.year).days.values())
        if len(days) > 1:
            told = f"'{text}' can be {any_of([str(day) for day in days])}; write the one it is"
            raise UnreadableError(told)
        return str(next(iter(days)))

    def _task(self, row: TableRow[Column], part: str) -> str:
        """The task, as the work list has it; one that it lacks stays as a comment."""
        task = row.text(Column.FOR)
        if not task or self.tasks is None:
            return task
        known = self.tasks.get(task.casefold())
        if known is None:
            told = f"'{task}' is no task of the work list; the word is kept as a comment"
            self.problems.append(doubt(row.place(Column.FOR), "unknown-task", told))
            self.comments.append(f"{part}: for {task}")
        return known or ""


def _count(text: str) -> Decimal:
    found = _PIECES.fullmatch(text)
    return parse_count(found[1] if found else text)


def _came(text: str) -> Decimal | None:
    """How many came; a tick says that all did."""
    if text.casefold() in _TICKS:
        return None
    return Decimal(0) if text.casefold() in _NONE else _count(text)


def _lack(text: str) -> Decimal:
    """How many are lacking; below nothing for a tick, which means all of them."""
    if text.casefold() in _TICKS:
        return Decimal(-1)
    return Decimal(0) if text.casefold() in _NONE else _count(text)


def _status_of(text: str) -> PartStatus:
    found = _STATUS.get(text.casefold())
    if found is None:
        words = [status.value for status in dict.fromkeys(_STATUS.values())]
        hint = nearest(text, _STATUS) or f"; write {any_of(words)}, and a remark in another column"
        raise UnreadableError(f"'{text}' is none of the words for how a part stands{hint}")
    return found


def statuses(parts: Iterable[NewPart]) -> dict[str, int]:
    """How many entries stand at each status, in the order in which a part moves along."""
    entries = [part.status for part in parts]
    return {str(status): entries.count(status) for status in PartStatus if status in entries}
