"""Where the files of a journal stand, and the words that lead to each: what every link needs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builderlog.knowing.entries import Note
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger

DRAWN = ("JPEG", "PNG", "WEBP", "AVIF")  # what browsers show; of HEIC only some do


@dataclass(frozen=True, slots=True)
class FileLink:
    """A file of the journal by its path there, and the words that lead to it.

    Without a path the words name a file that is not there; `check` tells it.
    """

    words: str
    path: str


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


def _note_link(note: Note) -> FileLink:
    title = f", {note.title}" if note.title else ""
    return FileLink(f"{note.day}{title}", note.path)
