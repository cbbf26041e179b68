"""The chapter of the months: hours, notes, days, pictures and money of each, with charts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from builderlog.deciding import sums
from builderlog.deciding.costs import shown
from builderlog.deciding.months import MonthRollup
from builderlog.deciding.months import months as rollups
from builderlog.deciding.totals import Tally, tally
from builderlog.deciding.words import (
    counted,
    duration,
    duration_clock,
    listed,
    month_long,
    month_short,
)
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Area, Role
from builderlog.sheets.cells import Names, names_of, sums_words
from builderlog.sheets.chapter import (
    Bar,
    Bars,
    Block,
    Cell,
    Chapter,
    Column,
    Paragraph,
    Rows,
    Section,
)
from builderlog.sheets.material import Material

NO_AREA_TIME = "Given to no area"
BY_ROLE = {Role.BUILDER: "builders", Role.HELPER: "unpaid help", Role.PAID: "paid help"}
ROUNDED = (
    "Hours and minutes, rounded to the minute; sums are made of whole seconds, which stand in "
    "data/tables/months.csv and hours.csv. Sums of money are rounded once, at the end."
)
ESTIMATED = (
    "An estimate is the builder's own, for the amateurs together; only tasks that have one and are "
    "on this aircraft are in it. What is left of it is reckoned without paid time."
)


def months(held: Material) -> Iterator[Chapter]:
    """Every calendar month from the first note to the last; nothing where there is no note."""
    found, whole = rollups(held.ledger), tally(held.ledger)
    if not found:
        return
    names = names_of(held.found)
    blocks: list[Block] = [Paragraph(_opening(found, whole), "lead")]
    silent = tuple(_silent(found))
    if silent:
        blocks.append(Paragraph(f"No note is dated in {listed(silent)}.", "gap"))
    if whole.seconds:
        blocks.append(Section("months-hours", "Hours by month", (_month_bars(found),)))
    blocks.append(_counts(found, whole))
    if whole.seconds:
        blocks += _areas(held.ledger, names)
    blocks.append(_contents(found, names))
    yield Chapter("months", "Month by month", tuple(blocks))


def _opening(found: Sequence[MonthRollup], whole: Tally) -> str:
    first, last = month_long(found[0].month), month_long(found[-1].month)
    span = first if len(found) == 1 else f"{first} to {last}, {counted(len(found), 'month')}"
    return (
        f"{span}: {counted(whole.notes, 'note')}, {counted(whole.days, 'day')} with time on them, "
        f"{duration(whole.seconds)} in all, {counted(whole.photos, 'picture')} in the notes."
    )


def _silent(found: Sequence[MonthRollup]) -> Iterator[str]:
    """Months without a note, those in a row as one: "March 2026 to May 2026"."""
    for has_notes, group in groupby(found, key=lambda month: bool(month.notes)):
        if not has_notes:
            months_of = [month_long(month.month) for month in group]
            yield months_of[0] if len(months_of) == 1 else f"{months_of[0]} to {months_of[-1]}"


def _month_bars(found: Sequence[MonthRollup]) -> Bars:
    bars = tuple(
        Bar(
            month_short(month.month),
            month.seconds,
            f"{duration(month.seconds)}; {duration(month.running_seconds)} so far",
            tuple(month.by_role[role.value] for role in Role),
        )
        for month in found
    )
    alt = "Hours of each month by builders, unpaid and paid help, with the running total."
    return Bars(alt, bars, tuple(BY_ROLE.values()))


def _counts(found: Sequence[MonthRollup], whole: Tally) -> Section:
    columns = (
        Column("Month", share=3),
        *(Column(heading, number=True) for heading in ("Notes", "Days")),
        *(Column(words.capitalize(), number=True) for words in BY_ROLE.values()),
        *(Column(heading, number=True) for heading in ("Together", "Running total", "Pictures")),
        Column("Spent", number=True, share=4),
    )
    rows = (*map(_count, found), _sum(whole))
    table = Rows("The count of each month", columns, rows, sums=1)
    told = Paragraph(ROUNDED, "quiet")
    return Section("months-counts", "The count of each month", (table, told))


def _count(month: MonthRollup) -> tuple[Cell, ...]:
    return (
        Cell(month_long(month.month)),
        Cell(str(month.notes)) if month.notes else Cell("none", weak=True),
        Cell(str(month.days)),
        *(Cell(duration_clock(month.by_role[role.value])) for role in Role),
        Cell(duration_clock(month.seconds)),
        Cell(duration_clock(month.running_seconds)),
        Cell(str(month.photos)),
        Cell(sums_words(shown(month.spent))),
    )


def _sum(whole: Tally) -> tuple[Cell, ...]:
    return (
        Cell("In all"),
        Cell(str(whole.notes)),
        Cell(str(whole.days)),
        *(Cell(duration_clock(whole.by_role[role.value])) for role in Role),
        Cell(duration_clock(whole.seconds)),
        Cell(),
        Cell(str(whole.photos)),
        Cell(sums_words(shown(whole.spent))),
    )


@dataclass(frozen=True, slots=True)
class _AreaTime:
    """Seconds on record for an area, or for none."""

    label: str
    by_role: Mapping[Role, int]
    estimate: int | None  # None: there can be none

    @property
    def seconds(self) -> int:
        """Everyone's."""
        return sum(self.by_role.values())


def _areas(ledger: Ledger, names: Names) -> Iterator[Section]:
    """Time by area beside the estimate, with what no area has at the end."""
    if not ledger.worklist.areas:
        return
    title = "Hours by area, against the estimate"
    rows = tuple(_area_times(ledger, names))
    bars = Bars(
        "Hours on record for each area, and what is left of its estimate.",
        tuple(map(_area_bar, rows)),
        ("the amateurs' time", "paid time", "left of the estimate"),
    )
    blocks = (bars, _area_table(title, rows), Paragraph(ESTIMATED, "quiet"))
    yield Section("months-areas", title, blocks)


def _area_times(ledger: Ledger, names: Names) -> Iterator[_AreaTime]:
    by_role = {
        role: sums.by_area((row for row in ledger.work if row.role is role), ledger.worklist)
        for role in Role
    }
    for area in ledger.worklist.areas:
        seconds = {role: by_role[role].get(area.id, 0) for role in Role}
        found = _AreaTime(names.title(area.id), seconds, _estimate(area))
        if found.seconds or found.estimate:
            yield found
    rest = {role: by_role[role].get(sums.NO_AREA, 0) for role in Role}
    if any(rest.values()):
        yield _AreaTime(NO_AREA_TIME, rest, None)


def _estimate(area: Area) -> int:
    """Seconds."""
    return sum(task.estimate.seconds for task in area.tasks if task.applies and task.estimate)


def _area_bar(row: _AreaTime) -> Bar:
    paid = row.by_role[Role.PAID]
    amateurs = row.seconds - paid
    left = max(0, (row.estimate or 0) - amateurs)
    words = duration(row.seconds)
    if row.estimate is not None:
        words += f"; estimate {duration(row.estimate)}" if row.estimate else "; no estimate"
    return Bar(row.label, row.seconds + left, words, (amateurs, paid, left))


def _area_table(caption: str, rows: Sequence[_AreaTime]) -> Rows:
    columns = (
        Column("Area", share=5),
        *(Column(words.capitalize(), number=True) for words in BY_ROLE.values()),
        *(Column(heading, number=True) for heading in ("Together", "Estimate")),
    )
    whole = _AreaTime(
        "In all",
        {role: sum(row.by_role[role] for row in rows) for role in Role},
        sum(row.estimate or 0 for row in rows),
    )
    return Rows(caption, columns, tuple(map(_area_row, (*rows, whole))), sums=1)


def _area_row(row: _AreaTime) -> tuple[Cell, ...]:
    return (
        Cell(row.label),
        *(Cell(duration_clock(row.by_role[role])) for role in Role),
        Cell(duration_clock(row.seconds)),
        Cell(duration_clock(row.estimate) if row.estimate else ""),
    )


def _contents(found: Sequence[MonthRollup], names: Names) -> Section:
    columns = (
        Column("Month", share=3),
        Column("Where the time went", share=5),
        Column("Tasks begun", share=5),
        Column("Tasks finished", share=5),
        Column("Longest pause", share=2),
    )
    rows = tuple(_content(month, names) for month in found)
    title = "What each month was about"
    told = Paragraph(
        "A task is begun in the month of its first time on record; it is finished, where the work "
        "list says that it is done, in the month of its last. A pause is the longest run of days "
        "without time that ends in the month or reaches its end.",
        "quiet",
    )
    return Section("months-contents", title, (Rows(title, columns, rows), told))


def _content(month: MonthRollup, names: Names) -> tuple[Cell, ...]:
    if not month.notes:
        empty = Cell("no note", weak=True)
        return Cell(month_long(month.month)), empty, Cell(), Cell(), _pause(month)
    return (
        Cell(month_long(month.month)),
        Cell("; ".join(_area_time(*each, names) for each in month.by_area.items())),
        names.cells(month.tasks_begun),
        names.cells(month.tasks_finished),
        _pause(month),
    )


def _area_time(area: str, seconds: int, names: Names) -> str:
    name = NO_AREA_TIME.lower() if area == sums.NO_AREA else names.title(area)
    return f"{name} {duration_clock(seconds)}"


def _pause(month: MonthRollup) -> Cell:
    return Cell(counted(month.longest_gap_days, "day") if month.longest_gap_days > 1 else "")
