"""The files that a note speaks of: under its keys (pictures, receipts, sheets) or in its words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builderlog.knowing.entries import Note
from builderlog.knowing.files import Finder, NotFoundError


def files_of(note: Note, finder: Finder) -> Iterator[str]:
    """Every file that a note names under a key or links in its words, as often as it does.

    What is not there, or is an address elsewhere, is left out: the checks tell it.
    """
    receipts = [line.receipt for line in note.parts]
    sheets = [visit.sheet for visit in note.visits]
    words = [*(line.photo for line in note.photos), *receipts, *sheets]
    yield from named_files(finder, [word.text for word in words if word])
    for link in note.prose.links:
        try:
            yield finder.linked(note.path, link.target)
        except NotFoundError:
            continue


def named_files(finder: Finder, words: Iterable[str]) -> Iterator[str]:
    """The files that these words name, from the journal's folder."""
    for text in words:
        try:
            yield finder.named(text)
        except NotFoundError:
            continue
