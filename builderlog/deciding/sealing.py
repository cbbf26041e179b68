"""Sealing a month: which files it covers, what its seal says, and which months are sealed.

Pure: the ledger and digests in, a seal out; the command reads the files and writes the seal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby

from builderlog.deciding.costs import shown
from builderlog.deciding.months import MonthRollup, months
from builderlog.deciding.sealing_kept import as_handed_over, hidden_notes
from builderlog.deciding.words import month_of
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.files import Finder
from builderlog.knowing.journal import JOURNAL_FILE, NOTE_ENDINGS, NOTES_FOLDER, WORKLIST_FILE
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.note_files import files_of
from builderlog.knowing.seals import SEALS_FOLDER, Seal, SealedFile, newest_seals
from builderlog.knowing.seals_file import KEPT_BACK, with_digest
from builderlog.knowing.settings import Role

Totals = tuple[tuple[str, str], ...]  # key and value, as a seal writes them

_NO_TIME = {role.value: 0 for role in Role}


@dataclass(frozen=True, slots=True)
class Sealing:
    """What is asked for: to seal a month on a day or, with a reason, to amend its seal."""

    month: str
    on: date
    amend: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Covered:
    """A file that a month's seal covers; `kept_back` is the day of the hidden note it is of."""

    path: str
    kept_back: date | None = None


def is_sealed(ledger: Ledger, month: str) -> bool:
    """True where a seal closes the month ("2026-03"): its notes must not be touched any more."""
    return any(seal.month == month for seal in ledger.seals)


def last_seal(ledger: Ledger) -> Seal | None:
    """The seal that counts of the last month that is sealed."""
    newest = newest_seals(ledger.seals)
    return newest[max(newest)] if newest else None


def notes_by_month(ledger: Ledger) -> dict[str, list[Note]]:
    """Notes by the month that they are dated in, oldest first."""
    by_month: dict[str, list[Note]] = {}
    for note in ledger.notes:
        if note.day:
            by_month.setdefault(month_of(note.day), []).append(note)
    return by_month


def covered_by(ledger: Ledger, month: str) -> tuple[Covered, ...]:
    """Every note dated in the month, and every file that these notes name, each once."""
    notes = notes_by_month(ledger).get(month, [])
    finder = Finder(ledger.files, ledger.outside)
    found: dict[str, date | None] = {}
    for note in (one for one in notes if one.privacy is not Privacy.HOURS_ONLY):
        found.update(dict.fromkeys((note.path, *_papers(note, finder))))
    for note in hidden_notes(notes):
        for path in (note.path, *_papers(note, finder)):
            found.setdefault(path, note.day)
    return tuple(Covered(path, found[path]) for path in sorted(found))


def _papers(note: Note, finder: Finder) -> Iterator[str]:
    """The files of a note that a seal covers: no other note, and no list that must live on."""
    for path in files_of(note, finder):
        another = path.startswith(NOTES_FOLDER) and path.lower().endswith(NOTE_ENDINGS)
        living = path in (JOURNAL_FILE, WORKLIST_FILE) or path.startswith(SEALS_FOLDER)
        if not another and not living:
            yield path


def compose(ledger: Ledger, asked: Sealing, digests: Mapping[str, str]) -> Seal:
    """The seal, with its digest; `digests` holds SHA-256 by path of all that it covers.

    Everyone counts in the role that journal.yaml declares now, whatever an older seal says.
    """
    month, declared = asked.month, as_declared(ledger, asked.month)
    chain, amended = ledger.seals, newest_seals(ledger.seals).get(asked.month)
    rows = [row for row in declared.work if month_of(row.day) == month and row.seconds]
    seal = Seal(
        path=path_for(ledger.files, month, amend=asked.amend),
        month=month,
        amends=amended.path if asked.amend and amended else "",
        why=asked.why if asked.amend else "",
        sealed_on=asked.on,
        before=chain[-1].digest if chain else "",
        roles=tuple(sorted({row.person: row.role for row in rows}.items())),
        files=tuple(_listed(covered_by(ledger, month), digests)),
        totals=totals_of(totals_by_month(declared).get(month)),
    )
    return with_digest(seal)


def path_for(files: Iterable[str], month: str, *, amend: bool) -> str:
    """`seals/2026-03.txt`, or the first free one of `seals/2026-03-amended-1.txt`, `…-2.txt`."""
    if not amend:
        return f"{SEALS_FOLDER}{month}.txt"
    taken, number = frozenset(files), 1
    while (path := f"{SEALS_FOLDER}{month}-amended-{number}.txt") in taken:
        number += 1
    return path


def as_declared(ledger: Ledger, month: str) -> Ledger:
    """The ledger with the month's work in the roles that journal.yaml declares today."""
    roles = {person.name: person.role for person in ledger.settings.people if person.role}
    work = tuple(
        replace(row, role=roles.get(row.person, row.role)) if month_of(row.day) == month else row
        for row in ledger.work
    )
    return replace(ledger, work=work)


def _listed(covered: Iterable[Covered], digests: Mapping[str, str]) -> Iterator[SealedFile]:
    """Files by path; then what is kept back, numbered day by day in order of the digests."""
    kept: list[tuple[date, str, str]] = []
    for one in covered:
        if one.kept_back is None:
            yield SealedFile(digests[one.path], one.path)
        else:
            kept.append((one.kept_back, digests[one.path], one.path))
    for day, files in groupby(sorted(kept), key=lambda one: one[0]):
        for number, (_, digest, _) in enumerate(files, start=1):
            yield SealedFile(digest, f"{KEPT_BACK}{day}.{number}", kept_back=day)


def totals_by_month(ledger: Ledger) -> dict[str, MonthRollup]:
    """Every month's sums as the inspector sees them.

    They are those of `tally`, except that pictures and costs of notes with nothing but their
    time for others are left out: a seal goes along, and must not tell of them.
    """
    return {rollup.month: rollup for rollup in months(as_handed_over(ledger))}


def totals_of(month: MonthRollup | None) -> Totals:
    """A month's sums as a seal writes them; noughts for a month without a note."""
    by_role = month.by_role if month else _NO_TIME
    people = month.by_person if month else {}
    spent = shown(month.spent) if month else {}
    pairs = (
        ("seconds", month.seconds if month else 0),
        *((f"seconds as {role}", seconds) for role, seconds in by_role.items()),
        *((f"seconds of {name}", seconds) for name, seconds in people.items()),
        ("notes", month.notes if month else 0),
        ("days", month.days if month else 0),
        ("photos", month.photos if month else 0),
        *((f"spent {code}", amount) for code, amount in spent.items()),
    )
    return tuple((key, str(value)) for key, value in pairs)


def says_the_same(new: Seal, old: Seal) -> bool:
    """True where a seal would say of its month just what an older one says."""
    return (_said(new), new.totals, new.roles) == (_said(old), old.totals, old.roles)


def _said(seal: Seal) -> list[tuple[str, str]]:
    return sorted((one.path, one.digest) for one in seal.files)
