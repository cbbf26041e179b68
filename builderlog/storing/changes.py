"""The list of changes of a staged output: written whole before the first file is renamed.

While it stands in the stage, the commit has begun and must be finished, by this run or the
next. Each step may be done twice without harm, so it does not matter where a crash fell.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path

from builderlog.storing.inside import (
    MARK_NAME,
    Standing,
    check_inside,
    find_link,
    look_at,
    remove_empty_folders,
    remove_file,
)
from builderlog.storing.mark import Kind, Mark, parse_mark, parse_paths, write_mark
from builderlog.storing.refusal import Refused

FILES_NAME = "files"
LIST_NAME = "changes.json"


@dataclass(frozen=True, slots=True)
class Move:
    """One staged file, its place in the output, and what is cleared out of its way before.

    `digest` is the SHA-256 of the staged file, in hex: after a power cut a staged file
    may be there by name and yet be empty.
    """

    staged: str
    path: str
    digest: str
    clears: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ChangeList:
    """All renames in their order, then the deletions; `paths` is what the mark will list."""

    kind: Kind
    moves: tuple[Move, ...]
    deletions: tuple[str, ...]
    paths: tuple[str, ...]


def write_list(stage: Path, changes: ChangeList) -> None:
    """Writes the list under a temporary name, makes sure it is on the disk, and renames it."""
    words = {
        "format": 1,
        "kind": changes.kind,
        "moves": [asdict(move) for move in changes.moves],
        "deletions": changes.deletions,
        "paths": changes.paths,
    }
    with open(stage / "changes.tmp", "wb") as file:
        file.write(json.dumps(words).encode("ascii"))
        file.flush()
        os.fsync(file.fileno())
    os.replace(stage / "changes.tmp", stage / LIST_NAME)


def read_list(stage: Path) -> ChangeList | None:
    """The list of an interrupted commit; None where no commit had begun.

    Raises `Refused` where the list is damaged: it was renamed into place whole, so this
    is no interruption of ours.
    """
    file = stage / LIST_NAME
    if look_at(file) is not Standing.FILE:
        return None
    try:
        return _parse_list(json.loads(file.read_bytes()))
    except (ValueError, KeyError, TypeError) as error:
        raise Refused(
            f"{file} is damaged ({error}); take the folder {stage} away, then try again"
        ) from error


def _parse_list(words: dict[str, object]) -> ChangeList:
    mark: Mark = parse_mark(words)
    rows = words["moves"]
    if not isinstance(rows, list):
        raise ValueError("no list of moves")
    moves = tuple(_parse_move(**row) for row in rows)
    return ChangeList(mark.kind, moves, parse_paths(words["deletions"]), mark.paths)


def _parse_move(staged: str, path: str, digest: str, clears: list[str]) -> Move:
    check_inside(path)
    if not staged.isalnum():
        raise ValueError(f"{staged!r} is not a staged file")
    return Move(staged, path, digest, parse_paths(clears))


def carry_out(folder: Path, stage: Path, changes: ChangeList) -> None:
    """Renames, deletes and marks, in this order; may be called again after a crash.

    Raises `Refused` where a folder on the way has become a link, before it is written through.
    """
    for move in changes.moves:
        _carry_out_move(folder, stage, move)
    for path in changes.deletions:
        remove_file(folder, path)
    remove_empty_folders(folder, changes.deletions)
    (stage / "mark.tmp").write_bytes(write_mark(changes.kind, changes.paths))
    os.replace(stage / "mark.tmp", folder / MARK_NAME)


def _carry_out_move(folder: Path, stage: Path, move: Move) -> None:
    """Does one rename. No staged file: it was done before the crash, clearing included."""
    source = stage / FILES_NAME / move.staged
    if look_at(source) is not Standing.FILE:
        return
    refuse_link(folder, move.path)
    for path in move.clears:
        remove_file(folder, path)
    remove_empty_folders(folder, move.clears)
    target = folder / move.path
    target.parent.mkdir(parents=True, exist_ok=True)
    os.replace(source, target)


def refuse_link(folder: Path, path: str) -> None:
    """Raises `Refused` where the way to `path` goes through a symbolic link."""
    link = find_link(folder, path)
    if link is not None:
        raise Refused(
            f"{folder / link} is a link that leads elsewhere, and nothing is written through "
            "links; take it away, or choose another folder with --out"
        )


def drop_damaged(stage: Path, changes: ChangeList) -> None:
    """Drops staged files that a power cut left incomplete.

    Their places keep the old file; the run that finishes the commit writes them anew.
    """
    for move in changes.moves:
        source = stage / FILES_NAME / move.staged
        if look_at(source) is Standing.FILE and digest_of(source) != move.digest:
            os.unlink(source)


def digest_of(file: Path) -> str:
    """SHA-256 of a file in hex, read in pieces."""
    with open(file, "rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def paths_touched(changes: ChangeList) -> Iterable[str]:
    """Every path that carrying the list out may write or delete."""
    for move in changes.moves:
        yield move.path
        yield from move.clears
    yield from changes.deletions
