"""The evidence sheet of one task: who, when, where, how, how well, with what help; its pictures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from builderlog.deciding.assistance import WorkAway
from builderlog.deciding.questions import Answered, answers
from builderlog.deciding.task_record import Shot, TaskRecord
from builderlog.deciding.words import day_plain, duration, listed
from builderlog.knowing.entries import Measured, Note, PartLine, Process, Torqued, Visit
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.knowing.rulebook import Rulebook
from builderlog.sheets.record_evidence import is_begun
from builderlog.sheets.table import as_words

DRAWN = ("JPEG", "PNG", "WEBP", "AVIF")  # what browsers show; of HEIC only some do


@dataclass(frozen=True, slots=True)
class FileLink:
    """A file of the journal by its path there, and the words that lead to it.

    Without a path the words name a file that is not there; `check` tells it.
    """

    words: str
    path: str


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """One question with what the record says, and the notes that say so."""

    question: str
    sentence: str
    answered: bool
    notes: tuple[FileLink, ...]


@dataclass(frozen=True, slots=True)
class PictureRow:
    """One picture that shows the task; `alt` stands where it cannot be seen."""

    path: str
    alt: str
    told: str  # day, caption, people seen
    drawn: bool  # whether any browser shows it


@dataclass(frozen=True, slots=True)
class EntryRow:
    """One entry in words: what it is, what it says, its papers, and the notes."""

    kind: str
    words: str
    notes: tuple[FileLink, ...]
    papers: tuple[FileLink, ...] = ()


@dataclass(frozen=True, slots=True)
class TaskEvidence:
    """What stands on record for one task, in ready words."""

    id: str
    title: str  # id and name
    standing: str  # "fabrication, done, 2 h of the amateurs' work on record"
    begun: bool  # whether the record says anything of it
    answers: tuple[AnswerRow, ...]
    entries: tuple[EntryRow, ...]
    pictures: tuple[PictureRow, ...]
    notes: tuple[FileLink, ...]
    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shelf:
    """Where the files of a journal stand: what every link needs."""

    dated: Mapping[str, FileLink]  # each note by its path, named by its day
    titled: Mapping[str, FileLink]  # the same, named by day and title
    drawn: frozenset[str]  # pictures that any browser shows
    finder: Finder

    def notes(self, paths: Iterable[str]) -> tuple[FileLink, ...]:
        """Notes by their days."""
        return tuple(self.dated[path] for path in paths)

    def note(self, note: Note) -> tuple[FileLink]:
        """A note by its day and title."""
        return (self.titled[note.path],)

    def paper(self, named: str) -> FileLink:
        """A file as a note names it: in what form it does so does not matter."""
        words = named.strip().rpartition("/")[2] or named
        try:
            return FileLink(words, self.finder.named(named))
        except NotFoundError:
            return FileLink(words, "")

    def papers(self, named: Iterable[str]) -> tuple[FileLink, ...]:
        """Several of them, each once."""
        return tuple(dict.fromkeys(map(self.paper, named)))


def shelf_of(ledger: Ledger) -> Shelf:
    """The shelf of a journal."""
    return Shelf(
        dated={note.path: FileLink(str(note.day), note.path) for note in ledger.notes},
        titled={note.path: _note_link(note) for note in ledger.notes},
        drawn=frozenset(each.path for each in ledger.pictures if each.file.kind in DRAWN),
        finder=Finder(ledger.files, ledger.outside),
    )


def task_evidence(
    record: TaskRecord, rulebook: Rulebook, gaps: Iterable[str], shelf: Shelf
) -> TaskEvidence:
    """The sheet of a task's record; `gaps` are the sentences that `check` tells of it."""
    begun = is_begun(record)
    told = answers(record, rulebook) if begun else ()
    return TaskEvidence(
        id=record.id,
        title=titled(record.id, record.name),
        standing=_standing(record),
        begun=begun,
        answers=tuple(_answer(each, shelf) for each in told),
        entries=tuple(_entries(record, shelf)),
        pictures=tuple(_picture(shot, record.name, shelf) for shot in record.pictures),
        notes=tuple(shelf.titled[note.path] for note in record.notes),
        gaps=tuple(gaps),
    )


def titled(name: str, words: str) -> str:
    """An id with its name; once where the one is the other, and never without a letter."""
    told = words if name == words else f"{name} {words}"
    return told.strip() or "(no name)"


def _note_link(note: Note) -> FileLink:
    title = f", {note.title}" if note.title else ""
    return FileLink(f"{note.day}{title}", note.path)


def _standing(record: TaskRecord) -> str:
    kind = [record.task.work.value] if record.task and record.task.work else []
    seconds = record.amateur_seconds
    time = f"{duration(seconds)} of the amateurs' work on record" if seconds else ""
    return _joined((*kind, "done" if record.done else "open", time))


def _answer(each: Answered, shelf: Shelf) -> AnswerRow:
    return AnswerRow(each.words, each.sentence, each.answered, shelf.notes(each.notes))


def _picture(shot: Shot, task: str, shelf: Shelf) -> PictureRow:
    page = "A page of a notebook" if shot.page else ""
    seen = f"Seen: {listed(shot.seen)}" if shot.seen else ""
    return PictureRow(
        path=shot.path,
        alt=shot.caption or f"{task}, {day_plain(shot.taken)}",
        told=_sentences((day_plain(shot.taken), page, shot.caption or "", seen)),
        drawn=shot.path in shelf.drawn,
    )


def _entries(record: TaskRecord, shelf: Shelf) -> Iterator[EntryRow]:
    """Methods and proofs as the notes state them; then what came from outside and what is wrong."""
    methods = (
        EntryRow("method", str(method.line.per), shelf.note(method.note))
        for method in record.methods
    )
    yield from dict.fromkeys(methods)
    for measured in record.measured:
        yield EntryRow("measured", _measured(measured.line), shelf.note(measured.note))
    for torqued in record.torqued:
        yield EntryRow("torqued", _torqued(torqued.line), shelf.note(torqued.note))
    for process in record.process:
        yield EntryRow("process", _process(process.line), shelf.note(process.note))
    yield from _with_papers(record, shelf)


def _with_papers(record: TaskRecord, shelf: Shelf) -> Iterator[EntryRow]:
    """Visits with their sheets, snags, parts that have a receipt, work away."""
    for visit in record.visits:
        sheet = [visit.line.sheet.text] if visit.line.sheet else []
        yield EntryRow("visit", _visit(visit.line), shelf.note(visit.note), shelf.papers(sheet))
    for snag in record.snags:
        told_in = dict.fromkeys((snag.note, snag.fixed_in or snag.note))
        yield EntryRow("snag", _snag(snag), shelf.notes(told_in))
    for part in record.parts:
        if part.line.receipt:
            papers = shelf.papers([part.line.receipt.text])
            yield EntryRow("part", _part(part.line), shelf.note(part.note), papers)
    for away in record.away:
        papers = shelf.papers(away.receipts)
        yield EntryRow("away", _away(away), shelf.notes(away.notes), papers)


def _joined(words: Iterable[object]) -> str:
    return ", ".join(str(word) for word in words if word)


def _sentences(words: Iterable[object]) -> str:
    """Each with one full stop at its end, whatever stands there already."""
    told = (str(word).strip() for word in words if word)
    return " ".join(word if word.endswith((".", "!", "?")) else f"{word}." for word in told)


def _measured(line: Measured) -> str:
    limit = f" (limit {as_words(line.limit)})" if line.limit else ""
    return f"{line.what}: {as_words(line.value)}{limit}" if line.value else f"{line.what}{limit}"


def _torqued(line: Torqued) -> str:
    """The value wanted and its source; the kit's manual prevails over both."""
    wanted = f"to {as_words(line.wanted)}" if line.wanted else None
    source = f"by {line.source}" if line.source else None
    marked = "marked" if line.marked else None
    return _joined((line.where, line.bolt, wanted, source, marked))


def _process(line: Process) -> str:
    batch = f"batch {line.batch}" if line.batch else None
    coat = f"coat: {line.coat}" if line.coat else None
    sample = f"sample: {line.sample}" if line.sample else None
    return _joined((line.what, batch, coat, sample))


def _visit(line: Visit) -> str:
    who = listed([str(name) for name in line.who])
    capacity = f" ({line.capacity})" if line.capacity else ""
    result = f"Result: {line.result}" if line.result else ""
    return _sentences((f"{who}{capacity}", line.said, result))


def _snag(snag: Snag) -> str:
    fixed = f"put right on {snag.fixed_on}" if snag.fixed_on else "open"
    how = f": {snag.fixed.how}" if snag.fixed and snag.fixed.how else ""
    return f"{snag.number} {snag.line.snag}; {fixed}{how}"


def _part(line: PartLine) -> str:
    count = f"{as_words(line.count)} pieces" if line.count else None
    source = f"from {line.source}" if line.source else None
    return _joined((line.part, line.ref, count, line.status, source))


def _away(each: WorkAway) -> str:
    sent = f"sent {each.sent}" if each.sent else None
    back = f"back {each.back}" if each.back else "not yet back"
    capacity = f"as {each.capacity}" if each.capacity else "who did it is not said"
    return _joined((each.what, each.firm, capacity, sent, back))
