"""Checks of pictures that friends see against those kept back: a copy may tell the same.

Equal files stay back together by themselves. A picture that was saved again, turned or trimmed is
another file, and only its fingerprint tells that it is the same picture.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from operator import ne

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.likeness import alike
from builderlog.deciding.visibility import Visibility, what_friends_see
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.problem import Place, Problem, doubt

KEPT, SHOWN = "kept", "shown"


def kept_pictures_twins(ledger: Ledger) -> Iterator[Problem]:
    """Each picture of a public note that is nearly the same as one kept back, told once."""
    sight = what_friends_see(ledger, frozenset())
    pictures = {each.file.digest: each for each in ledger.pictures if _counts(each, sight)}
    sides = {
        digest: SHOWN if each.path in sight.digests else KEPT for digest, each in pictures.items()
    }
    if len(set(sides.values())) < 2:
        return
    prints = {digest: each.file.likeness for digest, each in pictures.items()}
    finder, told = finder_of(ledger), set[str]()
    for pair in alike(prints, sides, ne):
        shown, kept = sorted(pair, key=lambda digest: sides[digest] == KEPT)
        if shown not in told:
            told.add(shown)
            yield _doubt(pictures[shown], pictures[kept], _place(ledger, pictures[shown], finder))


def _counts(picture: Picture, sight: Visibility) -> bool:
    """Whether it can be compared: pages of a notebook are all alike, and what is unused is out.

    Of what is seen it must stand in a note that friends read.
    """
    used = {*(use.note for use in picture.uses), *picture.linked_from}
    if picture.file.fault or any(use.page for use in picture.uses):
        return False
    return bool(used & sight.notes.keys() if picture.path in sight.digests else used)


def _doubt(shown: Picture, kept: Picture, place: Place) -> Problem:
    told = f"'{shown.path}' is nearly the same picture as '{kept.path}', which friends do not see"
    advice = "if it shows the same, write private: yes here too; else explain it"
    explain = f"answers: [{{gap: \"kept-twin: '{shown.path}'\", because: …}}]"
    return doubt(place, "kept-twin", f"{told}; {advice}: {explain}")


def _place(ledger: Ledger, picture: Picture, finder: Finder) -> Place:
    """Its entry in the first note that has it; the note where its words alone do."""
    for use in picture.uses:
        for note in ledger.notes:
            for line in note.photos if note.path == use.note else ():
                try:
                    if finder.named(line.photo.text) == picture.path:
                        return line.photo.place
                except NotFoundError:
                    continue  # told by missing_files
    return Place(min(picture.linked_from, default=picture.path))


TWIN_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (kept_pictures_twins,)
