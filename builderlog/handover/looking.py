"""What stands in a folder that calls itself a bag: regular files, and all that must not be there.

Follows no link and opens nothing.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from builderlog.handover.fault import Fault, printable


@dataclass(slots=True)
class Standing:
    """Size in bytes of each regular file by its path from the bag; paths of all that is none."""

    files: dict[str, int] = field(default_factory=dict)
    strange: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)

    def tell(self, path: str, code: str, message: str) -> None:
        """Keeps a path that is no file that can be checked."""
        self.strange.add(path)
        self.faults.append(Fault(printable(path), code, message))


def look_through(bag: Path) -> Standing:
    """Every entry of the bag at any depth, sorted."""
    found = Standing()
    waiting = [""]
    while waiting:
        waiting.extend(reversed([*_look_into(bag, waiting.pop(), found)]))
    return found


def _look_into(bag: Path, folder: str, found: Standing) -> Iterator[str]:
    """Notes the files of one folder; the folders in it."""
    try:
        with os.scandir(bag / folder) as entries:
            held = sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        found.tell(folder or ".", "unreadable", f"this folder cannot be opened: {error.strerror}")
        return
    for entry in held:
        path = f"{folder}/{entry.name}" if folder else entry.name
        if _is_folder(entry):
            yield path
        else:
            _note_entry(entry, path, found)


def _is_folder(entry: os.DirEntry[str]) -> bool:
    return entry.is_dir(follow_symlinks=False)


def _note_entry(entry: os.DirEntry[str], path: str, found: Standing) -> None:
    if entry.is_symlink():
        found.tell(
            path, "link", "a link stands here, and a bag holds files alone; it is not followed"
        )
    elif not entry.is_file(follow_symlinks=False):
        found.tell(path, "no-file", "a device or pipe stands here, and a bag holds files alone")
    elif any("\ud800" <= sign <= "\udfff" for sign in path):
        found.tell(
            path, "name-not-utf8", "the file's name is not UTF-8, so no manifest can list it"
        )
    else:
        _note_file(entry, path, found)


def _note_file(entry: os.DirEntry[str], path: str, found: Standing) -> None:
    try:
        found.files[path] = entry.stat(follow_symlinks=False).st_size
    except OSError as error:
        found.tell(path, "unreadable", f"this file cannot be looked at: {error.strerror}")
