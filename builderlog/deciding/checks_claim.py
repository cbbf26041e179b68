"""Checks of the claim against the record: what contradicts is a doubt, what is thin is a gap.

A plan is no contradiction: of an open task only that is told which the record already denies.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.assistance import WorkAway, building_notes, works_away
from builderlog.deciding.checks_shown import SHOWN_CHECKS
from builderlog.deciding.held import Held, hold, place_text
from builderlog.deciding.task_columns import kind_of, marks_of
from builderlog.deciding.task_record import PROOF_WORDS, TaskRecord
from builderlog.deciding.what_if import tenths_text
from builderlog.deciding.words import any_of, counted, listed
from builderlog.knowing.entries import Work
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import WHOLE_POINT, Credit, Task
from builderlog.reading.problem import Place, Problem, doubt, gap


def _claimed(task: Task) -> str:
    """What the builder claims of a task, in words."""
    if task.credit is not None and task.credit.builder:
        return f"{tenths_text(task.credit.builder)} of it claimed for the builder"
    return "marked for the builder"


def credit_without_work(held: Held) -> Iterator[Problem]:
    """A done task of which the builder claims a part, without any time of the amateurs."""
    for task, record in held.done:
        stake = held.stake_of([task.id])
        if stake and not record.amateur_seconds:
            told = f"{task.id}: done and {_claimed(task)}, but no time of the amateurs is on record"
            told += "; say in a note who did it and when, or claim less"
            yield gap(task.place, "credit-without-work", told, stake)


def fabrication_not_on_record(held: Held) -> Iterator[Problem]:
    """Credit for fabrication on a task on which the amateurs only did other work.

    Of an open task only where its estimate leaves nothing to do, or none says that it does.
    """
    for task, record in held.tasks:
        if not task.done and _has_more_to_do(task, record):
            continue
        kinds = sums.by_kind(record.amateur_work)
        fabrication = task.credit.fabrication if task.credit else 0
        if not fabrication or held.counts_hours or kinds.pop(Work.FABRICATION.value):
            continue
        did = listed(
            [f"{length_text(seconds)} of {kind}" for kind, seconds in kinds.items() if seconds]
        )
        if did:
            state = "done and " if task.done else ""
            told = f"{task.id}: {state}{tenths_text(fabrication)} claimed for fabrication, but the "
            told += f"record has {did} only ({_where(record)}); write work: fabrication on the "
            told += f"entry that was it{'' if task.done else ', or an estimate if it is to come'}"
            yield gap(task.place, "fabrication-not-on-record", told, fabrication)


def _has_more_to_do(task: Task, record: TaskRecord) -> bool:
    return task.estimate is not None and record.amateur_seconds < task.estimate.seconds


def _where(record: TaskRecord) -> str:
    """The first entry of the amateurs' work, and how many notes have more."""
    more = len({row.note for row in record.amateur_work}) - 1
    return place_text(record.amateur_work[0].place) + (
        f" and {counted(more, 'more note')}" if more else ""
    )


def paid_not_claimed(held: Held) -> Iterator[Problem]:
    """Paid help on a task whose credit has nothing under paid, told at the first such entry."""
    away = _away_by_task(held, "paid")
    for task, credit, record in _with_credit(held):
        paid, pieces = record.paid_work, away.get(task.id, [])
        places = [(row.day, row.place) for row in paid] + [(w.day, w.place) for w in pieces]
        if places and not credit.paid:
            names = listed(sorted({row.person for row in paid}))
            facts = [f"{length_text(sums.seconds_of(paid))} of {names}"] if paid else []
            facts += [_piece(each) for each in pieces]
            told = f"{task.id}: paid help on record ({listed(facts)}), but its credit in "
            told += (
                f"{place_text(task.place)} has nothing under paid; write paid: 0.1 or more there"
            )
            yield doubt(_first(places), "paid-not-claimed", told, held.stake_of([task.id]))


def maker_not_claimed(held: Held) -> Iterator[Problem]:
    """Work done at the maker on a task whose credit has nothing under maker."""
    away = _away_by_task(held, "maker")
    for task, credit, _ in _with_credit(held):
        pieces = away.get(task.id, [])
        if pieces and not credit.maker:
            told = f"{task.id}: work of its maker on record "
            told += f"({listed([_piece(each) for each in pieces])}), but its credit in "
            told += f"{place_text(task.place)} has nothing under maker; "
            told += "write maker: 0.1 or more there"
            place = _first([(each.day, each.place) for each in pieces])
            yield doubt(place, "maker-not-claimed", told, held.stake_of([task.id]))


def _with_credit(held: Held) -> Iterator[tuple[Task, Credit, TaskRecord]]:
    """The tasks whose credit claims something, where credit is what counts."""
    for task, record in held.tasks if not held.counts_hours else ():
        if task.credit is not None and task.credit.unclaimed < WHOLE_POINT:
            yield task, task.credit, record


def _away_by_task(held: Held, capacity: str) -> dict[str, list[WorkAway]]:
    """Of all notes: what a note keeps from the inspector is no less a contradiction."""
    found: dict[str, list[WorkAway]] = {}
    for each in works_away(building_notes(held.ledger)):
        if each.task is not None and each.capacity == capacity:
            found.setdefault(each.task, []).append(each)
    return found


def _piece(away: WorkAway) -> str:
    return f"'{away.what}' away at {away.firm}" if away.firm else f"'{away.what}' away"


def _first(places: Iterable[tuple[date, Place]]) -> Place:
    return min(places)[1]


def away_without_as(held: Held) -> Iterator[Problem]:
    """Work away for a task of which it is not said who did it."""
    for each in works_away(building_notes(held.ledger)):
        if each.task is not None and each.capacity is None:
            told = f"{_piece(each)} for {each.task}, and it is not said who did the work; "
            told += "write as: paid, as: maker or as: unpaid"
            yield gap(each.place, "away-without-as", told, held.stake_of([each.task]))


def work_not_claimed(held: Held) -> Iterator[Problem]:
    """Amateurs' work on a task of which a part is claimed for nobody, done or not.

    Where no task of the list has any credit yet, that is told once.
    """
    found = [(task, record) for task, record in held.tasks if _leaves_unclaimed(task, record, held)]
    if found and not any(_is_given(task, held) for task, _ in held.tasks):
        seconds = sum(record.amateur_seconds for _, record in found)
        told = f"{counted(len(found), 'task')} with {length_text(seconds)} of the amateurs' work on"
        told += f" record, and no task of the list has its credit yet; {_WRITE_CREDIT}"
        stake = sum(_unclaimed(task) for task, _ in found)
        yield gap(found[0][0].place, "work-not-claimed", told, stake)
        return
    for task, record in found:
        yield gap(task.place, "work-not-claimed", _unclaimed_words(task, record), _unclaimed(task))


_WRITE_CREDIT = "write credit: {maker: …, paid: …, assembly: …, fabrication: …} in tenths"


def _leaves_unclaimed(task: Task, record: TaskRecord, held: Held) -> bool:
    """On a form of marks the builder's mark takes the whole row, whatever tenths are left."""
    if held.counts_hours or not record.amateur_seconds:
        return False
    if task.credit is None:
        return held.ledger.rulebook is not None and not _is_given(task, held)
    marked = held.counts_marks and marks_of(task).builder > 0
    return task.credit.unclaimed > 0 and not marked


def _is_given(task: Task, held: Held) -> bool:
    """Whether the task gives what its rulebook counts."""
    return task.credit is not None or (held.counts_marks and task.marks is not None)


def _unclaimed(task: Task) -> int:
    return task.credit.unclaimed if task.credit else WHOLE_POINT


def _unclaimed_words(task: Task, record: TaskRecord) -> str:
    told = f"{length_text(record.amateur_seconds)} of the amateurs' work on record"
    if task.credit is None:
        return f"{task.id}: {told} and no credit yet; {_WRITE_CREDIT}"
    left = tenths_text(_unclaimed(task))
    state = "done with " if task.done else ""
    return f"{task.id}: {state}{told}, but {left} of it is claimed for nobody; write whose it is"


def done_without_proof(held: Held) -> Iterator[Problem]:
    """A done task of the builder's without any of the proofs that its rulebook names."""
    quality = held.ledger.rulebook.quality if held.ledger.rulebook else {}
    for task, record in held.done:
        asked = quality.get(kind_of(task), ())
        stake = held.stake_of([task.id])
        if asked and stake and record.amateur_seconds and not record.proofs.keys() & set(asked):
            nouns = any_of([PROOF_WORDS[proof] for proof in asked])
            told = f"{task.id}: done, and the record has no {nouns} for it; "
            told += f"write {any_of([proof.value for proof in asked])} where there was one"
            yield gap(task.place, "done-without-proof", told, stake)


def after_certificate(held: Held) -> Iterator[Problem]:
    """Time on tasks after the day of the certificate, told once."""
    end = held.ledger.settings.certificated
    late = [row for row in held.ledger.work if end and row.day > end.day and row.task]
    if end and late:
        told = f"{length_text(sums.seconds_of(late))} on tasks after {end.day} "
        told += f"(certificated in {place_text(end.place)}) are no build time and count nowhere in "
        told += "the claim; mend the day if that is not so"
        place = _first((row.day, row.place) for row in late)
        yield doubt(place, "after-certificate", told)


RECORD_CHECKS: tuple[Callable[[Held], Iterable[Problem]], ...] = (
    credit_without_work,
    fabrication_not_on_record,
    paid_not_claimed,
    maker_not_claimed,
    away_without_as,
    work_not_claimed,
    done_without_proof,
    after_certificate,
    *SHOWN_CHECKS,
)


def claim_problems(ledger: Ledger) -> Iterator[Problem]:
    """All that the claim and the record have against each other; the record is gathered once."""
    held = hold(ledger)
    for check in RECORD_CHECKS:
        yield from check(held)


CLAIM_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (claim_problems,)
