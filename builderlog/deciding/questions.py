"""The authority's questions on a task, answered in short sentences from the record alone.

AC 20-27G, paragraph 8.h: the evidence shows who performed the tasks, when and where, depicts the
methods of construction and the quality of workmanship, and documents the assistance.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.assistance import WorkAway
from builderlog.deciding.task_columns import kind_of
from builderlog.deciding.task_record import PROOF_PLURALS, PROOF_WORDS, PersonTime, TaskRecord
from builderlog.deciding.words import any_of, counted, duration, listed
from builderlog.knowing.entries import Note, PartStatus
from builderlog.knowing.rulebook import Ask, Proof, Question, Rulebook
from builderlog.knowing.settings import Role

BESIDE = {Role.BUILDER: "", Role.HELPER: " (unpaid)", Role.PAID: " (paid)"}
CAPACITIES: Mapping[str | None, str] = {
    "paid": "paid",
    "maker": "its maker",
    "unpaid": "unpaid",
    None: "who did it is not said",
}

# Asked where the journal names no rulebook: the six things of AC 20-27G, paragraph 8.h.
USUAL_QUESTIONS = (
    Question(Ask.WHO, "Who did the task"),
    Question(Ask.WHEN, "When it was done"),
    Question(Ask.WHERE, "Where it was done"),
    Question(Ask.METHOD, "By what method"),
    Question(Ask.QUALITY, "With what quality of workmanship"),
    Question(Ask.HELP, "With whose help, paid and unpaid"),
)


@dataclass(frozen=True, slots=True)
class Answered:
    """One question with what the record says to it."""

    ask: Ask
    words: str  # the question, in the rulebook's words
    sentence: str
    notes: tuple[str, ...]  # paths of the notes that say so, each once
    answered: bool  # False: the record does not say, and the sentence says that


@dataclass(frozen=True, slots=True)
class _Said:
    """An answer before it is put to its question."""

    sentence: str
    notes: Iterable[str] = ()
    answered: bool = True


def answers(record: TaskRecord, rulebook: Rulebook | None) -> tuple[Answered, ...]:
    """The rulebook's questions in its order, each answered as far as the record goes.

    Where the journal names no rulebook, or one without questions, the usual ones are asked.
    """
    questions = rulebook.questions if rulebook else ()
    return tuple(
        Answered(
            question.ask,
            question.words,
            said.sentence,
            tuple(dict.fromkeys(said.notes)),
            said.answered,
        )
        for question in questions or USUAL_QUESTIONS
        for said in (_ANSWERS[question.ask](record, rulebook),)
    )


def _who(record: TaskRecord, _rulebook: Rulebook | None) -> _Said:
    told = [_person(person) for person in record.people]
    told += [f"{_away(each)} ({CAPACITIES[each.capacity]})" for each in record.away]
    if not told:
        late = duration(sums.seconds_of(record.late)) if record.late else ""
        but = f": {late} after the certificate are no build time" if late else ""
        return _Said(f"The record does not say who did it{but}.", answered=False)
    return _Said(", ".join(told), (*_time_notes(record), *_away_notes(record)))


def _person(person: PersonTime) -> str:
    return f"{person.name} {duration(person.seconds)}{BESIDE[person.role]}"


def _away(away: WorkAway) -> str:
    return f"{away.what} away at {away.firm}" if away.firm else f"{away.what} away"


def _time_notes(record: TaskRecord) -> list[str]:
    return [row.note for row in record.work]


def _away_notes(record: TaskRecord) -> list[str]:
    return [path for each in record.away for path in each.notes]


def _when(record: TaskRecord, _rulebook: Rulebook | None) -> _Said:
    days = record.days
    told = [f"{_span(days[0], days[-1])}, {counted(len(days), 'day')}"] if days else []
    told += [_away_days(each) for each in record.away if each.sent or each.back]
    if not told:
        return _Said("The record does not say when it was done.", answered=False)
    return _Said("; ".join(told), (*_time_notes(record), *_away_notes(record)))


def _span(first: date, last: date) -> str:
    return f"{first}" if first == last else f"{first} to {last}"


def _away_days(away: WorkAway) -> str:
    sent = [f"sent {away.sent}"] if away.sent else []
    back = [f"back {away.back}"] if away.back else ["not yet back"]
    return f"{away.what} {', '.join(sent + back)}"


def _where(record: TaskRecord, _rulebook: Rulebook | None) -> _Said:
    told = [
        place.words + (f" ({counted(len(place.notes), 'note')})" if len(record.places) > 1 else "")
        for place in record.places
    ]
    told += [_away(each) for each in record.away if each.firm]
    if not told:
        return _Said("The record does not say where it was done.", answered=False)
    paths = [path for place in record.places for path in place.notes]
    return _Said("; ".join(told), (*paths, *_away_notes(record)))


def _method(record: TaskRecord, _rulebook: Rulebook | None) -> _Said:
    pages = list(dict.fromkeys(str(each.line.per) for each in record.methods))
    described = [note.path for note in record.described]
    told = [listed(pages)] if pages else []
    told += [f"described in {counted(len(described), 'note')}"] if described else []
    told += [f"shown in {counted(len(record.shots), 'picture')}"] if record.shots else []
    if not told:
        return _Said("The record does not say by what method it was done.", answered=False)
    paths = (*(each.note.path for each in record.methods), *described)
    return _Said("; ".join(told), (*paths, *(shot.note for shot in record.shots)))


def _quality(record: TaskRecord, rulebook: Rulebook | None) -> _Said:
    """Of the proofs that the rulebook names for such work any one will do; else any at all."""
    kind = kind_of(record.task) if record.task else None
    quality = rulebook.quality if rulebook else {}
    asked = (quality.get(kind) if kind else None) or tuple(Proof)
    told = [*_proofs(record)]
    missing = not record.proofs.keys() & set(asked)
    if missing:
        told.append(f"no {any_of([PROOF_WORDS[proof] for proof in asked])} on record")
    told += [_snags(record)] if record.snags else []
    paths = [
        *(each.note.path for each in record.measured),
        *(each.note.path for each in record.torqued),
        *(each.note.path for each in record.process),
        *(each.note.path for each in record.visits),
        *(snag.note for snag in record.snags),
    ]
    return _Said("; ".join(told), paths, answered=not missing)


def _proofs(record: TaskRecord) -> Iterable[str]:
    """Each kind with its number; visits with their names, as an inspector wants them."""
    for proof, number in record.proofs.items():
        told = counted(number, PROOF_WORDS[proof], PROOF_PLURALS[proof])
        if proof is Proof.VISITS:
            who = (f"{', '.join(map(str, v.line.who))}, {v.note.day}" for v in record.visits)
            told = f"{told} ({'; '.join(who)})"
        yield told
    notes = [each.note for each in record.measured]
    notes += [each.note for each in record.torqued] + [each.note for each in record.process]
    if any(_names_others(note, record.id) for note in notes):
        yield "some entries stand in notes that name other tasks too"


def _names_others(note: Note, task: str) -> bool:
    """Whether an entry of the note may speak of another task: entries carry none of their own."""
    return any(line.task.text != task for line in note.tasks)


def _snags(record: TaskRecord) -> str:
    still = sum(snag.fixed is None for snag in record.snags)
    state = f"{still} still open" if still else "put right"
    return f"{counted(len(record.snags), 'snag')}, {state}"


def _help(record: TaskRecord, _rulebook: Rulebook | None) -> _Said:
    """Paid help first, then the maker's, then unpaid help."""
    if not record.people and not record.away:
        return _Said("No time is on record, so neither is any help.", answered=False)
    paid = [_person_plain(each) for each in record.people if each.role is Role.PAID]
    unpaid = [_person_plain(each) for each in record.people if each.role is Role.HELPER]
    paid += [_away(each) for each in record.away if each.capacity == "paid"]
    unpaid += [_away(each) for each in record.away if each.capacity == "unpaid"]
    maker = [_away(each) for each in record.away if each.capacity == "maker"]
    unsaid = [_away(each) for each in record.away if each.capacity is None]
    back = [each for each in record.parts if each.line.status is PartStatus.SENT_BACK]
    maker += [f"{each.line.part} sent back on {each.note.day}" for each in back]
    told = [f"paid: {', '.join(paid)}" if paid else "no paid help on record"]
    told += [f"its maker: {', '.join(maker)}"] if maker else []
    told += [f"unpaid: {', '.join(unpaid)}"] if unpaid else []
    told += [f"{', '.join(unsaid)}: who did it is not said"] if unsaid else []
    return _Said("; ".join(told), _help_notes(record), answered=not unsaid)


def _person_plain(person: PersonTime) -> str:
    return f"{person.name} {duration(person.seconds)}"


def _help_notes(record: TaskRecord) -> Iterable[str]:
    yield from (
        path for each in record.people if each.role is not Role.BUILDER for path in each.notes
    )
    yield from _away_notes(record)
    yield from (each.note.path for each in record.parts if each.line.status is PartStatus.SENT_BACK)


_ANSWERS: Mapping[Ask, Callable[[TaskRecord, Rulebook | None], _Said]] = {
    Ask.WHO: _who,
    Ask.WHEN: _when,
    Ask.WHERE: _where,
    Ask.METHOD: _method,
    Ask.QUALITY: _quality,
    Ask.HELP: _help,
}
