"""The arithmetic of a claim: columns, share, limit, headroom; whole numbers and exact fractions.

Knows nothing of journals: columns are tenths of a point, marks or seconds, as the rulebook says.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from fractions import Fraction
from math import ceil, floor

from builderlog.knowing.rulebook import Rulebook, Side


@dataclass(frozen=True, slots=True)
class Columns:
    """What each side has, in the measure's smallest unit."""

    maker: int = 0
    paid: int = 0
    assembly: int = 0
    fabrication: int = 0
    unclaimed: int = 0

    def __add__(self, other: Columns) -> Columns:
        pairs = ((getattr(self, name), getattr(other, name)) for name in _NAMES)
        return Columns(*(one + two for one, two in pairs))

    def of(self, sides: Iterable[Side]) -> int:
        """What these sides have together."""
        return sum(int(getattr(self, side.value)) for side in sides)


_NAMES = tuple(field.name for field in fields(Columns))


@dataclass(frozen=True, slots=True)
class Count:
    """Columns held against a limit; `share` is None where there is nothing to take a share of."""

    tasks: int  # that apply
    columns: Columns
    share: Fraction | None = None
    meets: bool = False
    headroom: int = 0  # what may still go to paid help; 0 where the limit is not met
    short: int = 0  # what the builder would have to gain to meet it; 0 where it is met


def count(columns: Columns, tasks: int, rulebook: Rulebook) -> Count:
    """The builder's share, exactly, and what may still go to paid help without losing the limit."""
    builder, against = columns.of(rulebook.builder), columns.of(rulebook.against)
    if builder + against == 0:
        return Count(tasks, columns)
    share = Fraction(builder, builder + against)
    if rulebook.limit.met_by(share):
        headroom = _headroom(builder, against, rulebook)
        return Count(tasks, columns, share, meets=True, headroom=headroom)
    return Count(tasks, columns, share, short=_short(builder, against, rulebook))


def _headroom(builder: int, against: int, rulebook: Rulebook) -> int:
    """The greatest whole k such that the limit is met when k has gone from builder to paid help.

    Where paid help counts against the builder, the sum of both sides stays as it is:
    (builder - k) / (builder + against). Where it counts on no side, k leaves that sum too; then
    the last of it stays, since of nothing there is no share that could meet a limit.
    """
    limit = rulebook.limit
    spare = builder - limit.share * (builder + against)
    leaves = Side.PAID not in rulebook.against
    if leaves:
        spare /= 1 - limit.share
    most = ceil(spare) - 1 if limit.strict else floor(spare)
    return min(most, builder - 1) if leaves and not against else most


def _short(builder: int, against: int, rulebook: Rulebook) -> int:
    """The least whole k such that the limit is met when the builder has k more.

    Where all that is unclaimed counts against the builder, k comes out of that side; else
    (marks, hours) it comes on top of what both have.
    """
    limit = rulebook.limit
    lacking = limit.share * (builder + against) - builder
    if Side.UNCLAIMED not in rulebook.against:
        lacking /= 1 - limit.share
    return floor(lacking) + 1 if limit.strict else ceil(lacking)
