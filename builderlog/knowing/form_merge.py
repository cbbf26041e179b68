"""What a work list should say after a form was taken in: what changes, what is new, what stays.

Pure data: how the file is changed is for `worklist_edit`. What a form does not give stays.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from builderlog.knowing.form_areas import Homes, homes_of, told_place
from builderlog.knowing.form_cells import one_line, tenths_text
from builderlog.knowing.form_columns import CREDITS
from builderlog.knowing.form_row import FormRow
from builderlog.knowing.forms import Desk
from builderlog.knowing.hours import length_text
from builderlog.knowing.settings import WHOLE_POINT, Area, Credit, Task, Worklist
from builderlog.knowing.units import Length
from builderlog.reading.problem import Problem

COLUMNS = tuple(meaning.value for meaning in CREDITS)


@dataclass(frozen=True, slots=True)
class Setting:
    """One key of a task (or column of its credit) with its words, as worklist.yaml writes them."""

    key: str
    before: str  # empty: not given
    after: str


@dataclass(frozen=True, slots=True)
class TaskChange:
    """What is to be written of one task."""

    task: Task  # as it should be
    settings: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class Merge:
    """The work list as it should be, and the way there."""

    wanted: Worklist
    changed: tuple[TaskChange, ...]
    added: tuple[TaskChange, ...]
    made: tuple[Area, ...]  # areas that are new, without their tasks
    renamed: dict[str, str]  # area id to its new name
    unchanged: int  # rows that the work list says already
    missing: tuple[str, ...]  # tasks of the work list that the form lacks


def merge_form(rows: tuple[FormRow, ...], worklist: Worklist) -> tuple[Merge, tuple[Problem, ...]]:
    """Takes the form's rows into the work list, which has no mistakes."""
    by_row_id = {one_line(task.id): task for task in reversed(worklist.by_id.values())}
    known = {row.id: by_row_id[row.id] for row in rows if row.id in by_row_id}
    homes = homes_of(rows, worklist, known)
    desk = Desk([*homes.problems])
    missing = tuple(id_ for id_ in worklist.by_id if one_line(id_) not in known)
    _tell_nearly_known(rows, known, [worklist.by_id[id_] for id_ in missing], desk)
    changes = {row.id: _change(row, known.get(row.id), homes, desk) for row in rows}
    changed = tuple(changes[id_] for id_ in changes if id_ in known and changes[id_].settings)
    added = tuple(changes[id_] for id_ in changes if id_ not in known)
    merge = Merge(
        wanted=_wanted(worklist, homes, changed, added),
        changed=changed,
        added=added,
        made=homes.made,
        renamed=homes.renamed,
        unchanged=len(known) - len(changed),
        missing=missing,
    )
    return merge, tuple(desk.problems)


def _wanted(
    worklist: Worklist,
    homes: Homes,
    changed: tuple[TaskChange, ...],
    added: tuple[TaskChange, ...],
) -> Worklist:
    now = {change.task.id: change.task for change in changed}
    new: dict[str, list[Task]] = {}
    for change in added:
        new.setdefault(change.task.area, []).append(change.task)
    areas = tuple(
        replace(
            area,
            name=homes.renamed.get(area.id, area.name),
            tasks=(*(now.get(task.id, task) for task in area.tasks), *new.get(area.id, ())),
        )
        for area in (*worklist.areas, *homes.made)
    )
    by_id = {task.id: task for area in areas for task in area.tasks}
    return Worklist(areas, written=True, by_id=by_id)


def _change(row: FormRow, task: Task | None, homes: Homes, desk: Desk) -> TaskChange:
    """A row's task as it should be, with what must be written for it."""
    before = task or Task(row.id, row.id, homes.of_new[row.id], row.place)
    after = replace(
        before,
        name=row.name if row.name and row.name != one_line(before.name) else before.name,
        work=row.work or before.work,
        applies=before.applies if row.applies is None else row.applies,
        estimate=_estimate(row, before),
        done=before.done if row.done is None else row.done,
        credit=_credit(row, before, desk),
        marks=_marks(row, before, desk),
    )
    if not after.applies:
        after = _without_claim(row, after, desk)
    return TaskChange(after, tuple(_settings(row, before, after, new=task is None)))


def _without_claim(row: FormRow, task: Task, desk: Desk) -> Task:
    """A task that does not apply: what it had of credit and marks becomes nothing."""
    if row.applies is None and any((*row.credit.values(), *row.marks)):
        told = (
            f"'{row.id}' does not apply by the work list ({told_place(task.place)}), so it can "
            "have no number; write N/A here, or applies: yes there"
        )
        place = row.credit_at if any(row.credit.values()) else row.marks_at
        desk.tell(place, "number-without-use", told)
    credit, marks = task.credit and Credit(), task.marks and (0, 0)
    return replace(task, credit=credit, marks=marks)


def _estimate(row: FormRow, before: Task) -> Length | None:
    if row.estimate is None or (before.estimate and before.estimate.seconds == row.estimate):
        return before.estimate
    return Length(row.estimate)


def _credit(row: FormRow, before: Task, desk: Desk) -> Credit | None:
    if not row.credit:
        return before.credit
    credit = replace(before.credit or Credit(), **row.credit)
    if credit.unclaimed < 0 and sum(row.credit.values()) <= WHOLE_POINT:
        kept = [
            f"{column} {tenths_text(getattr(credit, column))}"
            for column in COLUMNS
            if column not in row.credit and getattr(credit, column)
        ]
        told = (
            f"with {' and '.join(kept)} of the work list ({told_place(before.place)}) this makes "
            f"{tenths_text(WHOLE_POINT - credit.unclaimed)} for '{row.id}', and a task has one "
            "point; write less there, or give all columns here"
        )
        desk.tell(row.credit_at, "credit-above-1-together", told)
    return credit


def _marks(row: FormRow, before: Task, desk: Desk) -> tuple[int, int] | None:
    if row.marks == (None, None):
        return before.marks
    kept = before.marks or (None, None)
    maker, builder = (old if new is None else new for new, old in zip(row.marks, kept, strict=True))
    if maker is None or builder is None:
        side = "builder's" if builder is None else "maker's"
        told = f"the {side} marks of '{row.id}' are given neither here nor in the work list"
        desk.tell(row.marks_at, "marks-one-side", f"{told}; write both, 0 for none")
        return before.marks
    return maker, builder


def _settings(row: FormRow, before: Task, after: Task, *, new: bool) -> Iterator[Setting]:
    """What must be written, in the order in which a task's keys stand."""
    old, now = _words(before), _words(after)
    if new and row.done is not None:
        old["state"] = ""
    for key, words in now.items():
        if key != "credit" and words != old[key]:
            yield Setting(key, "" if new else old[key], words)
        elif key == "credit" and after.credit:
            yield from _columns(row, before.credit, after.credit)


def _columns(row: FormRow, before: Credit | None, after: Credit) -> Iterator[Setting]:
    """A column that is not given and counts as nothing need not be written to stay nothing."""
    for column in COLUMNS:
        old, now = getattr(before, column, None), getattr(after, column)
        if old != now and (old is not None or column in row.credit):
            yield Setting(column, "" if old is None else tenths_word(old), tenths_word(now))


def _words(task: Task) -> dict[str, str]:
    """A task's keys but its credit, as worklist.yaml writes them; empty where there is nothing."""
    return {
        "name": task.name,
        "work": task.work or "",
        "applies": "yes" if task.applies else "no",
        "estimate": length_text(task.estimate.seconds) if task.estimate else "",
        "state": "done" if task.done else "open",
        "credit": "",
        "marks": f"[{task.marks[0]}, {task.marks[1]}]" if task.marks else "",
    }


def tenths_word(tenths: int) -> str:
    """A credit as a work list has it: 0, 0.3, 1.0."""
    return tenths_text(tenths) if tenths else "0"


def _tell_nearly_known(
    rows: tuple[FormRow, ...], known: Mapping[str, Task], missing: list[Task], desk: Desk
) -> None:
    """`W1` for `W01`: else the task would be added beside the one that is meant."""
    near = {_simple(task.id): task for task in reversed(missing)}
    for row in rows:
        task = near.get(_simple(row.id))
        if task and row.id not in known:
            told = (
                f"'{row.id}' is not in the work list, but '{task.id}' is "
                f"({told_place(task.place)}); write it so here, or give '{task.id}' a row too"
            )
            desk.tell(row.place, "id-nearly-known", told)


def _simple(id_: str) -> str:
    """Without case, signs, and the zeros that a spreadsheet takes off."""
    bare = "".join(sign for sign in id_.casefold() if sign.isalnum())
    return re.sub(r"(?<!\d)0+(?=\d)", "", bare)
