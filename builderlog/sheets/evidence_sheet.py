"""The evidence sheet of one task: who, when and who saw it first; then how, how well, all notes.

It answers the authority's questions in the authority's words, from the record alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from builderlog.deciding import sums
from builderlog.deciding.questions import CAPACITIES, Answered, answers
from builderlog.deciding.states import sentence
from builderlog.deciding.task_record import Shot, TaskRecord
from builderlog.deciding.words import clipped, day_plain, duration
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.rulebook import Ask, Rulebook
from builderlog.reading.prose import opening_words
from builderlog.sheets.chapter import (
    Block,
    Cell,
    Column,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
    ShownPicture,
    anchor,
)
from builderlog.sheets.evidence_count import claimed_words
from builderlog.sheets.evidence_entries import entry_blocks
from builderlog.sheets.evidence_gaps import Told
from builderlog.sheets.evidence_people import NOBODY_LOOKED, People
from builderlog.sheets.material import Material
from builderlog.sheets.places import titled
from builderlog.sheets.shelf import FileLink

MOST_CITED = 4  # beyond it, the notes by date that end the sheet say as much
LONGEST_OPENING = 180
NOTES = (
    Column("Date"),
    Column("Note, and how it begins", share=7),
    Column("Time on this task", share=3),
)
LOOKED = "Who looked at it"
TIME_TAKEN = "How long it took"
CLOSED = "Closed from view"
CLAIMED = "Claimed"


@dataclass(frozen=True, slots=True)
class Desk:
    """What every sheet needs: the material, the people, and what is missing."""

    material: Material
    people: People
    told: Told


def evidence_sheet(record: TaskRecord, desk: Desk) -> Section:
    """The whole sheet of a task that was begun."""
    missing = desk.told.by_task.get(record.id, ())
    blocks: tuple[Block, ...] = (
        Facts(tuple(_facts(record, desk))),
        *(each.paragraph for each in missing),
        *entry_blocks(record, desk.people, desk.material.shelf),
        *_pictures(record, desk),
        *_notes(record, desk),
    )
    return Section(anchor(record.id), titled(record.id, record.name), blocks, standing(record))


def standing(record: TaskRecord) -> str:
    """The kind of its work, and whether it is done: "assembly, done"."""
    kind = [record.task.work.value] if record.task and record.task.work else []
    state = ["done" if record.done else "open"] if record.task else []
    return ", ".join((*kind, *state))


def _facts(record: TaskRecord, desk: Desk) -> Iterator[tuple[str, Cell]]:
    """Who, when and who saw it stand first, whatever else the rulebook asks.

    An answer from the same notes as the first does not name them again.
    """
    rulebook = desk.material.ledger.rulebook
    told = {each.ask: each for each in (*answers(record, None), *answers(record, rulebook))}
    first = frozenset(told[Ask.WHO].notes)

    def answer(ask: Ask) -> tuple[str, Cell]:
        notes = () if first == frozenset(told[ask].notes) else told[ask].notes
        return told[ask].words, _answer(told[ask], notes, desk)

    yield told[Ask.WHO].words, _who(record, told[Ask.WHO], desk)
    yield answer(Ask.WHEN)
    yield LOOKED, _looked(record, desk)
    yield answer(Ask.WHERE)
    yield TIME_TAKEN, Cell(time_words(record))
    yield from map(answer, (Ask.METHOD, Ask.QUALITY, Ask.HELP))
    yield from _standing_facts(record, rulebook)


def _standing_facts(record: TaskRecord, rulebook: Rulebook | None) -> Iterator[tuple[str, Cell]]:
    """Since when it cannot be seen, and what is claimed of it, where either is on record."""
    closed = closed_words(record)
    claimed = claimed_words(record.task, rulebook) if record.task and rulebook else ""
    if closed:
        yield CLOSED, Cell(closed)
    if claimed:
        yield CLAIMED, Cell(sentence(claimed))


def _answer(each: Answered, notes: Iterable[str], desk: Desk) -> Cell:
    return Cell(sentence(each.sentence), _cited(notes, desk), weak=not each.answered)


def _who(record: TaskRecord, each: Answered, desk: Desk) -> Cell:
    """The same answer with full names and roles; where nobody is on record, as it is."""
    away = [
        f"{piece.what} away at {piece.firm or 'a firm not named'}, {CAPACITIES[piece.capacity]}"
        for piece in record.away
    ]
    told = "; ".join(words for words in (desk.people.worked(record.people), *away) if words)
    words = sentence(told or each.sentence)
    return Cell(words, _cited(each.notes, desk), weak=not each.answered)


def _cited(paths: Iterable[str], desk: Desk) -> tuple[FileLink, ...]:
    """A few notes by their days; many are those at the end of the sheet."""
    held = tuple(paths)
    return desk.material.shelf.notes(held) if len(held) <= MOST_CITED else ()


def _looked(record: TaskRecord, desk: Desk) -> Cell:
    looks = desk.people.looks(record)
    if not looks:
        return Cell(NOBODY_LOOKED, weak=True)
    words = "; ".join(look.words for look in looks)
    return Cell(
        sentence(words), _cited(dict.fromkeys(path for look in looks for path in look.notes), desk)
    )


def time_words(record: TaskRecord) -> str:
    """The amateurs' time by kind of work beside the estimate; paid time apart."""
    amateurs = record.amateur_seconds
    kinds = sums.by_kind(record.amateur_work)
    parts = [f"{duration(seconds)} {kind}" for kind, seconds in kinds.items() if seconds]
    told = [f"{duration(amateurs)} of the amateurs' work"]
    told[0] += f" ({', '.join(parts)})" if parts else ""
    paid = sums.seconds_of(record.paid_work)
    told += [f"{duration(paid)} of paid work"] if paid else []
    estimate = record.task.estimate if record.task else None
    told += [f"estimate {duration(estimate.seconds)}"] if estimate else []
    late = sums.seconds_of(record.late)
    told += [f"{duration(late)} after the certificate, no build time"] if late else []
    return sentence("; ".join(told))


def closed_words(record: TaskRecord) -> str:
    """When the task, or its area, was closed or opened again: "closed 2026-01-31"."""
    told = dict.fromkeys(
        f"{'closed' if each.closed else 'opened again'} {each.note.day}" for each in record.closings
    )
    return sentence(", ".join(told))


def _pictures(record: TaskRecord, desk: Desk) -> Iterator[Block]:
    choice = desk.material.choice
    best = choice.best.get(record.id, ())
    if best:
        yield Pictures(tuple(shown(shot, record, desk) for shot in best))
    chosen = {shot.path for shot in best}
    others = [choice.numbers[s.path] for s in record.pictures if s.path not in chosen]
    if others:
        numbers = ", ".join(map(str, sorted(others)))
        yield Paragraph(f"More pictures of it, by their numbers in the photo index: {numbers}.")


def shown(shot: Shot, record: TaskRecord, desk: Desk) -> ShownPicture:
    """A picture with its day, caption and people; in words where it cannot be seen."""
    page = "A page of a notebook" if shot.page else ""
    seen = f"Seen: {desk.people.names(shot.seen)}" if shot.seen else ""
    told = (day_plain(shot.taken), page, shot.caption or "", seen)
    return ShownPicture(
        number=desk.material.choice.numbers[shot.path],
        path=shot.path,
        digest=shot.digest,
        alt=shot.caption or f"{record.name or record.id}, {day_plain(shot.taken)}",
        told=" ".join(sentence(words) for words in told if words),
    )


def _notes(record: TaskRecord, desk: Desk) -> Iterator[Block]:
    if not record.notes:
        yield Paragraph("No note names this task.", kind="gap")
        return
    given: dict[str, dict[str, int]] = {}
    for row in record.work:
        people = given.setdefault(row.note, {})
        people[row.person] = people.get(row.person, 0) + row.seconds
    notes = sorted(record.notes, key=lambda note: note.order)
    rows = tuple(_note(note, given.get(note.path, {}), desk) for note in notes)
    yield Rows(f"The notes on {record.id} by date", NOTES, rows)


def _note(note: Note, given: Mapping[str, int], desk: Desk) -> tuple[Cell, ...]:
    time = [f"{name} {duration(seconds)}" for name, seconds in given.items() if seconds]
    return (
        Cell(links=desk.material.shelf.notes([note.path])),
        Cell(note_words(note)),
        Cell("; ".join(time)),
    )


def note_words(note: Note) -> str:
    """Its title, when it was written if not that evening, and its first words."""
    if note.privacy is Privacy.HOURS_ONLY:
        return "Only the time of this note goes along."
    written = f"(written {note.written.day})" if note.written else ""
    opening = clipped(opening_words(note.prose.text), LONGEST_OPENING)
    title = sentence(str(note.title)) if note.title else ""
    return " ".join(words for words in (title, written, opening) if words)
