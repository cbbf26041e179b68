"""What must be cleared out of a new file's way before it is renamed into its place.

Two cases only: a file of ours becomes a folder or the reverse, and a file of ours differs
from the new one by nothing that every file system tells apart (case, Unicode form).
Everything else is deleted last.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from builderlog.storing.inside import Standing, fold, folders_of, look_at
from builderlog.storing.refusal import Refused


def plan_clears(staged: Iterable[str], gone: Iterable[str]) -> dict[str, set[str]]:
    """For each staged path, the paths among `gone` (ours, no longer put) that stand in its way."""
    by_fold = {fold(path): path for path in staged}
    gone_by_fold = {fold(path): path for path in gone}
    clears: dict[str, set[str]] = {}
    for path in by_fold.values():  # the old file where the new one needs a folder
        _add(clears, path, (path, *folders_of(path)), gone_by_fold)
    for path in gone_by_fold.values():  # the old folder where the new file goes
        for folder in folders_of(path):
            if fold(folder) in by_fold:
                clears.setdefault(by_fold[fold(folder)], set()).add(path)
    return clears


def _add(
    clears: dict[str, set[str]], path: str, places: Iterable[str], gone: Mapping[str, str]
) -> None:
    found = {gone[fold(place)] for place in places if fold(place) in gone}
    if found:
        clears.setdefault(path, set()).update(found)


def refuse_occupied(
    folder: Path, path: str, clears: Iterable[str], is_ours: Callable[[str], bool]
) -> None:
    """Raises `Refused` where a strange file, or a folder with anything strange, blocks the way."""
    for step in folders_of(path):
        blocked = look_at(folder / step) not in (Standing.NOTHING, Standing.FOLDER)
        if blocked and not is_ours(step):
            _refuse(folder / step, path)
    if look_at(folder / path) is Standing.FOLDER:
        strange = next(_find_strange(folder, path, set(clears)), None)
        if strange is not None:
            _refuse(folder / strange, path)


def _find_strange(folder: Path, below: str, leaving: set[str]) -> Iterator[str]:
    """Files below that do not leave, and folders that no leaving file empties."""
    emptied = {step for path in leaving for step in folders_of(path)}
    for found, _, names in os.walk(folder / below):
        place = Path(found).relative_to(folder).as_posix()
        if place not in emptied:
            yield place
        yield from (path for path in (f"{place}/{name}" for name in names) if path not in leaving)


def _refuse(blocker: Path, path: str) -> None:
    raise Refused(
        f"{blocker} stands where {path} must go, but builderlog did not write it; move it away"
    )
