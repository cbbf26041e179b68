"""The one way from the ledger to the site: makes the public ledger, and drops all the rest.

Totals keep every hour, private notes too; words, pictures, parts, decisions and next steps
come from public notes alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from builderlog.deciding.costs import shown
from builderlog.deciding.months import MonthRollup, months
from builderlog.deciding.next_steps import last_written
from builderlog.deciding.public import (
    PublicArea,
    PublicHours,
    PublicLedger,
    PublicMonth,
    PublicNext,
    PublicNote,
    PublicTask,
)
from builderlog.deciding.publishing_claim import public_claim
from builderlog.deciding.publishing_days import (
    with_told_date,
    with_told_days,
    with_told_work,
)
from builderlog.deciding.publishing_letters import public_letters
from builderlog.deciding.publishing_money import public_money
from builderlog.deciding.publishing_notes import public_notes
from builderlog.deciding.publishing_pace import public_pace
from builderlog.deciding.publishing_things import public_parts, public_snags
from builderlog.deciding.sums import area_of, in_task_order
from builderlog.deciding.totals import Tally, tally
from builderlog.deciding.visibility import Visibility, may_be_seen, what_friends_see
from builderlog.deciding.words import month_of
from builderlog.knowing.ledger import Ledger


def public_ledger(
    ledger: Ledger, left_out: frozenset[str] = frozenset(), withheld: frozenset[str] = frozenset()
) -> PublicLedger:
    """What friends may see of the journal.

    `left_out`: paths of notes with mistakes; `withheld`: of pictures to keep back with them.
    """
    sight = what_friends_see(ledger, left_out, withheld)
    whole, ledger = ledger, with_told_date(ledger, sight)
    totals = tally(ledger)
    snags = public_snags(ledger, sight)
    notes = public_notes(ledger, sight, snags)
    tasks = _tasks(ledger, notes, totals)
    settings, aircraft, show = ledger.settings, ledger.settings.aircraft, sight.show
    return PublicLedger(
        title=settings.title,
        design=aircraft.design,
        kit=aircraft.kit if "suppliers" in show else None,
        builder=sight.label(settings.builder or ""),
        seconds=totals.seconds,
        by_role=_by_role(totals, sight),
        evenings=len(ledger.notes),
        not_shown=len(ledger.notes) - len(notes),
        days=totals.days,
        record_date=ledger.record_date,
        started=settings.started.day if settings.started else None,
        notes=notes,
        months=_months(ledger, notes, sight),
        areas=_areas(ledger, totals),
        tasks=tasks,
        parts=public_parts(ledger, sight),
        next_steps=_next_steps(ledger, notes),
        snags=snags,
        shows_snags="snags" in show,
        untasked_seconds=totals.seconds - sum(task.seconds for task in tasks),
        findable=settings.site.findable,
        address=settings.site.address,
        tag=settings.site.tag,
        registration=aircraft.registration if "registration" in show else None,
        serial=aircraft.serial if "serial" in show else None,
        place=settings.place if "place" in show else None,
        spent=_spent(totals.spent, sight),
        full_name=_full_name(ledger) if "full names" in show else None,
        claim=public_claim(ledger, show),
        pace=public_pace(with_told_work(ledger, whole, sight), show),
        letters=public_letters(ledger, sight, left_out),
        money=public_money(ledger, sight),
    )


def _full_name(ledger: Ledger) -> str | None:
    person = ledger.settings.person(ledger.settings.builder or "")
    return person.full_name if person and may_be_seen(person, is_builder=True) else None


def _spent(spent: Mapping[str, Decimal], sight: Visibility) -> tuple[str, ...]:
    if "costs" not in sight.show:
        return ()
    return tuple(f"{amount} {currency}" for currency, amount in shown(spent).items())


def _by_role(totals: Tally, sight: Visibility) -> tuple[PublicHours, ...]:
    """By role; nothing where it would betray paid help that the journal does not show."""
    labels = {"builder": "builders", "helper": "helpers", "paid": "paid help"}
    if totals.by_role["paid"] and "paid help" not in sight.show:
        return ()
    return tuple(
        PublicHours(labels[role], seconds) for role, seconds in totals.by_role.items() if seconds
    )


def _tasks(ledger: Ledger, notes: tuple[PublicNote, ...], totals: Tally) -> tuple[PublicTask, ...]:
    """The work list's tasks, then free-text ones that public notes name."""
    named = {task.task for note in notes for task in note.tasks}
    named |= {task for note in notes for photo in note.photos for task in photo.shows}
    listed = ledger.worklist.by_id
    ids = in_task_order({*listed, *(() if ledger.worklist.written else named)}, ledger.worklist)
    return tuple(_task(ledger, task, totals) for task in ids)


def _task(ledger: Ledger, name: str, totals: Tally) -> PublicTask:
    task = ledger.worklist.by_id.get(name)
    time = totals.by_task.get(name)
    seconds = time.seconds if time else 0
    if task is None:
        return PublicTask(
            name, name, "", None, done=False, applies=True, seconds=seconds, estimate_seconds=None
        )
    return PublicTask(
        id=task.id,
        name=task.name,
        area=task.area,
        kind=task.work.value if task.work else None,
        done=task.done,
        applies=task.applies,
        seconds=seconds,
        estimate_seconds=task.estimate.seconds if task.estimate else None,
    )


def _areas(ledger: Ledger, totals: Tally) -> tuple[PublicArea, ...]:
    return tuple(
        PublicArea(
            id=area.id,
            name=area.name,
            tasks=tuple(task.id for task in area.tasks),
            seconds=totals.by_area.get(area.id, 0),
            done=sum(task.done and task.applies for task in area.tasks),
            applicable=sum(task.applies for task in area.tasks),
        )
        for area in ledger.worklist.areas
    )


def _months(
    ledger: Ledger, notes: tuple[PublicNote, ...], sight: Visibility
) -> tuple[PublicMonth, ...]:
    by_month: dict[str, list[PublicNote]] = {}
    for note in notes:
        by_month.setdefault(month_of(note.day), []).append(note)
    tasks = frozenset(ledger.worklist.by_id)
    if not ledger.worklist.written:
        tasks = frozenset(task.task for note in notes for task in note.tasks)
    seals, rolled = _seals(ledger), months(ledger)
    told = [
        replace(
            _month(month, by_month.get(month.month, []), tasks, sight),
            seals=seals.get(month.month, ()),
        )
        for month in rolled
    ]
    return tuple(with_told_days(told, rolled, (ledger, sight)))


def _seals(ledger: Ledger) -> dict[str, tuple[str, ...]]:
    """By month the digest of its first seal and that of its newest; one where they are the same."""
    found: dict[str, list[str]] = {}
    for seal in ledger.seals:
        found.setdefault(seal.month, []).append(seal.digest)
    return {
        month: tuple(dict.fromkeys((digests[0], digests[-1]))) for month, digests in found.items()
    }


def _month(
    month: MonthRollup, notes: list[PublicNote], tasks: frozenset[str], sight: Visibility
) -> PublicMonth:
    return PublicMonth(
        month=month.month,
        seconds=month.seconds,
        by_area=tuple(month.by_area.items()),
        days=month.days,
        longest_gap_days=month.longest_gap_days,
        evenings=month.notes,
        not_shown=month.notes - len(notes),
        photos=len({photo.digest for note in notes for photo in note.photos}),
        tasks_begun=tuple(task for task in month.tasks_begun if task in tasks),
        tasks_done=tuple(task for task in month.tasks_finished if task in tasks),
        running_seconds=month.running_seconds,
        notes=tuple(note.key for note in notes),
        spent=_spent(month.spent, sight),
    )


def _next_steps(ledger: Ledger, notes: tuple[PublicNote, ...]) -> tuple[PublicNext, ...]:
    """Next steps as last written per area: an area's newest public note that has any."""
    return tuple(_newest_next(ledger, notes))


def _newest_next(ledger: Ledger, notes: tuple[PublicNote, ...]) -> Iterator[PublicNext]:
    def areas(note: PublicNote) -> Iterator[str]:
        return (area_of(task.task, ledger.worklist) for task in note.tasks)

    for note, fresh in last_written(notes, areas):
        for step in note.next_steps:
            yield PublicNext(step, note.day, note.key, fresh)
