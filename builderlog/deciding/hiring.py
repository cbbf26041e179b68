"""How much of some tasks can still be hired out before the limit is lost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from builderlog.deciding.counting import Columns, Count, count
from builderlog.deciding.portion import Portion
from builderlog.deciding.task_columns import columns_of
from builderlog.deciding.what_if import CannotSupposeError
from builderlog.knowing.forms import nearest
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Task, Worklist


@dataclass(frozen=True, slots=True)
class Hiring:
    """The open tasks of some part of the aircraft; numbers in the measure's smallest unit."""

    tasks: tuple[Task, ...]  # that apply
    open: tuple[Task, ...]
    builder: int  # what the builder claims in the open ones, or has left to do there
    unclaimed: int  # what nobody claims there: hiring that out costs no share
    most: int  # of the builder's, what can be hired out and the limit still be met
    before: Count  # the whole as it is; where hours are counted, as planned
    after: Count  # the same, with `most` gone to paid help


def tasks_named(worklist: Worklist, names: Iterable[str]) -> tuple[Task, ...]:
    """The tasks that apply, by their own ids or their area's. Raises CannotSupposeError."""
    areas = {area.id: area.tasks for area in worklist.areas}
    found: dict[str, Task] = {}
    for name in names:
        task = worklist.by_id.get(name)
        if task is None and name not in areas:
            hint = nearest(name, [*areas, *worklist.by_id]) or "; name one of worklist.yaml"
            raise CannotSupposeError(f"'{name}' is no task and no area of the work list{hint}")
        named = [each for each in ((task,) if task else areas[name]) if each.applies]
        if not named:
            raise CannotSupposeError(f"nothing of {name} applies to this aircraft")
        found |= {each.id: each for each in named}
    return tuple(found.values())


def hiring(tasks: tuple[Task, ...], found: Portion) -> Hiring:
    """What of these tasks could go to paid help, now that `found` is the claim.

    Hours that are not worked yet are no part of the share, so where hours are counted it is the
    share as planned that is kept.
    """
    rulebook = found.rulebook
    still = tuple(task for task in tasks if not task.done)
    before = found.planned if rulebook.measure is Measure.HOURS else found.whole
    builder = sum(found.open_builder[task.id] for task in still)
    unclaimed = sum(columns_of(task, rulebook.measure).unclaimed for task in still)
    most = min(builder, before.headroom)
    after = before
    if most:
        after = count(_moved(before.columns, most, rulebook), before.tasks, rulebook)
    return Hiring(tasks, still, builder, unclaimed, most, before, after)


def _moved(columns: Columns, most: int, rulebook: Rulebook) -> Columns:
    """From the columns that count for the builder, assembly first."""
    assembly = min(most, columns.assembly) if Side.ASSEMBLY in rulebook.builder else 0
    return columns + Columns(paid=most, assembly=-assembly, fabrication=assembly - most)
