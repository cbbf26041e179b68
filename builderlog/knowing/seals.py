"""Seals: what the file of a sealed month says, and the chain in which the files follow each other.

A seal is never rewritten; what changed afterwards is sealed again by an amendment behind it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.knowing.settings import Role
from builderlog.reading.problem import Place

SEALS_FOLDER = "seals/"
NO_SEAL = "none"  # stands where the digest of the seal before would, in the first seal


@dataclass(frozen=True, slots=True)
class SealedFile:
    """One file as it was on the day of sealing: its SHA-256 in hex, and where it stood.

    Of a note with nothing but its time for others, and of the files that only such notes name,
    the path is a neutral one (`kept-back/2026-03-14.1`), and `kept_back` the day of the note.
    """

    digest: str
    path: str
    place: Place = Place("")
    kept_back: date | None = None


@dataclass(frozen=True, slots=True)
class Seal:
    """One month as it was sealed, or an amendment of it."""

    path: str
    month: str  # "2026-03"
    amends: str  # path of the seal that it amends, "" for a month's first
    why: str  # of an amendment
    sealed_on: date
    before: str  # SHA-256 of the seal before it in the chain, "" for the first of all
    roles: tuple[tuple[str, Role], ...]  # of who has time in the month, as declared that day
    files: tuple[SealedFile, ...]
    totals: tuple[tuple[str, str], ...]  # key and value as written: ("seconds of Ines", "11700")
    digest: str = ""  # SHA-256 of the seal's own bytes, which is the month's seal
    place: Place = Place("")

    @property
    def role_of(self) -> Mapping[str, Role]:
        """Everyone's role by name."""
        return dict(self.roles)


def in_chain_order(seals: Iterable[Seal]) -> tuple[Seal, ...]:
    """Each seal behind the one that it names as the one before it.

    Where the chain is broken it goes on with a seal whose one before is not there, the earliest
    day of sealing first, then by path; so each has its place, in whatever order files are listed.
    """
    left = sorted(seals, key=_rank)
    ordered: list[Seal] = []
    last = ""
    while left:
        waiting = {seal.digest for seal in left}
        following = [seal for seal in left if ordered and seal.before == last]
        heads = [seal for seal in left if seal.before not in waiting]
        chosen = (following or heads or left)[0]
        left.remove(chosen)
        ordered.append(chosen)
        last = chosen.digest
    return tuple(ordered)


def _rank(seal: Seal) -> tuple[bool, date, bool, str]:
    """Where nothing else says: the first of all, then by day, amendments behind what they amend."""
    return bool(seal.before), seal.sealed_on, bool(seal.amends), seal.path


def newest_seals(seals: Iterable[Seal]) -> dict[str, Seal]:
    """By month the seal that counts, which is the last in the chain; months in their order."""
    newest = {seal.month: seal for seal in seals}
    return {month: newest[month] for month in sorted(newest)}
