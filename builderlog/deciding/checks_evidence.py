"""Checks of evidence: what an inspector would ask for and the record does not yet show.

Gaps, not mistakes: the authority decides what it wants to see.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.stakes import builder_tenths, stakes
from builderlog.deciding.words import counted
from builderlog.knowing.entries import Note
from builderlog.knowing.files import NotFoundError
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.reading.problem import Problem, doubt, gap

# A picture taken more than a day from its note's date is worth a look (common practice).
PHOTO_MAY_DIFFER_DAYS = 1


def only_pictures(ledger: Ledger) -> Iterator[Problem]:
    """A note that was laid out for pictures and says nothing of the evening yet."""
    for note in ledger.notes:
        if _says_nothing_else(note):
            told = f"{counted(len(note.photos), 'picture')} of {note.day}, and neither hours, tasks"
            told = f"{told} nor words; write who worked how long on what, and what was done"
            yield gap(note.photos[0].photo.place, "only-pictures", told)


def _says_nothing_else(note: Note) -> bool:
    """Pictures, and but the circumstances: title, place, day of writing, who may see it."""
    if not note.photos or note.prose.text.strip():
        return False
    circumstances = Note(
        *(note.path, note.place, note.day),
        title=note.title,
        photos=note.photos,
        where=note.where,
        written=note.written,
        privacy=note.privacy,
        prose=note.prose,
    )
    return note == circumstances


def photos_without_caption(ledger: Ledger) -> Iterator[Problem]:
    """A picture that no words describe: a reader who cannot see it gets only date and tasks.

    A note with nothing but pictures is told as a whole.
    """
    for note in ledger.notes:
        for line in note.photos if not _says_nothing_else(note) else ():
            if line.caption is None:
                told = (
                    f"'{line.photo}' has no caption; write caption: what a reader should see in it"
                )
                yield gap(line.photo.place, "no-caption", told)


def photos_of_another_day(ledger: Ledger) -> Iterator[Problem]:
    """A picture whose own date is more than a day from the note that shows it."""
    finder, at_stake = finder_of(ledger), stakes(ledger)
    taken = {picture.path: picture.file.taken for picture in ledger.pictures if picture.file.taken}
    for note in ledger.notes:
        for line in note.photos:
            try:
                when = taken.get(finder.named(line.photo.text))
            except NotFoundError:
                continue  # told by missing_files
            if when and note.day and not line.page:
                days = abs((date.fromisoformat(when[:10]) - note.day).days)
                if days > PHOTO_MAY_DIFFER_DAYS:
                    told = f"'{line.photo}' was taken on {when[:10]} by its own date"
                    told = f"{told}, the note is of {note.day}"
                    stake = sum(at_stake.get(task, 0) for task in {w.text for w in line.shows})
                    told = f"{told}; check which is true"
                    yield doubt(line.photo.place, "photo-of-another-day", told, stake)


def done_without_work(ledger: Ledger) -> Iterator[Problem]:
    """A done task that says nothing of its credit, and on which no note has time.

    Where hours are counted, credit says nothing: only one that gives the builder no part is left
    out. What claims a part without work is told with the claim.
    """
    worked = {work.task for work in ledger.work}
    hours = ledger.rulebook is not None and ledger.rulebook.measure is Measure.HOURS
    for task in ledger.worklist.by_id.values():
        silent = (task.credit is None and task.marks is None) or (
            hours and builder_tenths(task) > 0
        )
        if silent and task.done and task.applies and task.id not in worked:
            told = f"{task.id}: done, but no note has time on it; say in a note who did it and when"
            yield gap(task.place, "done-without-work", told)


EVIDENCE_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    only_pictures,
    photos_without_caption,
    photos_of_another_day,
    done_without_work,
)
