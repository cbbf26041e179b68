"""Which order the dates of a whole column are written in, and which of them are doubtful.

A cell that can only be read one way decides for all. Where none does, weekdays, the present day
and the order of the rows are asked, and that is told; where these do not tell either, nothing is
guessed.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from builderlog.deciding.words import WEEKDAYS, any_of, counted, day_plain, listed
from builderlog.noting.hours_table_days import DayCell, Order
from builderlog.reading.problem import Place, Problem, doubt, mistake

LONGEST_PROJECT = 40  # years
NEAR_DAYS = 92  # so far the last row may stand from the one before it
MOST_OUT_OF_ORDER = 10  # one in so many rows; with more a table is in no order that could be asked


@dataclass(frozen=True, slots=True)
class Dated:
    """A cell of the column and where it stands; the days go by the order of the rows."""

    place: Place
    cell: DayCell


@dataclass(frozen=True, slots=True)
class Decided:
    """The order of a column; None where nothing tells. `because` is empty where figures decide."""

    order: Order | None
    because: str = ""


def day_of(cell: DayCell, order: Order | None) -> date | None:
    """The day of a cell by the column's order; None where it has none in that order."""
    if cell.decided:
        return next(iter(cell.days.values()), None)
    return cell.days.get(order) if order else None


def decide(rows: Sequence[Dated], asked: Order | None, today: date) -> Decided:
    """The order in which the column is written; `asked` is the builder's own word for it."""
    cells = [row.cell for row in rows]
    unsure = [cell for cell in cells if not cell.decided]
    if asked or not unsure:
        return Decided(asked)
    fitting = [order for order in Order if all(order in cell.days for cell in unsure)]
    if not fitting:
        return Decided(max(Order, key=lambda order: sum(order in c.days for c in unsure)))
    if all(len({cell.days[order] for order in fitting}) == 1 for cell in unsure):
        return Decided(fitting[0])
    if len(fitting) == 1:
        return Decided(fitting[0])
    return _weigh(cells, fitting, today)


def _weigh(cells: Sequence[DayCell], fitting: Sequence[Order], today: date) -> Decided:
    """By what speaks against each order: weekdays, days to come, rows that go back in time."""
    against = {order: _against(cells, order, today) for order in fitting}
    least = min(against.values())
    best = [order for order in fitting if against[order] == least]
    if len(best) == 1:
        others = min(counts for order, counts in against.items() if order is not best[0])
        return Decided(best[0], _reason(least, others))
    if Order.DAY_FIRST in best and all("." in cell.text for cell in cells if not cell.decided):
        return Decided(Order.DAY_FIRST, "figures with dots are written so")
    return Decided(None)


def _against(cells: Sequence[DayCell], order: Order, today: date) -> tuple[int, int, int]:
    """Weekdays that do not fit, days that cannot be meant, and rows that go back in time."""
    days = [(cell, day) for cell in cells if (day := day_of(cell, order))]
    weekdays = sum(cell.weekday is not None and cell.weekday != day.weekday() for cell, day in days)
    said = [day for _, day in days]
    unlikely = sum(day > today for day in said)
    unlikely += max(said).year - min(said).year > LONGEST_PROJECT
    return weekdays, unlikely, _steps_back(said)


def _steps_back(days: Sequence[date]) -> int:
    """How often a row goes back in time, or forth where the newest stands first."""
    pairs = list(pairwise(days))
    back, forth = sum(a > b for a, b in pairs), sum(a < b for a, b in pairs)
    return min(back, forth)


def _reason(least: tuple[int, int, int], others: tuple[int, int, int]) -> str:
    if least[0] != others[0]:
        return "the days of the week fit so"
    if least[1] != others[1]:
        return "else some of them would be days to come, or decades apart"
    return "so they follow each other, and else they would not"


def tell_order(
    rows: Sequence[Dated], decided: Decided, header: Place, today: date
) -> Iterator[Problem]:
    """All that is to be told of a column of dates, the order itself first."""
    if any(not row.cell.decided for row in rows):
        yield from _tell_decided(rows, decided, header)
    dated = [(row, day) for row in rows if (day := day_of(row.cell, decided.order))]
    for row, day in dated:
        if day > today:
            told = f"'{row.cell.text}' is {day_plain(day)}, which is still to come; mend the cell"
            yield doubt(row.place, "day-to-come", f"{told} if that is not so")
        if row.cell.weekday is not None and row.cell.weekday != day.weekday():
            told = f"'{row.cell.text}' is read as {day}, which is a {WEEKDAYS[day.weekday()]}"
            yield doubt(row.place, "other-weekday", f"{told}; mend the cell if that is not so")
    yield from _out_of_order(dated)


def _tell_decided(rows: Sequence[Dated], decided: Decided, header: Place) -> Iterator[Problem]:
    unsure = [row for row in rows if not row.cell.decided]
    if decided.order is None:
        yield _undecided(unsure, header)
        return
    if decided.because:
        others = (order for order in Order if order is not decided.order)
        open_to = [o for o in others if all(o in row.cell.days for row in unsure)]
        told = f"the dates of this column are read as {decided.order}: {decided.because}; where "
        told += f"that is wrong, say --dates {any_of(open_to)}"
        yield doubt(header, "order-of-dates", told)
    for row in unsure:
        if decided.order not in row.cell.days:
            yield _misfit(row, decided.order, sum(decided.order in r.cell.days for r in unsure))


def _undecided(unsure: Sequence[Dated], header: Place) -> Problem:
    first = next(row.cell for row in unsure if len(set(row.cell.days.values())) > 1)
    days = any_of([day_plain(day) for day in dict.fromkeys(first.days.values())])
    told = f"'{first.text}' could be {days}, and no date of this column tells; say which with "
    return mistake(header, "order-of-dates", f"{told}--dates {any_of(list(first.days))}")


def _misfit(row: Dated, order: Order, fitting: int) -> Problem:
    day = next(iter(row.cell.days.values()))
    fault = row.cell.faults.get(order) or f"'{row.cell.text}' cannot be so"
    told = f"{fault}; read as {order}, like {counted(fitting, 'other date')} of this column; write "
    return mistake(row.place, "date-of-another-order", f"{told}{day} if that is the day")


def _out_of_order(dated: Sequence[tuple[Dated, date]]) -> Iterator[Problem]:
    """Rows that do not stand where their day belongs, in a table that is else in order."""
    days = [day.toordinal() for _, day in dated]
    if _steps_back([day for _, day in dated]) == 0:
        return
    newest_first = sum(a > b for a, b in pairwise(days)) * 2 >= len(days)
    kept = _longest_rising([-day for day in days] if newest_first else days)
    strangers = [at for at in range(len(days)) if at not in kept]
    if len(strangers) * MOST_OUT_OF_ORDER > max(len(days), MOST_OUT_OF_ORDER):
        return
    for at in strangers:
        row, day = dated[at]
        told = f"'{row.cell.text}' is read as {day}, and the rows around it are of "
        around = [dated[near][1] for near in (at - 1, at + 1) if 0 <= near < len(days)]
        told += listed([str(each) for each in around])
        meant = _meant(row.cell, day, around)
        yield doubt(row.place, "date-out-of-order", f"{told}; {meant}")


def _meant(cell: DayCell, day: date, around: Sequence[date]) -> str:
    """What would stand in order here: the figures the other way round, or another year."""
    years = (day.year + 1, day.year - 1)
    slips = (day.replace(year=year) for year in years if (day.month, day.day) != (2, 29))
    for other in (*cell.days.values(), *slips):
        near = len(around) == 1 and abs((other - around[0]).days) <= NEAR_DAYS
        if other != day and (near or min(around) <= other <= max(around)):
            return f"write {other} if that is meant"
    return "mend the day or the year if it is wrong"


def _longest_rising(numbers: Sequence[int]) -> set[int]:
    """The places of a longest series that never falls."""
    ends: list[int] = []  # by length less one, the place of the smallest number that ends it
    before: dict[int, int | None] = {}
    for at, number in enumerate(numbers):
        length = bisect_right(ends, number, key=lambda place: numbers[place])
        before[at] = ends[length - 1] if length else None
        ends[length : length + 1] = [at]
    kept: set[int] = set()
    last: int | None = ends[-1] if ends else None
    while last is not None:
        kept.add(last)
        last = before[last]
    return kept
