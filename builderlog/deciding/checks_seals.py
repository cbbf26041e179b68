"""Checks of sealed months: what was changed, added or lost since, and whether the chain holds.

All are doubts: an altered record can still be handed over, and then says that it was altered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from builderlog.deciding.checks_seals_chain import chain_doubts
from builderlog.deciding.checks_seals_kept import kept_doubts
from builderlog.deciding.sealing import notes_by_month, totals_by_month, totals_of
from builderlog.deciding.sealing_kept import hidden_notes
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.files import Finder
from builderlog.knowing.hours import length_text
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.note_files import files_of
from builderlog.knowing.seals import Seal, SealedFile, newest_seals
from builderlog.reading.problem import Place, Problem, doubt

# What makes a sealed month another than it was sealed. Not among them: a role that journal.yaml now
# gives otherwise (it counts as sealed), money that a later note or rate changed, a stray file among
# the seals, and what only the builder must know.
FAULTS = (
    "seal-month",
    "seal-unreadable",
    "sealed-unreadable",
    "seal-chain",
    "seal-changed",
    "seal-added",
    "seal-lost",
    "seal-totals",
)


@dataclass(frozen=True, slots=True)
class Trouble:
    """A problem, and the seal that it concerns."""

    seal: str  # path
    problem: Problem


def troubles(ledger: Ledger) -> tuple[Trouble, ...]:
    """Everything that is not as it was sealed, seal by seal in the order of the chain."""
    if not ledger.seals:
        return ()
    newest = newest_seals(ledger.seals)
    found = [Trouble(path, problem) for path, problem in chain_doubts(ledger.seals)]
    notes, sums = notes_by_month(ledger), totals_by_month(ledger)
    for month, seal in newest.items():
        held = _Held(ledger, seal, notes.get(month, []))
        problems = [*_files(held), *_totals(seal, dict(totals_of(sums.get(month))))]
        found.extend(Trouble(seal.path, problem) for problem in problems)
    found.extend(_telling_hidden(ledger))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Held:
    """One month under the eye: its seal, and its notes as they are now."""

    ledger: Ledger
    seal: Seal
    notes: list[Note]


def _files(held: _Held) -> Iterator[Problem]:
    """What was listed and is another or away; then notes that were not listed."""
    ledger, seal = held.ledger, held.seal
    missing = [*_missing(ledger, seal)]
    places = {note.path: note.place for note in held.notes}
    for one in seal.files:
        now = ledger.digests.get(one.path)
        if one.kept_back is None and now and now != one.digest:
            told = f"'{one.path}' is not as it was when {_named(seal)} was sealed; {_MEND}"
            yield doubt(places.get(one.path, Place(one.path)), "seal-changed", told)
    listed = {one.path for one in seal.files}
    for note in held.notes:
        if note.privacy is not Privacy.HOURS_ONLY and note.path not in listed:
            told = f"this note was not there when {_named(seal)} was sealed; {_MEND}"
            yield doubt(note.place, "seal-added", told)
    told_kept, is_told = kept_doubts(ledger, seal, hidden_notes(held.notes), len(missing))
    yield from told_kept
    if not is_told:
        yield from _lost(ledger, seal, missing)


def _missing(ledger: Ledger, seal: Seal) -> Iterator[SealedFile]:
    for one in seal.files:
        if one.kept_back is None and one.path not in ledger.files:
            yield one


def _lost(ledger: Ledger, seal: Seal, missing: Iterable[SealedFile]) -> Iterator[Problem]:
    """Told at the seal's line; with the place to which the very same file was moved."""
    by_digest = _by_digest(ledger.digests) if missing else {}
    for one in missing:
        moved = by_digest.get(one.digest)
        hint = f"; the same file is now '{moved}'" if moved else ""
        told = f"'{one.path}' was there when {_named(seal)} was sealed, and is not{hint}; {_MEND}"
        yield doubt(one.place, "seal-lost", told)


def _by_digest(digests: Mapping[str, str]) -> dict[str, str]:
    return {digests[path]: path for path in sorted(digests, reverse=True)}


_MEND = "put it back as it was, or amend the seal and say why"


def _named(seal: Seal) -> str:
    return f"{seal.month} (in {seal.path}, on {seal.sealed_on})"


def _totals(seal: Seal, now: Mapping[str, str]) -> Iterator[Problem]:
    """The sums that differ, those of money apart."""
    then = dict(seal.totals)
    differing = [key for key in {**then, **now} if then.get(key, "0") != now.get(key, "0")]
    money = [key for key in differing if key.startswith("spent ")]
    counts = [key for key in differing if key not in money]
    if counts:
        told = "; ".join(_difference(key, then, now) for key in counts)
        told = f"the month's sums are not those that were sealed: {told}"
        yield doubt(seal.place, "seal-totals", told)
    if money:
        told = "; ".join(_difference(key, then, now) for key in money)
        told = (
            f"{told}; a later note may give another cost, or `exchange` in journal.yaml"
            " another rate"
        )
        yield doubt(seal.place, "seal-spent", f"what {seal.month} cost has changed: {told}")


def _difference(key: str, then: Mapping[str, str], now: Mapping[str, str]) -> str:
    was, is_now = _shown(key, then.get(key, "0")), _shown(key, now.get(key, "0"))
    words = key.replace("seconds", "time", 1) if key.startswith("seconds") else key
    return f"{words} {was} when sealed, {is_now} now"


def _shown(key: str, value: str) -> str:
    is_time = key.startswith("seconds") and value.isascii() and value.isdigit()
    return length_text(int(value)) if is_time else value


def _telling_hidden(ledger: Ledger) -> Iterator[Trouble]:
    """Paths in seals that cannot be rewritten, of notes (or their files) that were hidden since."""
    hidden = {note.path for note in hidden_notes(ledger.notes)}
    if not hidden:
        return
    finder, files, open_files = Finder(ledger.files, ledger.outside), set(hidden), set[str]()
    for note in ledger.notes:
        (files if note.path in hidden else open_files).update(files_of(note, finder))
    for seal in ledger.seals:
        for one in seal.files:
            if one.kept_back is None and one.path in files - open_files:
                told = (
                    f"'{one.path}' was listed before its note was marked private: hours only, and a"
                    f" seal is never rewritten; whoever gets {seal.path} reads this name"
                )
                yield Trouble(seal.path, doubt(one.place, "seal-tells-hidden", told))


def seals(ledger: Ledger) -> Iterator[Problem]:
    """What is not as it was sealed."""
    yield from (each.problem for each in troubles(ledger))


def roles(ledger: Ledger) -> Iterator[Problem]:
    """Somebody whose role in journal.yaml is not that of sealed months, once for all of them."""
    newest = newest_seals(ledger.seals)
    for person in ledger.settings.people:
        sealed = {month: seal.role_of.get(person.name) for month, seal in newest.items()}
        others = [month for month, role in sealed.items() if role and role is not person.role]
        if others and person.role:
            was = " or ".join(sorted({str(sealed[month]) for month in others}))
            told = (
                f"'{person.name}' is {person.role} here, and was {was} when {', '.join(others)}"
                f" {'was' if len(others) == 1 else 'were'} sealed; that time counts as sealed"
            )
            yield doubt(person.place, "seal-role", told)


SEAL_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (seals, roles)


def seal_faults(ledger: Ledger) -> tuple[tuple[str, str], ...]:
    """Path and sentence of each thing that makes a sealed month another than it was sealed.

    For whoever checks a record that was handed over; paths are those of the journal.
    """
    problems = [*ledger.problems, *seals(ledger)]
    return tuple(
        dict.fromkeys(
            (problem.place.path, problem.message) for problem in problems if problem.code in FAULTS
        )
    )


def standing(ledger: Ledger) -> dict[str, tuple[str, ...]]:
    """By the path of each seal all that is told of it; nothing where all is as it was sealed.

    A file that could not be read as a seal at all is among them.
    """
    found: dict[str, list[str]] = {seal.path: [] for seal in ledger.seals}
    for problem in ledger.problems:
        if problem.code in ("seal-name", "seal-unreadable"):
            found.setdefault(problem.place.path, []).append(problem.message)
    for each in troubles(ledger):
        found[each.seal].append(each.problem.message)
    return {path: tuple(messages) for path, messages in found.items()}
