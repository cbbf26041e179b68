"""Where an output may stand: never over the journal, its originals, another output or a link."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from builderlog.storing.inside import (
    MARK_NAME,
    STAGE_NAME,
    Standing,
    find_link,
    fold,
    look_at,
)
from builderlog.storing.mark import COMMANDS, Kind, Mark, read_mark
from builderlog.storing.refusal import Refused

ELSEWHERE = "choose another folder with --out"


def settle(folder: Path) -> Path:
    """The absolute path, with links on the way to it resolved but not the folder itself."""
    if folder.name in ("", ".."):
        return folder.resolve()
    return folder.parent.resolve() / folder.name


def check_grounds(folder: Path, originals: Sequence[Path], journal: Path) -> None:
    """Raises `Refused` unless `folder` (settled) is free ground or a folder.

    What the journal and its originals really are is compared, by resolved name and by
    identity on the disk, so that a link or another spelling cannot lead into them.
    """
    _check_standing(folder)
    if _covers(folder, journal):
        raise Refused(f"{folder} is or contains the journal itself; {ELSEWHERE}")
    for original in originals:
        if _covers(original, folder) or _covers(folder, original):
            raise Refused(f"{folder} overlaps the journal's originals in {original}; {ELSEWHERE}")
    for outer in folder.parents:
        if look_at(outer / MARK_NAME) is Standing.FILE:
            raise Refused(f"{folder} lies inside {outer}, which is itself an output; {ELSEWHERE}")


def _check_standing(folder: Path) -> None:
    standing = look_at(folder)
    if standing is Standing.LINK:
        raise Refused(
            f"{folder} is a link to {os.readlink(folder)}, and nothing is written through links; "
            f"name the folder itself, or {ELSEWHERE}"
        )
    if standing not in (Standing.NOTHING, Standing.FOLDER):
        raise Refused(f"{folder} is a file, not a folder; {ELSEWHERE}")


def _covers(outer: Path, inner: Path) -> bool:
    """Whether `inner` is `outer` or lies in it, by name (in any case) or on the disk."""
    outer, inner = outer.resolve(), inner.resolve()
    outer_parts, inner_parts = (_folded(path) for path in (outer, inner))
    if inner_parts[: len(outer_parts)] == outer_parts:
        return True
    return outer.exists() and any(
        place.exists() and place.samefile(outer) for place in (inner, *inner.parents)
    )


def _folded(path: Path) -> tuple[str, ...]:
    return tuple(fold(part) for part in path.parts)


def check_ours(folder: Path, kind: Kind, mark: Mark | None) -> None:
    """Raises `Refused` where the folder holds strange files, or is an output of the other kind."""
    if mark is None:
        _check_empty(folder)
    elif mark.kind != kind:
        raise Refused(
            f"{folder} was written by `{COMMANDS[mark.kind]}`, not by `{COMMANDS[kind]}`; "
            f"{ELSEWHERE}"
        )
    else:
        _check_links(folder, mark)


def _check_empty(folder: Path) -> None:
    strange = sorted(name for name in os.listdir(folder) if name != STAGE_NAME)
    if strange:
        raise Refused(
            f"{folder} holds files that builderlog did not write ({strange[0]!r} among them); "
            f"empty it yourself, or {ELSEWHERE}"
        )


def _check_links(folder: Path, mark: Mark) -> None:
    """No folder in which a listed file lay may have become a link: deletions stay inside."""
    for path in mark.paths:
        link = find_link(folder, path)
        if link is not None:
            raise Refused(
                f"{folder / link} is a link that leads elsewhere; take it away, or {ELSEWHERE}"
            )


def read_own_mark(folder: Path, kind: Kind) -> Mark | None:
    """The mark of a folder that may be written into, None for an empty one; else `Refused`."""
    mark = read_mark(folder)
    check_ours(folder, kind, mark)
    return mark
