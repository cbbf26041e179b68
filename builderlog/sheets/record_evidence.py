"""Sheets of the record held against the claim: each task, each question answered, all help."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.assistance import NO_TASK, Help, SentBack, WorkAway
from builderlog.deciding.claim_words import units_text
from builderlog.deciding.findings import Findings
from builderlog.deciding.portion import build_work
from builderlog.deciding.questions import Answered, answers
from builderlog.deciding.sums import days_with_time
from builderlog.deciding.task_columns import columns_of, marks_of
from builderlog.deciding.task_record import TaskRecord
from builderlog.knowing.entries import Note, Work
from builderlog.knowing.ledger import Worked
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Role
from builderlog.sheets.record_time import time_columns
from builderlog.sheets.table import Column, Sheet, Value, number, sheet, text


def claim_tasks(found: Findings) -> Sheet:
    """What is claimed of each task beside what the record has of it."""
    columns: tuple[Column[TaskRecord], ...] = (
        text("task", "task id", lambda row: row.id),
        text("area", "its area", lambda row: row.area),
        text("name", "its name", lambda row: row.name),
        *_claimed(found.ledger.rulebook),
        *(_seconds(kind) for kind in Work),
        *(_role_seconds(role) for role in Role),
        text("people", "who worked, with role", _people),
        text("first", "first day with time on it", lambda row: min(row.days, default=None)),
        text("last", "last day with time on it", lambda row: max(row.days, default=None)),
        number("notes", "notes that name it", lambda row: len(row.notes)),
        number("pictures", "pictures that show it", lambda row: len(row.shots)),
        number("builder_seen", "of these, with a builder in them", _builder_seen),
        number("measured", "measurements in its notes", lambda row: len(row.measured)),
        number("torqued", "torque entries in its notes", lambda row: len(row.torqued)),
        number("process", "process entries in its notes", lambda row: len(row.process)),
        number("visits", "visits that looked at it", lambda row: len(row.visits)),
        number("away", "pieces of work away for it", lambda row: len(row.away)),
        text("receipts", "receipts of its parts and of its work away", lambda row: row.receipts),
    )
    title = "Each task that applies: what is claimed of it, and what the record has of it."
    return sheet("claim_tasks", title, columns, found.records)


def _claimed(rulebook: Rulebook | None) -> Iterator[Column[TaskRecord]]:
    """The columns of the count; hours are counted from the record and stand there."""
    measure = rulebook.measure if rulebook else Measure.POINTS
    if measure is Measure.HOURS:
        measure = Measure.POINTS
    for side in Side:
        yield _side(side, measure)
    if measure is Measure.MARKS:
        derived = "the marks follow from the credit; nobody gave them"
        yield text("derived", derived, lambda row: marks_of(row.task).derived if row.task else None)


def _side(side: Side, measure: Measure) -> Column[TaskRecord]:
    def cell(row: TaskRecord) -> str | None:
        if row.task is None:
            return None
        return units_text(columns_of(row.task, measure).of((side,)), measure)

    return number(side.value, f"{measure.value}, as the work list has it", cell)


def _seconds(kind: Work) -> Column[TaskRecord]:
    def cell(row: TaskRecord) -> int:
        return sum(work.seconds for work in row.amateur_work if work.work is kind)

    return number(f"{kind.value}_seconds", f"the amateurs' {kind.value}, whole seconds", cell)


def _role_seconds(role: Role) -> Column[TaskRecord]:
    meaning = f"{role.value}, all kinds of work, whole seconds"
    return number(f"{role.value}_seconds", meaning, lambda row: row.by_role[role.value])


def _people(row: TaskRecord) -> tuple[str, ...]:
    return tuple(f"{each.name} ({each.role.value})" for each in row.people)


def _builder_seen(row: TaskRecord) -> int:
    return sum(shot.builder_seen for shot in row.shots)


@dataclass(frozen=True, slots=True)
class _Answer:
    task: str
    answered: Answered


def task_answers(found: Findings) -> Sheet:
    """The rulebook's questions, answered one by one for each task that was begun or is done."""
    columns: tuple[Column[_Answer], ...] = (
        text("task", "task id", lambda row: row.task),
        text("asks", "which question", lambda row: row.answered.ask.value),
        text("question", "in words", lambda row: row.answered.words),
        text("answer", "what the record says", lambda row: row.answered.sentence),
        text("answered", "no: the record does not say", lambda row: row.answered.answered),
        text("notes", "the notes that say so", lambda row: row.answered.notes),
    )
    title = "What the authority asks of each task, answered from the record, with the notes."
    return sheet("claim_answers", title, columns, _answers(found))


def _answers(found: Findings) -> Iterator[_Answer]:
    rulebook = found.ledger.rulebook
    for record in found.records if rulebook else ():
        if rulebook and is_begun(record):
            yield from (_Answer(record.id, each) for each in answers(record, rulebook))


def is_begun(record: TaskRecord) -> bool:
    """Whether it is done, or the record has a note, visit, snag, work away or receipt for it."""
    told = (record.notes, record.visits, record.snags, record.away, record.receipts)
    return record.done or any(told)


@dataclass(frozen=True, slots=True)
class Helped:
    """One piece of help: a person's hours on a task, work away, or a part sent back."""

    kind: str
    who: str | None
    what: str | None
    task: str | None
    seconds: int | None
    days: tuple[date, ...]
    receipts: tuple[str, ...]
    notes: tuple[str, ...]


def helped(found: Findings) -> Sheet:
    """All help, unpaid and paid, and all work that was away."""
    columns: tuple[Column[Helped], ...] = (
        text(
            "kind", "unpaid or paid help, work away as …, sent back to its maker", lambda r: r.kind
        ),
        text("who", "person or firm", lambda row: row.who),
        text("what", "the work or the part", lambda row: row.what),
        text("task", "for which task; empty: for none", lambda row: row.task),
        *_optional_time(),
        text("days", "days of the help; of work away: sent, back", lambda row: row.days),
        text("receipts", "receipts that belong to it", lambda row: row.receipts),
        text("notes", "the notes that say so", lambda row: row.notes),
    )
    title = "All help: unpaid and paid hours by task, work that was away, parts sent back."
    return sheet("help", title, columns, all_help(found))


def _optional_time() -> tuple[Column[Helped], ...]:
    """Time columns that stay empty for work away."""
    columns: tuple[Column[Helped], ...] = time_columns(lambda row: row.seconds or 0)
    return tuple(Column(column.heading, _where_timed(column.cell)) for column in columns)


def _where_timed(cell: Callable[[Helped], Value]) -> Callable[[Helped], Value]:
    return lambda row: None if row.seconds is None else cell(row)


def all_help(found: Findings) -> Iterator[Helped]:
    """People by alphabet, unpaid ones first, task by task; then work away, oldest first."""
    notes = {note.path: note for note in found.ledger.notes}
    rows: dict[tuple[str, str], list[Worked]] = {}
    for row in build_work(found.ledger):
        if row.seconds:
            rows.setdefault((row.person, row.task or NO_TASK), []).append(row)
    for given in (*found.help.unpaid, *found.help.paid):
        for task in given.by_task:
            held = rows[given.person, task]
            yield _hours(given, task, held, _receipts(given, held, notes))
    yield from (_away(each) for each in found.help.away)
    yield from (_sent_back(each) for each in found.help.sent_back)


def _receipts(given: Help, rows: list[Worked], notes: Mapping[str, Note]) -> tuple[str, ...]:
    """Of the person's receipts those that stand in these rows' notes for their task or for none."""
    told = {
        line.receipt.text
        for row in rows
        for line in notes[row.note].parts
        if line.receipt and (line.task is None or line.task.text == row.task)
    }
    return tuple(path for path in given.receipts if path in told)


def _hours(given: Help, task: str, rows: list[Worked], receipts: tuple[str, ...]) -> Helped:
    return Helped(
        kind="paid" if given.role is Role.PAID else "unpaid",
        who=given.person,
        what=None,
        task=None if task == NO_TASK else task,
        seconds=given.by_task[task],
        days=tuple(days_with_time(rows)),
        receipts=receipts,
        notes=tuple(path for _, path in sorted({(row.day, row.note) for row in rows})),
    )


def _away(each: WorkAway) -> Helped:
    return Helped(
        kind=f"away, {each.capacity or 'not said as what'}",
        who=each.firm,
        what=each.what,
        task=each.task,
        seconds=None,
        days=tuple(day for day in (each.sent, each.back) if day),
        receipts=each.receipts,
        notes=each.notes,
    )


def _sent_back(each: SentBack) -> Helped:
    return Helped(
        kind="sent back",
        who=each.maker,
        what=f"{each.part} {each.ref}" if each.ref else each.part,
        task=each.task,
        seconds=None,
        days=tuple(day for day in (each.day, each.back) if day),
        receipts=each.receipts,
        notes=(each.note,),
    )
