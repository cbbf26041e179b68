"""What is missing as an inspector reads it: states of the record, each with its task and place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builderlog.deciding.findings import Findings
from builderlog.deciding.states import as_state, sentence
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, Weight
from builderlog.sheets.chapter import Cell, Paragraph, anchor
from builderlog.sheets.shelf import FileLink


@dataclass(frozen=True, slots=True)
class Missing:
    """One doubt or gap: what the record has or lacks, and what it is about.

    `task` and `area` are ids, None where it is about none of them or about several.
    """

    problem: Problem
    words: str
    task: str | None
    area: str | None

    @property
    def paragraph(self) -> Paragraph:
        """The same on a task's or area's own pages: a doubt must be seen, a gap is a lack."""
        because = self.problem.because
        told = f"{self.words} The builder explains: {sentence(because)}" if because else self.words
        if self.problem.weight is Weight.DOUBT:
            return Paragraph(f"Doubt. {told}", kind="caution")
        return Paragraph(told, kind="gap")

    def where(self, ledger: Ledger) -> FileLink:
        """File and line; without a link where it is no file of the journal."""
        place = self.problem.place
        words = f"{place.path}, line {place.line}"
        return FileLink(words, place.path if place.path in ledger.files else "")


@dataclass(frozen=True, slots=True)
class Told:
    """All that is missing, doubts first; and what is about one task, or one area as a whole."""

    all: tuple[Missing, ...]
    by_task: Mapping[str, tuple[Missing, ...]]
    by_area: Mapping[str, tuple[Missing, ...]]


def told_of(found: Findings) -> Told:
    """Every doubt and gap, with what it is about."""
    worklist = found.ledger.worklist
    tasks = worklist.by_id if worklist.written else {each.id: None for each in found.records}
    places = {task.place: task.id for task in worklist.by_id.values()}
    areas = {area.place: area.id for area in worklist.areas}

    def missing(problem: Problem) -> Missing:
        area = areas.get(problem.place)
        task = places.get(problem.place)
        if area is None and task is None:
            task = _begins(problem.message, tasks)
        words = as_state(problem.message, task or area or "")
        return Missing(problem, words, task, area)

    told = tuple(map(missing, found.missing))
    return Told(
        told,
        _grouped((each.task, each) for each in told),
        _grouped((each.area, each) for each in told),
    )


def _grouped(pairs: Iterable[tuple[str | None, Missing]]) -> dict[str, tuple[Missing, ...]]:
    groups: dict[str, list[Missing]] = {}
    for key, each in pairs:
        if key is not None:
            groups.setdefault(key, []).append(each)
    return {key: tuple(each) for key, each in groups.items()}


def _begins(message: str, tasks: Iterable[str]) -> str | None:
    """The task whose id and a colon begin the message: the longest, since an id may hold one."""
    found = [task for task in tasks if message.startswith(f"{task}: ")]
    return max(found, key=len, default=None)


def about(missing: Missing, chapters: Mapping[str, str]) -> Cell:
    """What it is about, leading there; `chapters` are those of the areas."""
    if missing.task is not None:
        return Cell(missing.task, to=anchor(missing.task))
    if missing.area is not None:
        return Cell(f"area {missing.area}", to=chapters[missing.area])
    return Cell()
