"""Checks of what a seal keeps back: hidden notes and their files, known by their digests alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.sealing_kept import is_stub
from builderlog.knowing.entries import Note
from builderlog.knowing.files import Finder
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.note_files import files_of
from builderlog.knowing.seals import Seal, SealedFile
from builderlog.reading.problem import Problem, doubt


def kept_doubts(
    ledger: Ledger, seal: Seal, hidden: list[Note], missing: int
) -> tuple[tuple[Problem, ...], bool]:
    """What is told of a month's hidden notes; True where that accounts for the `missing` files.

    In the inspector's view a note that was sealed openly and hidden later is not there, nor are
    its pictures: they are counted with the note that stands for it, and not told one by one.
    """
    lines: dict[date, list[SealedFile]] = {}
    for one in seal.files:
        if one.kept_back is not None:
            lines.setdefault(one.kept_back, []).append(one)
    days = {note.day for note in hidden if note.day} | set(lines)
    problems: list[Problem] = []
    hidden_later = False
    for day in sorted(days):
        of_day = _Day(seal, day, lines.get(day, []), [note for note in hidden if note.day == day])
        if of_day.notes and all(map(is_stub, of_day.notes)) and not _meets(ledger, of_day):
            told = [*_told_of_stubs(of_day, missing)]
            hidden_later = hidden_later or bool(told)
            problems.extend(told)
        else:
            problems.extend(_told_of_notes(ledger, of_day))
    return tuple(problems), hidden_later


@dataclass(frozen=True, slots=True)
class _Day:
    """One day: what its seal keeps back, and its hidden notes as they are now."""

    seal: Seal
    day: date
    lines: list[SealedFile]
    notes: list[Note]


def _meets(ledger: Ledger, of_day: _Day) -> bool:
    """True where one of the notes is the sealed one itself: then this is no inspector's view."""
    sealed = {one.digest for one in of_day.lines}
    return any(ledger.digests.get(note.path) in sealed for note in of_day.notes)


def _told_of_stubs(of_day: _Day, missing: int) -> Iterator[Problem]:
    """In the inspector's view: more notes with nothing but their time than are kept back."""
    for note in of_day.notes[len(of_day.lines) :]:
        seal = of_day.seal
        files = f", and {missing} of the files that it lists are not here" if missing else ""
        told = f"nothing but the time of this note goes along, and {seal.path} does not say so"
        yield doubt(note.place, "seal-changed", f"{told}{files}")


def _told_of_notes(ledger: Ledger, of_day: _Day) -> Iterator[Problem]:
    """In the journal: digests that are not there any more, and notes with another digest."""
    seal, finder = of_day.seal, Finder(ledger.files, ledger.outside)
    here: Counter[str] = Counter()
    for path in {path for note in of_day.notes for path in (note.path, *files_of(note, finder))}:
        here[ledger.digests.get(path, "")] += 1
    unmet = [one for one in of_day.lines if not _take(here, one.digest)]
    sealed = {one.digest for one in of_day.lines}
    openly = {one.path for one in seal.files}
    for note in of_day.notes:
        if ledger.digests.get(note.path, "") in sealed or note.path in openly:
            continue  # of one that was listed by its path, that path tells
        if unmet:
            unmet.pop()
            told = f"this note is not as it was when {seal.month} was sealed, in {seal.path}"
            yield doubt(note.place, "seal-changed", f"{told}; {_MEND}")
        else:
            told = f"this note was not there when {seal.month} was sealed, in {seal.path}"
            yield doubt(note.place, "seal-added", f"{told}; {_MEND}")
    for one in unmet:
        told = f"a note of {of_day.day}, of which only the time goes along, or a file that it names"
        told = f"{told}, is not as it was when {seal.month} was sealed, or is gone"
        yield doubt(one.place, "seal-lost", f"{told}; {_MEND}")


_MEND = "put it back as it was, or amend the seal and say why"


def _take(here: Counter[str], digest: str) -> bool:
    """True, and one fewer there, where a file of that digest is among them."""
    if not here[digest]:
        return False
    here[digest] -= 1
    return True
