"""Checks of pictures against each other: one picture that stands for two tasks in two places."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.likeness import alike
from builderlog.deciding.stakes import stakes
from builderlog.deciding.words import listed
from builderlog.knowing.entries import Note, PhotoLine, Privacy
from builderlog.knowing.files import NotFoundError
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.problem import Problem, doubt
from builderlog.reading.quoting import in_braces

MOST_TOLD = 3  # of one entry: where all pictures are alike a list of all pairs helps nobody

Sides = frozenset[frozenset[str]]  # of each entry of a picture, the tasks that it shows


@dataclass(frozen=True, slots=True)
class _Entry:
    """One entry of `photos` that says what its picture shows; none of a scanned page."""

    line: PhotoLine
    picture: Picture
    tasks: frozenset[str]

    @property
    def digest(self) -> str:
        return self.picture.file.digest


def same_picture_for_two_tasks(ledger: Ledger) -> Iterator[Problem]:
    """The same picture, or nearly the same, in two entries whose `shows` have no task in common.

    Told at the later entry, once for each two pictures with their tasks.
    """
    entries = tuple(_entries(ledger))
    at_stake = stakes(ledger) if entries else {}
    told: set[frozenset[tuple[str, frozenset[str]]]] = set()
    for later, earlier in _against_each_other(entries):
        new = {}
        for entry in earlier:
            both = frozenset((each.picture.path, each.tasks) for each in (entry, later))
            if both not in told:
                told.add(both)
                new[both] = entry
        yield from _tell(later, tuple(new.values()), at_stake)


def _entries(ledger: Ledger) -> Iterator[_Entry]:
    """All that can be compared, in order of note and line.

    Pictures of `hours only` notes reach nobody, so they are no evidence; of a file at fault
    nobody knows what it shows, and that is told already.
    """
    finder = finder_of(ledger)
    pictures = {picture.path: picture for picture in ledger.pictures if not picture.file.fault}
    for note, line in _lines(ledger.notes):
        try:
            picture = pictures.get(finder.named(line.photo.text))
        except NotFoundError:
            continue  # told by missing_files
        if picture and note.privacy is not Privacy.HOURS_ONLY:
            yield _Entry(line, picture, frozenset(task.text for task in line.shows))


def _lines(notes: Iterable[Note]) -> Iterator[tuple[Note, PhotoLine]]:
    for note in notes:
        yield from ((note, line) for line in note.photos if line.shows and not line.page)


def _against_each_other(entries: Sequence[_Entry]) -> Iterator[tuple[_Entry, list[_Entry]]]:
    """Each entry with those before it that show the same picture for other tasks."""
    places: dict[str, list[int]] = {}
    for at, entry in enumerate(entries):
        places.setdefault(entry.digest, []).append(at)
    like = _like(entries)
    for at, later in enumerate(entries):
        before = sorted(
            other for digest in like[later.digest] for other in places[digest] if other < at
        )
        found = [entries[other] for other in before if later.tasks.isdisjoint(entries[other].tasks)]
        if found:
            yield later, found


def _like(entries: Iterable[_Entry]) -> dict[str, set[str]]:
    """By digest, the digests of pictures nearly the same, its own among them."""
    prints: dict[str, str] = {}
    shown: dict[str, set[frozenset[str]]] = {}
    for entry in entries:
        prints[entry.digest] = entry.picture.file.likeness
        shown.setdefault(entry.digest, set()).add(entry.tasks)
    like = {digest: {digest} for digest in prints}
    sides = {digest: frozenset(tasks) for digest, tasks in shown.items()}
    for one, other in alike(prints, sides, _are_apart):
        like[one].add(other)
        like[other].add(one)
    return like


def _are_apart(one: Sides, other: Sides) -> bool:
    return any(tasks.isdisjoint(others) for tasks in one for others in other)


def _tell(later: _Entry, earlier: Sequence[_Entry], at_stake: dict[str, int]) -> Iterator[Problem]:
    for number, entry in enumerate(earlier[:MOST_TOLD], 1):
        tasks = sorted(entry.tasks) + sorted(later.tasks)
        shows = ", ".join(in_braces(task) for task in tasks)
        told = f"{_both(entry, later)}; one picture is thin evidence for two tasks: write shows: "
        told += f"[{shows}] in both places if it shows both, or name another picture in one of them"
        if number == MOST_TOLD < len(earlier):
            told += f" (and so with {len(earlier) - MOST_TOLD} more)"
        stake = sum(at_stake.get(task, 0) for task in tasks)
        yield doubt(later.line.photo.place, "same-picture", told, stake)


def _both(earlier: _Entry, later: _Entry) -> str:
    """What the two entries show, and where the other one stands."""
    place = earlier.line.photo.place
    here = f"'{later.line.photo}' shows {listed(sorted(later.tasks))} here"
    there = f"{listed(sorted(earlier.tasks))} in {place.path}:{place.line}"
    if later.picture.path == earlier.picture.path:
        return f"{here} and {there}"
    same = "the same picture" if later.digest == earlier.digest else "nearly the same picture"
    return f"{here}, and {same}, '{earlier.line.photo}', shows {there}"


PICTURE_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (same_picture_for_two_tasks,)
