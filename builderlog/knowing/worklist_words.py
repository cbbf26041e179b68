"""The vocabulary of worklist.yaml, and how its rows become areas and tasks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from builderlog.knowing.entries import Work
from builderlog.knowing.forms import (
    Choice,
    Desk,
    Key,
    Many,
    Parsed,
    Row,
    Rows,
    Text,
    Time,
    YesNo,
    read_row,
)
from builderlog.knowing.settings import WHOLE_POINT, Area, Credit, Task, Worklist
from builderlog.knowing.units import UnreadableError
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.words import Node, Series, Table

K = Key[Any]
TEXT = Text()


def parse_tenths(text: str) -> int:
    """`0.3` to 3 tenths: 0 to 1 in steps of a tenth. Raises UnreadableError."""
    word = text.strip().replace(",", ".")
    if not re.fullmatch(r"[01]?(?:\.\d0*)?", word) or not word or word == ".":
        raise UnreadableError(f"'{text}' is not a credit in tenths; write 0 to 1, as in 0.3")
    whole, _, tenth = word.partition(".")
    tenths = int(whole or "0") * WHOLE_POINT + int(tenth[:1] or "0")
    if tenths > WHOLE_POINT:
        raise UnreadableError(f"'{text}' is more than the task's one point; write 0 to 1")
    return tenths


TENTHS: Parsed[int] = Parsed("tenths of a point", parse_tenths)
C_MAKER = K("maker", TENTHS, "made by the kit's or the part's maker", "0.3")
C_PAID = K("paid", TENTHS, "done by paid help", "0")
C_ASSEMBLY = K("assembly", TENTHS, "assembled by amateurs", "0.2")
C_FABRICATION = K("fabrication", TENTHS, "fabricated by amateurs", "0.5")
CREDIT_KEYS: tuple[K, ...] = (C_MAKER, C_PAID, C_ASSEMBLY, C_FABRICATION)


@dataclass(frozen=True, slots=True)
class CreditForm:
    """The four columns of a task's one point; what is missing to 1 is not yet claimed."""

    name: str = "{maker, paid, assembly, fabrication} in tenths"

    def read(self, node: Node, desk: Desk) -> Credit | None:
        credit = Rows("a credit", CREDIT_KEYS, _credit).read(node, desk)
        if credit is None:
            return None
        total = credit.maker + credit.paid + credit.assembly + credit.fabrication
        if total > WHOLE_POINT:
            told = f"the credit adds to {total // 10}.{total % 10}; a task has one point"
            desk.tell(node.place, "credit-above-1", told)
            return None
        return credit


def _credit(row: Row) -> Credit:
    return Credit(*(row.get(key) or 0 for key in CREDIT_KEYS))


@dataclass(frozen=True, slots=True)
class Marks:
    """Two whole numbers, `[maker, builder]`."""

    name: str = "[maker, builder]"

    def read(self, node: Node, desk: Desk) -> tuple[int, int] | None:
        items = node.items if isinstance(node, Series) else ()
        texts = [str(item).strip() for item in items]
        if len(texts) != 2 or not all(re.fullmatch(r"[0-9]{1,4}", text) for text in texts):
            desk.tell(node.place, "unreadable", "marks are two whole numbers; write [1, 1]")
            return None
        return int(texts[0]), int(texts[1])


T_TASK = K("task", Text("an id"), "its id, unique", "W14")
T_NAME = K("name", TEXT, "its name", "Fit aileron skins")
T_WORK = K("work", Choice(("fabrication", "assembly")), "its kind of work", "fabrication")
T_APPLIES = K("applies", YesNo(), "no: not on this aircraft", "no")
T_ESTIMATE = K("estimate", Time(), "hours of all amateurs together", "14h")
T_STATE = K("state", Choice(("open", "done")), "where it stands", "open")
T_CREDIT = K("credit", CreditForm(), "the credit claimed", "{maker: 0.3, fabrication: 0.7}")
T_MARKS = K("marks", Marks(), "where the rulebook counts marks", "[1, 1]")
TASK_KEYS: tuple[K, ...] = (
    *(T_TASK, T_NAME, T_WORK, T_APPLIES, T_ESTIMATE, T_STATE, T_CREDIT, T_MARKS),
)


def _task(row: Row) -> Task:
    work, applies = row.get(T_WORK), row.get(T_APPLIES)
    return Task(
        id=row.need(T_TASK).text,
        name=str(row.get(T_NAME) or row.need(T_TASK)),
        area="",
        place=row.need(T_TASK).place,
        work=Work(work) if work else None,
        applies=applies is not False,
        estimate=row.get(T_ESTIMATE),
        done=row.get(T_STATE) == "done",
        credit=row.get(T_CREDIT),
        marks=row.get(T_MARKS),
    )


A_AREA = K("area", Text("an id"), "its id, unique", "W")
A_NAME = K("name", TEXT, "its name", "Wings")
A_TASKS = K(
    "tasks",
    Many(Rows("a task", TASK_KEYS, _task, ("task",), "task")),
    "its tasks",
    "[{task: W14, name: Fit aileron skins}]",
)
AREA_KEYS: tuple[K, ...] = (A_AREA, A_NAME, A_TASKS)


def _area(row: Row) -> Area:
    area = row.need(A_AREA)
    tasks = tuple(replace(task, area=area.text) for task in row.many(A_TASKS))
    return Area(area.text, str(row.get(A_NAME) or area), area.place, tasks)


AREAS = K(
    "areas",
    Many(Rows("an area", AREA_KEYS, _area, ("area",))),
    "the areas of the aircraft",
    "[{area: W, name: Wings, tasks: [...]}]",
)
WORKLIST_KEYS: tuple[K, ...] = (AREAS,)


def worklist_of(table: Table | None, place: Place) -> tuple[Worklist, tuple[Problem, ...]]:
    """worklist.yaml's words as areas and tasks; of two with one id the first counts."""
    desk = Desk()
    row = read_row(table or Table((), place), WORKLIST_KEYS, desk, "worklist.yaml")
    areas: tuple[Area, ...] = row.many(AREAS)
    repeated = {task.place for task in _repeats(task for area in areas for task in area.tasks)}
    repeated |= {area.place for area in _repeats(areas)}
    kept = tuple(
        replace(area, tasks=tuple(task for task in area.tasks if task.place not in repeated))
        for area in areas
        if area.place not in repeated
    )
    by_id = {task.id: task for area in kept for task in area.tasks}
    told = (*desk.problems, *_tell_repeats(areas), *_tell_claims_on_nothing(areas))
    told = (*told, *_tell_without_id(areas))
    return Worklist(kept, written=table is not None, by_id=by_id), told


def _tell_without_id(areas: tuple[Area, ...]) -> Iterator[Problem]:
    """An empty id in quotes: nothing could name it, and in tables it would mean all of them."""
    ids = [(area.id, area.place) for area in areas]
    ids += [(task.id, task.place) for area in areas for task in area.tasks]
    for name, place in ids:
        if not name.strip():
            yield mistake(place, "empty-id", "an id of nothing stands here; write one, as W14")


def _tell_claims_on_nothing(areas: tuple[Area, ...]) -> Iterator[Problem]:
    """Where a task is not on this aircraft the form has N/A and no number."""
    for task in (task for area in areas for task in area.tasks):
        claimed = task.credit is not None and task.credit != Credit()
        if not task.applies and (claimed or any(task.marks or ())):
            what = "credit" if claimed else "marks"
            told = f"{task.id} does not apply to this aircraft, so it can have no {what}; delete"
            told = f"{told} its {what}, or applies: no"
            yield mistake(task.place, "claim-does-not-apply", told)


def _repeats(things: Any) -> Iterator[Any]:  # noqa: ANN401
    seen: set[str] = set()
    for thing in things:
        if thing.id in seen:
            yield thing
        seen.add(thing.id)


def _tell_repeats(areas: tuple[Area, ...]) -> Iterator[Problem]:
    first = {task.id: task.place.line for area in reversed(areas) for task in reversed(area.tasks)}
    for task in _repeats(task for area in areas for task in area.tasks):
        told = f"task '{task.id}' stands a second time (first in line {first[task.id]}); rename it"
        yield mistake(task.place, "repeated-task", told)
    for area in _repeats(areas):
        told = f"a second area has the id '{area.id}'; give it another"
        yield mistake(area.place, "repeated-area", told)
