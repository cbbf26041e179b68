"""What if a task were hired out: the ledger as it would be, to be counted like any other."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from builderlog.deciding.portion import build_work
from builderlog.deciding.task_columns import kind_of
from builderlog.knowing.entries import Work
from builderlog.knowing.forms import nearest
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import WHOLE_POINT, Credit, Role, Task, Worklist
from builderlog.knowing.units import Length, UnreadableError, parse_length
from builderlog.knowing.worklist_words import parse_tenths

BUILDING = (Work.ASSEMBLY, Work.FABRICATION)  # in the order in which paid help takes it


class CannotSupposeError(ValueError):
    """A supposition that cannot be; the message says why, and what to write."""


@dataclass(frozen=True, slots=True)
class Supposed:
    """The paid part of a task set to `paid`: tenths of its point, or seconds where hours count."""

    task: str
    paid: int


def parse_supposed(text: str, measure: Measure) -> Supposed:
    """`P12=paid:0.5`; where hours are counted also `P12=paid:6h`. Raises CannotSupposeError."""
    found = re.fullmatch(r"(.+)=\s*paid\s*:(.+)", text.strip())
    if not found:
        raise CannotSupposeError(f"'{text}' cannot be read; write TASK=paid:0.5")
    try:
        if measure is Measure.HOURS:
            return Supposed(found[1].strip(), parse_length(found[2].strip()).seconds)
        return Supposed(found[1].strip(), parse_tenths(found[2].strip()))
    except UnreadableError as fault:
        raise CannotSupposeError(str(fault)) from fault


def suppose(ledger: Ledger, rulebook: Rulebook, changes: Iterable[Supposed]) -> Ledger:
    """The ledger with each task's paid part set. Raises CannotSupposeError, also for one set twice.

    What paid help gets is taken from the builder's columns first (assembly, then fabrication),
    then from what nobody claims; what it gives back is nobody's until it is claimed.
    """
    seen: set[str] = set()
    for change in changes:
        task = _task(ledger, change.task)
        if task.id in seen:
            raise CannotSupposeError(f"{task.id} is supposed twice; write it once")
        seen.add(task.id)
        if rulebook.measure is Measure.HOURS:
            ledger = _with_hours(ledger, rulebook, task, change.paid)
        else:
            ledger = replace(
                ledger, worklist=_with_task(ledger.worklist, _hired(task, change.paid))
            )
    return ledger


def _task(ledger: Ledger, name: str) -> Task:
    task = ledger.worklist.by_id.get(name)
    if task is None:
        hint = nearest(name, ledger.worklist.by_id) or "; name a task of worklist.yaml"
        raise CannotSupposeError(f"'{name}' is no task of the work list{hint}")
    if not task.applies:
        raise CannotSupposeError(f"{name} does not apply to this aircraft, so it counts nowhere")
    return task


def _hired(task: Task, paid: int) -> Task:
    credit = task.credit or Credit()
    if paid > WHOLE_POINT - credit.maker:
        left = tenths_text(WHOLE_POINT - credit.maker)
        told = f"{task.id} has {left} left beside its maker's {tenths_text(credit.maker)}"
        raise CannotSupposeError(f"{told}; write at most {left}")
    more = max(0, paid - credit.paid)
    assembly = min(more, credit.assembly)
    fabrication = min(more - assembly, credit.fabrication)
    after = Credit(credit.maker, paid, credit.assembly - assembly, credit.fabrication - fabrication)
    return replace(task, credit=after, marks=_marks_after(task, after))


def _marks_after(task: Task, after: Credit) -> tuple[int, int] | None:
    """Given marks stay, but the builder's goes with the last of what the builder had.

    Where no credit is claimed beside given marks, that is what nobody claims.
    """
    if task.marks is None:
        return None
    maker, builder = task.marks
    claimed_before = task.credit is not None and task.credit.builder > 0
    keeps = after.builder > 0 or (not claimed_before and after.unclaimed > 0)
    return maker, builder if keeps else 0


def _with_task(worklist: Worklist, task: Task) -> Worklist:
    areas = tuple(
        replace(area, tasks=tuple(task if own.id == task.id else own for own in area.tasks))
        for area in worklist.areas
    )
    return replace(worklist, areas=areas, by_id={**worklist.by_id, task.id: task})


def _with_hours(ledger: Ledger, rulebook: Rulebook, task: Task, paid: int) -> Ledger:
    """Hours go from the amateurs' recorded ones first, then from what is planned and not done.

    What counts for nobody stays as it is: work of another kind, and work after the certificate.
    """
    build = [row for row in build_work(ledger) if row.task == task.id]
    had = sum(row.seconds for row in build if row.role is Role.PAID)
    if paid < had:
        told = f"{task.id} has {length_text(had)} of paid help on record already"
        raise CannotSupposeError(f"{told}; write at least that")
    more = paid - had
    own = [row for row in build if row.role in rulebook.amateurs and row.work in BUILDING]
    worked = sum(row.seconds for row in own)
    planned = task.estimate.seconds if task.estimate and not task.done else 0
    left = max(0, planned - worked)
    if more > worked + left:
        told = f"{task.id} has {length_text(worked + left)} on record and planned"
        raise CannotSupposeError(f"{told}; write at most {length_text(had + worked + left)}")
    estimate = Length(max(0, planned - more)) if planned else task.estimate
    worklist = _with_task(ledger.worklist, replace(task, estimate=estimate))
    paid_row = Worked("", date.min, "", Role.PAID, task.id, kind_of(task), more)
    rows = (*_lessened(ledger.work, own, more), paid_row)
    return replace(ledger, work=rows, worklist=worklist)


def _lessened(work: Iterable[Worked], own: list[Worked], more: int) -> Iterator[Worked]:
    """The work without `more` seconds of the rows `own`, as far as they go; assembly first."""
    left = dict.fromkeys(own, 0)  # two rows may be the same: one person, one note, one length
    for row in sorted(own, key=lambda each: BUILDING.index(each.work)):
        taken = min(more, row.seconds)
        left[row] += row.seconds - taken
        more -= taken
    for row in work:
        kept = min(row.seconds, left.get(row, row.seconds))
        if row in left:
            left[row] -= kept
        yield replace(row, seconds=kept)


def tenths_text(tenths: int) -> str:
    """Tenths of a point as the form writes them: 64 is "6.4"."""
    return f"{tenths // WHOLE_POINT}.{tenths % WHOLE_POINT}"
