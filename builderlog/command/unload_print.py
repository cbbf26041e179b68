"""How `unload` speaks: a line for each evening, then what is odd, what looks alike, and the sum."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from builderlog.deciding.words import counted, listed
from builderlog.noting.filing import Filed
from builderlog.noting.unloading import Handed

MOST_NAMED = 8  # of files of which the same is to be said
MOST_TWINS = 5

# A day that differs from picture to picture in what is otherwise the same sentence.
_DAY = re.compile(r"(clock says|in its name is|in its name counts,) (\d{4}-\d\d-\d\d)")


def day_lines(handed: Handed) -> Iterator[str]:
    """`2026-03-14: 3 pictures to notes/2026-03-14.md`; nothing where there is no note."""
    number = handed.new + handed.again
    if handed.note and number:
        yield f"{handed.day}: {counted(number, 'picture')} to {handed.note}"


def noteless_lines(done: Iterable[Handed]) -> Iterator[str]:
    """Which days of those that were filed have no note yet, in one line."""
    groups = [one for one in done if one.day and not one.note and one.new + one.again]
    days = [str(one.day) for one in groups]
    if days:
        pictures = counted(sum(one.new + one.again for one in groups), "picture")
        span = f"{len(days)} days from {days[0]} to {days[-1]}"
        shown = listed(days) if len(days) <= MOST_NAMED else span
        yield f"{pictures} of {shown}: filed, and there is no note of {_that_day(days)} yet"


def odd_lines(root: Path, done: Iterable[Handed]) -> Iterator[str]:
    """What stays, and what was filed although something is odd; the same is said once for all."""
    by_reason: dict[tuple[bool, str], _Same] = {}
    for one in (one for handed in done for one in handed.filed if one.told):
        name = _name(root, one)
        head = f"{name}: "
        reason = one.told.removeprefix(head)
        same = by_reason.setdefault((one.path is None, _DAY.sub(r"\1 …", reason)), _Same())
        same.days.extend(found[2] for found in _DAY.finditer(reason))
        if one.told.startswith(head):
            same.names.append(name)
    for (stays, reason), same in sorted(by_reason.items(), key=lambda item: item[0]):
        yield _odd_line(reason, same, stays=stays)


@dataclass(slots=True)
class _Same:
    """The files of which the same is to be said, and the days that differ in what is said."""

    names: list[str] = field(default_factory=list)
    days: list[str] = field(default_factory=list)


def twin_lines(pairs: Sequence[tuple[str, str]]) -> Iterator[str]:
    """Pictures that are nearly the same; all are filed, which one to keep is for the builder."""
    for one, other in pairs[:MOST_TWINS]:
        yield f"{one} and {other} are nearly the same; both are kept"
    if len(pairs) > MOST_TWINS:
        yield f"(and {len(pairs) - MOST_TWINS} more pairs of pictures that are nearly the same)"


def sum_line(done: Iterable[Handed], *, left_there: bool) -> str:
    """`12 pictures filed, 3 in the journal already, 2 files stay where they are`."""
    groups = tuple(done)
    new, again = sum(one.new for one in groups), sum(one.again for one in groups)
    stay = sum(one.stay for one in groups)
    told = [f"{counted(new, 'picture')} filed"]
    if again:
        told.append(f"{again} in the journal already")
    if stay:
        told.append(counted(stay, "file stays where it is", "files stay where they are"))
    line = ", ".join(told)
    if left_there and new + again:
        line += "; all are still where they came from, too"
    return line


def _that_day(days: Sequence[str]) -> str:
    return "that day" if len(days) == 1 else "these days"


def _name(root: Path, one: Filed) -> str:
    inside = one.source.is_relative_to(root)
    return one.source.relative_to(root).as_posix() if inside else str(one.source)


def _odd_line(reason: str, same: _Same, *, stays: bool) -> str:
    days = sorted(set(same.days))
    line = reason.replace("…", " to ".join(dict.fromkeys((*days[:1], *days[-1:]))))
    if same.names:
        more = len(same.names) - MOST_NAMED
        shown = ", ".join(same.names[:MOST_NAMED])
        line = f"{shown}{f' and {more} more' if more > 0 else ''}: {line}"
    return f"stays: {line}" if stays else line
