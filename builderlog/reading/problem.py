"""A mistake, a doubt or a gap in the journal, with its place: the record that every command prints.

Not an exception: reading goes on after a mistake, and all of them are told at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Weight(StrEnum):
    """How much a problem weighs, worst first."""

    MISTAKE = "mistake"  # what is written cannot be counted; exit status 1
    DOUBT = "doubt"  # counted as written, but worth a second look
    GAP = "gap"  # the evidence is thinner here than an inspector may wish


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a word stands: path from the journal's folder, line and column from 1.

    `start` and `end` are offsets in characters of the decoded file, end exclusive;
    both are 0 where the place is a file as a whole.
    """

    path: str
    line: int = 1
    column: int = 1
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to tell the builder: what was found, what is wrong, what to write."""

    place: Place
    code: str
    weight: Weight
    message: str
    stake: int = 0  # how much of the claim hangs on it, in the claim's smallest unit
    because: str = ""  # the builder's explanation; a problem that has one is no longer open

    @property
    def told(self) -> str:
        """The message, with the explanation where the builder gave one."""
        return f"{self.message} (explained: {self.because})" if self.because else self.message

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """Sorts by place as one triple, so that line 9 stands before line 10."""
        return (self.place.path, self.place.line, self.place.column, self.code, self.message)


def mistake(place: Place, code: str, message: str) -> Problem:
    """A problem that must be mended before the journal can be published."""
    return Problem(place, code, Weight.MISTAKE, message)


def doubt(place: Place, code: str, message: str, stake: int = 0) -> Problem:
    """A problem that is counted as written, but worth a second look."""
    return Problem(place, code, Weight.DOUBT, message, stake)


def gap(place: Place, code: str, message: str, stake: int = 0) -> Problem:
    """A place where the evidence is thin."""
    return Problem(place, code, Weight.GAP, message, stake)


def sort_worst_first(problems: list[Problem] | tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Mistakes, then doubts, then gaps, the explained ones last; the same problem told once.

    Within each, those on which more of the claim hangs come first, then by place.
    """
    ranks = {weight: rank for rank, weight in enumerate(Weight)}
    unique = dict.fromkeys(problems)

    def rank(problem: Problem) -> tuple[int, bool, int, tuple[str, int, int, str, str]]:
        return ranks[problem.weight], bool(problem.because), -problem.stake, problem.order

    return tuple(sorted(unique, key=rank))
