"""The claim's pages for the inspector as ready words: the count, each task's evidence, all help.

Pure: the ledger in, frozen rows out. A file is named by its journal path; where it stands in the
folder that is handed over is for `handover`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.claim_sentences import bought_help, evaluation, source_words
from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    form_heading,
    headroom_words,
    percent_text,
    units_text,
    verdict,
)
from builderlog.deciding.counting import Columns, Count
from builderlog.deciding.findings import Findings
from builderlog.deciding.portion import AreaCount, Portion
from builderlog.deciding.task_columns import columns_of, marks_of
from builderlog.deciding.words import duration_clock, first_upper, listed
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Area, Role, Task
from builderlog.reading.problem import Place, Problem
from builderlog.sheets.evidence_task import (
    FileLink,
    Shelf,
    TaskEvidence,
    shelf_of,
    task_evidence,
    titled,
)
from builderlog.sheets.record_evidence import Helped, all_help

ALL_TASKS = "All tasks"  # stands where an area would, without a work list
IN_ALL = "In all"
# Told at a place in a note and begun with the task's id; what else concerns a task is told at the
# task's own place in the work list.
TOLD_IN_NOTES = ("paid-not-claimed", "maker-not-claimed")
OF_ONE_KIT = (
    "The maker's hours are declared for the whole kit, so an area has none of them and no share; "
    "time given to no task stands in the last row alone."
)


@dataclass(frozen=True, slots=True)
class GapRow:
    """One doubt or gap: what is told, where it stands, and the builder's explanation."""

    weight: str
    told: str
    where: FileLink
    explained: str


@dataclass(frozen=True, slots=True)
class CountRow:
    """One row of a count: of an area, of a task, or of the whole."""

    id: str
    title: str  # id and name
    cells: tuple[str, ...]
    applies: bool = True
    whole: bool = False
    remark: str = ""


@dataclass(frozen=True, slots=True)
class HelpRow:
    """One piece of help in words, with its papers and notes."""

    kind: str
    who: str
    what: str
    task: str
    time: str
    days: str
    receipts: tuple[FileLink, ...]
    notes: tuple[FileLink, ...]


@dataclass(frozen=True, slots=True)
class AreaEvidence:
    """One area: its tasks as the form lists them, and the evidence of each.

    `rows` end with the area's own sums. Where hours are counted there are none, since a task has
    no maker's hours; `left_out` then names the tasks that are not on this aircraft.
    """

    id: str
    title: str
    rows: tuple[CountRow, ...]
    left_out: tuple[str, ...]
    tasks: tuple[TaskEvidence, ...]
    gaps: tuple[str, ...]  # of the area as a whole


@dataclass(frozen=True, slots=True)
class ClaimEvidence:
    """Everything that the claim's pages print."""

    title: str
    rulebook: str
    builders: str
    facts: tuple[tuple[str, str], ...]  # label, words
    verdict: str
    headroom: str
    headings: tuple[str, ...]  # over the columns of the count
    areas: tuple[AreaEvidence, ...]
    rows: tuple[CountRow, ...]  # tasks, columns and share of the areas, and of the whole
    rows_note: str
    beside: tuple[tuple[str, str], ...]
    evaluation: tuple[str, ...]
    papers: tuple[FileLink, ...]  # the kit's evaluation
    bought_help: str
    help: tuple[HelpRow, ...]
    gaps: tuple[GapRow, ...]
    sources: tuple[str, ...]
    not_built: str
    unsettled: str
    cautions: tuple[str, ...]


def claim_evidence(found: Findings) -> ClaimEvidence | None:
    """The pages' words; None where the journal names no rulebook to count by."""
    counted, ledger = found.portion, found.ledger
    if counted is None:
        return None
    rulebook, shelf, kit = counted.rulebook, shelf_of(ledger), ledger.settings.kit_evaluated
    people = [one for one in ledger.settings.people if one.role is Role.BUILDER]
    return ClaimEvidence(
        title=ledger.settings.title,
        rulebook=rulebook.title,
        builders=listed([person.full_name or person.name for person in people]),
        facts=_facts(rulebook),
        verdict=verdict(counted),
        headroom=headroom_words(counted),
        headings=count_headings(rulebook),
        areas=tuple(_areas(found, counted, shelf)),
        rows=tuple(_area_rows(counted)),
        rows_note=OF_ONE_KIT if rulebook.measure is Measure.HOURS else "",
        beside=beside(counted),
        evaluation=tuple(evaluation(ledger, rulebook)),
        papers=(shelf.paper(kit.file.text),) if kit and kit.file else (),
        bought_help=first_upper(bought_help(ledger)),
        help=tuple(_help_row(each, shelf) for each in all_help(found)),
        gaps=tuple(_gap_row(problem, ledger) for problem in found.missing),
        sources=tuple(map(source_words, rulebook.sources)),
        not_built=listed(rulebook.not_built),
        unsettled=rulebook.unsettled or "",
        cautions=(*rulebook.cautions, CAUTION),
    )


def _help_row(each: Helped, shelf: Shelf) -> HelpRow:
    return HelpRow(
        kind=each.kind,
        who=each.who or "",
        what=each.what or "",
        task=each.task or ("no task" if each.seconds is not None else ""),
        time="" if each.seconds is None else duration_clock(each.seconds),
        days=_span(each.days),
        receipts=shelf.papers(each.receipts),
        notes=shelf.notes(each.notes),
    )


def _span(days: tuple[date, ...]) -> str:
    if len(days) < 2:
        return "".join(map(str, days))
    count = f", {len(days)} days" if len(days) > 2 else ""
    return f"{days[0]} to {days[-1]}{count}"


def _facts(rulebook: Rulebook) -> tuple[tuple[str, str], ...]:
    rows = (
        ("Rulebook", rulebook.title),
        ("Rule", rulebook.rule),
        ("Citation", rulebook.citation),
        ("Counted in", rulebook.measure.value),
        ("Columns of", rulebook.form or ""),
    )
    return tuple(row for row in rows if row[1])


def _gap_row(problem: Problem, ledger: Ledger) -> GapRow:
    path = problem.place.path
    where = FileLink(f"{path}, line {problem.place.line}", path if path in ledger.files else "")
    return GapRow(problem.weight.value, problem.message, where, problem.because)


def count_headings(rulebook: Rulebook) -> tuple[str, ...]:
    """Over the columns of a count: the form's own words where the rulebook is that form's."""
    return tuple(first_upper(form_heading(side, rulebook)) for side in Side)


def _cells(columns: Columns, measure: Measure) -> tuple[str, ...]:
    return tuple(_cell(columns.of((side,)), measure) for side in Side)


def _cell(units: int, measure: Measure) -> str:
    return duration_clock(units) if measure is Measure.HOURS else units_text(units, measure)


def _area_rows(found: Portion) -> Iterator[CountRow]:
    measure, limit = found.rulebook.measure, found.rulebook.limit

    def cells(part: Count) -> tuple[str, ...]:
        share = percent_text(part.share, limit)
        return (str(part.tasks), *_cells(part.columns, measure), share)

    for each in found.areas:
        yield CountRow(each.area.id, titled(each.area.id, each.area.name), cells(each.count))
    yield CountRow("", IN_ALL, cells(found.whole), whole=True)


def _areas(found: Findings, counted: Portion, shelf: Shelf) -> Iterator[AreaEvidence]:
    """Each area of the work list, or all free-text tasks as one where there is none."""
    told, worklist = _Told(found), found.ledger.worklist
    sheets = {
        each.id: task_evidence(each, counted.rulebook, told.of_task(each.id), shelf)
        for each in found.records
    }
    counts = {each.area.id: each for each in counted.areas}
    for area in worklist.areas:
        yield AreaEvidence(
            id=area.id,
            title=titled(area.id, area.name),
            rows=tuple(_task_rows(area, counts.get(area.id), counted.rulebook.measure)),
            left_out=tuple(titled(task.id, task.name) for task in area.tasks if not task.applies),
            tasks=tuple(sheets[task.id] for task in area.tasks if task.id in sheets),
            gaps=told.at(area.place),
        )
    if not worklist.written and sheets:
        yield AreaEvidence(ALL_TASKS, ALL_TASKS, (), (), tuple(sheets.values()), ())


class _Told:
    """What is missing, by the place at which it is told and by the task with which it begins."""

    def __init__(self, found: Findings) -> None:
        tasks = found.ledger.worklist.by_id
        self._places = {task.id: task.place for task in tasks.values()}
        self._at: dict[Place, list[str]] = {}
        self._in_notes: dict[str, list[str]] = {}
        for problem in found.missing:
            if problem.code in TOLD_IN_NOTES:
                for task in _begins(problem.message, tasks):
                    self._in_notes.setdefault(task, []).append(problem.told)
            else:
                self._at.setdefault(problem.place, []).append(problem.told)

    def at(self, place: Place) -> tuple[str, ...]:
        """The sentences told at a place."""
        return tuple(self._at.get(place, ()))

    def of_task(self, task: str) -> tuple[str, ...]:
        """The sentences told of a task: in notes first, since these are doubts."""
        place = self._places.get(task)
        return (*self._in_notes.get(task, ()), *(self.at(place) if place else ()))


def _begins(message: str, tasks: Iterable[str]) -> list[str]:
    """The task whose id and a colon begin the message: the longest, since an id may hold one."""
    found = [task for task in tasks if message.startswith(f"{task}: ")]
    return sorted(found, key=len)[-1:]


def _task_rows(area: Area, counted: AreaCount | None, measure: Measure) -> Iterator[CountRow]:
    """The tasks as the form has them, N/A where one is not on this aircraft; then their sums."""
    if measure is Measure.HOURS:
        return
    for task in area.tasks:
        title = titled(task.id, task.name)
        if not task.applies:
            yield CountRow(task.id, title, ("N/A",) * len(Side), applies=False)
        else:
            cells = _cells(columns_of(task, measure), measure)
            yield CountRow(task.id, title, cells, remark=_remark(task, measure))
    if counted:
        yield CountRow("", IN_ALL, _cells(counted.count.columns, measure), whole=True)


def _remark(task: Task, measure: Measure) -> str:
    derived = measure is Measure.MARKS and marks_of(task).derived
    return "marks derived" if derived else ""
