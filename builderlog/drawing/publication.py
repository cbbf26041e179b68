"""What of a journal can be published: the public ledger, the pictures, and what is left out.

`publish` and the live bench draw from the same draft, so that a page is the same on both.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from builderlog.deciding.checks import paths_with_mistakes
from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.visibility import pictures_named_in
from builderlog.deciding.withheld import Withheld, withheld
from builderlog.drawing.pictures import Copies, copies_for
from builderlog.drawing.theme import Theme, open_theme
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.journal import NOTES_FOLDER
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.sheets.shots import shown_digests
from builderlog.storing.cache import Store

DEFAULT_THEME = "trammel"

Progress = Callable[[int, int], None]  # done, of how many


@dataclass(frozen=True, slots=True)
class Draft:
    """What can be published, and the mistakes for which something is left out."""

    public: PublicLedger
    copies: Copies
    mistakes: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Manuscript:
    """A journal that was read and judged, with the mistakes that were found."""

    folder: Folder
    ledger: Ledger
    mistakes: tuple[Problem, ...]


def draft_of(written: Manuscript, store: Store, progress: Progress) -> Draft:
    """Only drawing shows which pictures look whole and cannot be decoded: hence twice."""
    public = _public(written, written.mistakes)
    copies = _copies(written, public, store, progress)
    undrawable = _undrawable(written, copies.faults)
    mistakes = (*written.mistakes, *undrawable)
    return Draft(_public(written, mistakes) if undrawable else public, copies, mistakes)


def theme_of(ledger: Ledger, root: Path) -> Theme:
    """The theme that the journal asks for, its own look before it. Raises `ThemeFault`."""
    return open_theme(ledger.settings.site.theme or DEFAULT_THEME, root)


def kept_from_friends(written: Manuscript, mistakes: tuple[Problem, ...]) -> Withheld:
    """What the site keeps back, with those mistakes; for the builder alone."""
    return withheld(written.ledger, *_left_out(written, mistakes))


def _public(written: Manuscript, mistakes: tuple[Problem, ...]) -> PublicLedger:
    return public_ledger(written.ledger, *_left_out(written, mistakes))


def _left_out(
    written: Manuscript, mistakes: tuple[Problem, ...]
) -> tuple[frozenset[str], frozenset[str]]:
    """Notes with mistakes, which are left out whole, and every picture that their text names.

    What a mistake made unreadable may have been the very word that keeps them private.
    """
    left_out = paths_with_mistakes(mistakes)
    texts = [
        written.folder.read(path).decode("utf-8", "replace")
        for path in left_out.intersection(written.folder.paths)
        if path.startswith(NOTES_FOLDER)
    ]
    paths = [picture.path for picture in written.ledger.pictures]
    return left_out, pictures_named_in(texts, paths)


def _copies(written: Manuscript, public: PublicLedger, store: Store, progress: Progress) -> Copies:
    """Smaller copies of the pictures that friends may see, and of no other."""
    seen = set(shown_digests(public))
    wanted = [
        (picture.file, written.folder.where(picture.path))
        for picture in written.ledger.pictures
        if picture.file.digest in seen
    ]
    done = 0

    def advance(more: int) -> None:
        nonlocal done
        done += more
        progress(done, len(wanted))

    return copies_for(wanted, store, advance)


def _undrawable(written: Manuscript, faults: Mapping[str, str]) -> tuple[Problem, ...]:
    """Pictures that looked whole and cannot be decoded, told in each note that has them."""
    bad = {each.path: each for each in written.ledger.pictures if each.file.digest in faults}
    finder = finder_of(written.ledger)
    places = {
        (note.path, path): line.photo.place
        for note in written.ledger.notes
        for line in note.photos
        if bad and (path := _found(finder, line.photo.text))
    }
    return tuple(
        mistake(
            places.get((note, path), Place(note)), "picture-unreadable", faults[each.file.digest]
        )
        for path, each in bad.items()
        for note in sorted({*(use.note for use in each.uses), *each.linked_from})
    )


def _found(finder: Finder, text: str) -> str:
    try:
        return finder.named(text)
    except NotFoundError:
        return ""  # told in the checks
