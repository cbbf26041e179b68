"""Checks of evidence: what an inspector would ask for and the record does not yet show.

Gaps, not mistakes: the authority decides what it wants to see.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from builderlog.deciding.checks_files import finder_of
from builderlog.knowing.files import NotFoundError
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem, doubt, gap

# A picture taken more than a day from its note's date is worth a look (common practice).
PHOTO_MAY_DIFFER_DAYS = 1


def photos_without_caption(ledger: Ledger) -> Iterator[Problem]:
    """A picture that no words describe: a reader who cannot see it gets only date and tasks."""
    for note in ledger.notes:
        for line in note.photos:
            if line.caption is None:
                told = (
                    f"'{line.photo}' has no caption; write caption: what a reader should see in it"
                )
                yield gap(line.photo.place, "no-caption", told)


def photos_of_another_day(ledger: Ledger) -> Iterator[Problem]:
    """A picture whose own date is more than a day from the note that shows it."""
    finder = finder_of(ledger)
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
                    yield doubt(
                        line.photo.place, "photo-of-another-day", f"{told}; check which is true"
                    )


def tasks_without_picture(ledger: Ledger) -> Iterator[Problem]:
    """A task with work on record that no picture shows."""
    shown = {task for picture in ledger.pictures for use in picture.uses for task in use.shows}
    seconds: dict[str, int] = {}
    for worked in ledger.work:
        if worked.task:
            seconds[worked.task] = seconds.get(worked.task, 0) + worked.seconds
    for task in ledger.worklist.by_id.values():
        if task.id in seconds and task.id not in shown:
            told = (
                f"{task.id}: {length_text(seconds[task.id])} of work and no picture that shows it"
            )
            yield gap(task.place, "task-without-picture", f"{told}; add shows: [{task.id}] to one")


def done_without_work(ledger: Ledger) -> Iterator[Problem]:
    """A task that is done although no note has time on it."""
    worked = {work.task for work in ledger.work}
    for task in ledger.worklist.by_id.values():
        if task.done and task.applies and task.id not in worked:
            told = f"{task.id}: done, but no note has time on it; say in a note who did it and when"
            yield gap(task.place, "done-without-work", told)


EVIDENCE_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    photos_without_caption,
    photos_of_another_day,
    tasks_without_picture,
    done_without_work,
)
