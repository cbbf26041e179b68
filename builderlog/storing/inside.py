"""Paths inside an output folder: which are well formed, and what stands there on the disk.

A path is text with `/` between its parts. No symbolic link is ever followed here.
"""

from __future__ import annotations

import os
import stat
import unicodedata
from collections.abc import Iterable, Iterator
from enum import Enum
from errno import ENOENT, ENOTEMPTY
from pathlib import Path

STAGE_NAME = ".builderlog-stage"
MARK_NAME = ".builderlog-written.json"


class Standing(Enum):
    """What is found at a path; a link is a link, wherever it leads."""

    NOTHING = "nothing"
    FILE = "file"
    FOLDER = "folder"
    LINK = "link"
    OTHER = "other"


def fold(path: str) -> str:
    """The form in which two paths are equal that some file system takes for one.

    Case is folded and Unicode composed (NFC): the disks of two common systems keep
    but do not tell apart the case, and one of them decomposes names.
    """
    composed = unicodedata.normalize("NFC", path)
    return unicodedata.normalize("NFC", composed.casefold())


def check_inside(path: str) -> None:
    """Raises `ValueError` unless the path is relative, plain and not one of our own files."""
    parts = path.split("/")
    if any(part in ("", ".", "..") for part in parts) or "\\" in path or "\0" in path:
        raise ValueError(f"{path!r} is not a plain path inside the output")
    if fold(parts[0]) in (STAGE_NAME, MARK_NAME):
        raise ValueError(f"{path!r} is kept for the output's own bookkeeping")


def folders_of(path: str) -> Iterator[str]:
    """The folders a path lies in, outermost first; none for a file at the top."""
    parts = path.split("/")
    for count in range(1, len(parts)):
        yield "/".join(parts[:count])


def look_at(file: Path) -> Standing:
    """What stands at a file's place; NOTHING also where a folder on the way is a file."""
    try:
        mode = os.lstat(file).st_mode
    except (FileNotFoundError, NotADirectoryError):
        return Standing.NOTHING
    if stat.S_ISLNK(mode):
        return Standing.LINK
    if stat.S_ISDIR(mode):
        return Standing.FOLDER
    return Standing.FILE if stat.S_ISREG(mode) else Standing.OTHER


def find_link(root: Path, path: str) -> str | None:
    """The outermost folder on the way to `path` that is a link; None where there is none."""
    return next((f for f in folders_of(path) if look_at(root / f) is Standing.LINK), None)


def remove_file(root: Path, path: str) -> None:
    """Takes a file, or a link itself, away; leaves folders, and never goes through a link."""
    if find_link(root, path) is None and look_at(root / path) in (Standing.FILE, Standing.LINK):
        os.unlink(root / path)


def remove_if_empty(folder: Path) -> bool:
    """Takes an empty folder away. False where it is not empty or not there."""
    try:
        os.rmdir(folder)
    except OSError as error:
        if error.errno in (ENOTEMPTY, ENOENT) or look_at(folder) is not Standing.FOLDER:
            return False
        raise
    return True


def remove_empty_folders(root: Path, paths: Iterable[str]) -> None:
    """Takes away the folders in which `paths` lay, where nothing is left in them."""
    folders = {folder for path in paths for folder in folders_of(path)}
    for folder in sorted(folders, key=lambda f: (-f.count("/"), f)):
        if find_link(root, folder) is None and look_at(root / folder) is Standing.FOLDER:
            remove_if_empty(root / folder)


def walk_files(root: Path, below: str = "") -> Iterator[str]:
    """Every path that is not a folder, sorted within each folder; links are not followed."""
    with os.scandir(root / below) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        path = f"{below}/{entry.name}" if below else entry.name
        if entry.is_dir(follow_symlinks=False):
            yield from walk_files(root, path)
        else:
            yield path
