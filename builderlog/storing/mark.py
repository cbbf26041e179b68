"""The mark that an output folder carries: what it is, and which files in it are ours to delete."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from builderlog.storing.inside import MARK_NAME, Standing, check_inside, look_at
from builderlog.storing.refusal import Refused, refusing

Kind = Literal["site", "dossier"]
KINDS: tuple[Kind, ...] = ("site", "dossier")
COMMANDS: dict[Kind, str] = {"site": "publish", "dossier": "dossier"}
MARK_FORMAT = 1


@dataclass(frozen=True, slots=True)
class Mark:
    """Of which kind an output is, and the sorted paths that we wrote into it."""

    kind: Kind
    paths: tuple[str, ...]


def write_mark(kind: Kind, paths: Iterable[str]) -> bytes:
    """The mark's bytes: the same for the same paths in any order."""
    listed = sorted(set(paths))
    words = {"format": MARK_FORMAT, "kind": kind, "paths": listed}
    return (json.dumps(words, indent=1, sort_keys=True) + "\n").encode("ascii")


def read_mark(folder: Path) -> Mark | None:
    """The mark of a folder, None where it carries none. Raises `Refused` where it is damaged."""
    file = folder / MARK_NAME
    standing = look_at(file)
    if standing is Standing.NOTHING:
        return None
    if standing is not Standing.FILE:
        raise Refused(f"{file} is not a file; take it away, or choose another folder with --out")
    with refusing(f"read {file}"):
        data = file.read_bytes()
    try:
        return parse_mark(json.loads(data))
    except ValueError as error:
        raise Refused(
            f"{file} is damaged ({error}), so it cannot be said which files here are ours; "
            f"empty {folder} yourself, or choose another folder with --out"
        ) from error


def parse_mark(words: object) -> Mark:
    """The mark from its JSON. Raises `ValueError` that says what is wrong."""
    if not isinstance(words, dict) or words.get("format") != MARK_FORMAT:
        raise ValueError("not written in a form that this builderlog knows")
    kind = next((kind for kind in KINDS if kind == words.get("kind")), None)
    if kind is None:
        raise ValueError("neither a site nor a dossier")
    return Mark(kind, parse_paths(words.get("paths")))


def parse_paths(words: object) -> tuple[str, ...]:
    """Paths from JSON, each checked: a planted '..' must never lead a deletion outside."""
    if not isinstance(words, list):
        raise ValueError("no list of paths")
    for path in words:
        if not isinstance(path, str):
            raise ValueError(f"{path!r} is not a path")
        check_inside(path)
    return tuple(words)
