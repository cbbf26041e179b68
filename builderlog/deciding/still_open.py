"""What is still open in a journal: steps, snags, parts, work away, decisions, torque, evidence.

For the builder alone: it is made from every note, private ones too. Nothing of it is published.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.assistance import works_away
from builderlog.deciding.before_closing import ClosingDesk
from builderlog.deciding.next_steps import last_written
from builderlog.deciding.order_of_day import in_order_of_day
from builderlog.deciding.still_open_evidence import Evidence, missing_evidence
from builderlog.deciding.sums import NO_AREA, area_of
from builderlog.deciding.torque_register import Group, register
from builderlog.knowing.entries import Decided, Note, PartStatus
from builderlog.knowing.ledger import Ledger, Part, Snag
from builderlog.knowing.settings import Worklist
from builderlog.knowing.units import UnreadableError, parse_date
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

LATE = "late"
# The states of a part that is awaited, in the order in which they are told.
AWAITED = (LATE, "ordered", "back-ordered", "short", "damaged", "wanted")
_ON_ITS_WAY = (PartStatus.WANTED, PartStatus.ORDERED, PartStatus.BACK_ORDERED, PartStatus.SHORT)


@dataclass(frozen=True, slots=True)
class NextSteps:
    """What the newest note of some areas says to do next."""

    areas: tuple[str, ...]  # ids; empty where the note works on no area of the list
    steps: tuple[Word, ...]
    note: Note
    since: int  # later notes that work on one of these areas and say nothing of what is next


@dataclass(frozen=True, slots=True)
class OpenSnag:
    """A snag that no note puts right; `area` is its own or its task's, "" where none is said."""

    snag: Snag
    area: str
    days: int  # since it was found


@dataclass(frozen=True, slots=True)
class Awaited:
    """A part that is not here yet, or not as it should be."""

    part: Part
    state: str  # one of AWAITED
    status: PartStatus  # as written
    since: date  # the day from which on notes give it that status
    due: date | None
    place: Place  # of its newest entry


@dataclass(frozen=True, slots=True)
class Away:
    """Work, or a part gone back to its maker, that has not come back."""

    what: str
    firm: str | None
    task: str | None
    sent: date | None
    due: date | None
    day: date  # of the note that first tells it
    place: Place


@dataclass(frozen=True, slots=True)
class Again:
    """A decision to be looked at again; `on` is None where the words name no day."""

    note: Note
    line: Decided
    on: date | None


@dataclass(frozen=True, slots=True)
class StillOpen:
    """Everything that is open, list by list, each in the order in which it is told."""

    today: date
    next_steps: tuple[NextSteps, ...] = ()  # the newest first
    snags: tuple[OpenSnag, ...] = ()  # by area in the work list's order, the oldest first
    parts: tuple[Awaited, ...] = ()  # by state, the longest overdue first
    away: tuple[Away, ...] = ()  # by the day on which it is due, what has none last
    decisions: tuple[Again, ...] = ()  # by the day, what has none last
    torque: tuple[Group, ...] = ()  # tail to nose
    evidence: tuple[Evidence, ...] = ()  # what is hidden soonest first


def still_open(ledger: Ledger, today: date) -> StillOpen:
    """All of it, on a day."""
    return StillOpen(
        today=today,
        next_steps=tuple(_next_steps(ledger)),
        snags=tuple(_snags(ledger, today)),
        parts=tuple(sorted(_parts(ledger, today), key=_part_order)),
        away=tuple(sorted(_away(ledger), key=_away_order)),
        decisions=tuple(sorted(_decisions(ledger.notes), key=_decision_order)),
        torque=tuple(group for group in register(ledger) if group.is_open),
        evidence=missing_evidence(ledger, ClosingDesk(ledger)),
    )


def _next_steps(ledger: Ledger) -> Iterator[NextSteps]:
    def areas(note: Note) -> Iterator[str]:
        return (area_of(line.task.text, ledger.worklist) for line in note.tasks)

    notes = in_order_of_day(ledger.notes, ledger.settings.day_ends)
    places = {note.path: place for place, note in enumerate(notes, start=1)}
    for note, fresh in last_written(notes, areas):
        since = notes[places[note.path] :]
        later = sum(bool(set(areas(each)) & set(fresh)) for each in since)
        steps = tuple(step for step in note.next_steps if step.text.strip())
        if steps:
            yield NextSteps(fresh, steps, note, later)


def area_of_snag(snag: Snag, worklist: Worklist) -> str:
    """Its own area, else that of its task; "" where none is said."""
    if snag.line.area:
        return snag.line.area.text
    return area_of(snag.line.task.text if snag.line.task else None, worklist)


def _snags(ledger: Ledger, today: date) -> Iterator[OpenSnag]:
    ranks = {area.id: rank for rank, area in enumerate(ledger.worklist.areas)}
    found = [
        OpenSnag(snag, area_of_snag(snag, ledger.worklist), (today - snag.day).days)
        for snag in ledger.snags
        if snag.fixed is None
    ]
    last = len(ranks)
    yield from sorted(
        found,
        key=lambda each: (
            ranks.get(each.area, last + (each.area == NO_AREA)),
            each.area,
            each.snag.day,
        ),
    )


def _parts(ledger: Ledger, today: date) -> Iterator[Awaited]:
    for part in ledger.parts:
        status = part.status
        if status not in (*_ON_ITS_WAY, PartStatus.DAMAGED):
            continue
        due = _due(part)
        late = status in _ON_ITS_WAY and due is not None and due < today
        yield Awaited(
            part=part,
            state=LATE if late else status.value,
            status=status,
            since=_since(part),
            due=due,
            place=part.events[-1].line.place,
        )


def _due(part: Part) -> date | None:
    """The newest that was said."""
    said = [event.line.due.day for event in part.events if event.line.due]
    return said[-1] if said else None


def _since(part: Part) -> date:
    """The day of the first entry of the run that gives it the status it has."""
    told = [event for event in part.events if event.line.status]
    since = told[-1].day
    for event in reversed(told):
        if event.line.status is not part.status:
            break
        since = event.day
    return since


def _part_order(each: Awaited) -> tuple[int, date, date]:
    return AWAITED.index(each.state), each.due or date.max, each.since


def _away(ledger: Ledger) -> Iterator[Away]:
    """Work that left the shop, and parts that went back to their maker."""
    for piece in works_away(ledger.notes):
        if piece.back is None:
            yield Away(
                what=piece.what,
                firm=piece.firm,
                task=piece.task,
                sent=piece.sent,
                due=piece.due,
                day=piece.day,
                place=piece.place,
            )
    for part in ledger.parts:
        if part.status is PartStatus.SENT_BACK:
            yield _sent_back(part)


def _sent_back(part: Part) -> Away:
    since = _since(part)
    lines = [event.line for event in part.events]
    firms = [line.source.text for line in lines if line.source]
    tasks = [line.task.text for line in lines if line.task]
    due = [each.line.due.day for each in part.events if each.line.due and each.day >= since]
    return Away(
        what=part.name,
        firm=firms[-1] if firms else None,
        task=tasks[-1] if tasks else None,
        sent=since,
        due=due[-1] if due else None,
        day=since,
        place=lines[-1].place,
    )


def _away_order(each: Away) -> tuple[date, date]:
    return each.due or date.max, each.sent or each.day


def _decisions(notes: Iterable[Note]) -> Iterator[Again]:
    """A decision taken again, in the same words, stands as it was taken last."""
    newest: dict[str, Again] = {}
    for note in notes:
        for line in note.decided:
            key = " ".join(line.what.text.casefold().split())
            newest[key] = Again(note, line, _day_of(line.again.text) if line.again else None)
    return (each for each in newest.values() if each.line.again)


def _day_of(words: str) -> date | None:
    """The day that the words name, of a month its first; None where they name none."""
    month = re.fullmatch(r"\d{4}-\d{2}", words.strip())
    try:
        return parse_date(f"{words.strip()}-01" if month else words)
    except UnreadableError:
        return None


def _decision_order(each: Again) -> tuple[date, date]:
    return each.on or date.max, each.note.day or date.min
