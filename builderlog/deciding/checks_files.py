"""Checks of files: what a note names must be in the journal, and pictures must be pictures."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.links import LinkJudged, judge_link
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Place, Problem, doubt, gap, mistake
from builderlog.reading.prose import ProseLink
from builderlog.reading.words import Word


def finder_of(ledger: Ledger) -> Finder:
    """A finder over the journal's files."""
    return Finder(ledger.files, ledger.outside)


def missing_files(ledger: Ledger) -> Iterator[Problem]:
    """A picture, receipt, sheet or paper that is named but not there."""
    finder = finder_of(ledger)
    for word in _named_files(ledger):
        try:
            finder.named(word.text)
        except NotFoundError as fault:
            yield mistake(word.place, fault.code, str(fault))


def _named_files(ledger: Ledger) -> Iterator[Word]:
    for note in ledger.notes:
        yield from (line.photo for line in note.photos)
        yield from (line.receipt for line in note.parts if line.receipt)
        yield from (visit.sheet for visit in note.visits if visit.sheet)
    yield from (paper.file for paper in ledger.settings.papers if paper.file)
    evaluated = ledger.settings.kit_evaluated
    if evaluated and evaluated.file:
        yield evaluated.file


def pictures_at_fault(ledger: Ledger) -> Iterator[Problem]:
    """A file that no picture can be read from, told where it is named (or linked)."""
    finder = finder_of(ledger)
    faults = {picture.path: picture.file.fault for picture in ledger.pictures if picture.file.fault}
    for note in ledger.notes if faults else ():
        for word in (line.photo for line in note.photos):
            fault = faults.get(_path(finder, word.text))
            if fault:
                yield mistake(word.place, "picture-unreadable", fault)
    for picture in ledger.pictures:
        if picture.file.fault and not picture.uses:
            for linking in picture.linked_from:
                yield mistake(Place(linking), "picture-unreadable", picture.file.fault)


def _path(finder: Finder, text: str) -> str:
    try:
        return finder.named(text)
    except NotFoundError:
        return ""  # told by missing_files


def repeated_photos(ledger: Ledger) -> Iterator[Problem]:
    """One picture twice in one note."""
    finder = finder_of(ledger)
    for note in ledger.notes:
        seen: set[str] = set()
        for line in note.photos:
            path = _path(finder, line.photo.text)
            if path and path in seen:
                told = f"'{line.photo}' stands twice among the photos of this note; keep one"
                yield doubt(line.photo.place, "repeated-photo", told)
            seen.add(path)


def links(ledger: Ledger) -> Iterator[Problem]:
    """Links in the words of notes that lead nowhere, or nowhere that friends may follow."""
    finder = finder_of(ledger)
    notes = frozenset(note.path for note in ledger.notes)
    hidden = {note.path for note in ledger.notes if note.privacy is Privacy.HOURS_ONLY}
    for note in ledger.notes:
        for link in note.prose.links:
            judged = judge_link(note.path, link, finder, notes)
            yield from _told(note, link, judged)
            if judged.path in hidden and note.path not in hidden:
                told = "the inspector reads this link, and in it the name of a file of which "
                told += "nothing but the time should reach anyone; write its words without a link"
                yield doubt(_place(note, link), "link-to-hidden", told)


def _place(note: Note, link: ProseLink) -> Place:
    return Place(note.path, note.prose.place.line + link.line - 1)


def _told(note: Note, link: ProseLink, judged: LinkJudged) -> Iterator[Problem]:
    place = _place(note, link)
    if judged.code:
        weigh = mistake if judged.kind == "refused" else doubt
        yield weigh(place, judged.code, judged.message)
    if judged.kind == "picture" and link.kind == "image" and not link.words.strip():
        told = f"'{link.target}' has no words for who cannot see it; write ![what it shows](…)"
        yield gap(place, "no-caption", told)


FILE_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (
    missing_files,
    pictures_at_fault,
    repeated_photos,
    links,
)
