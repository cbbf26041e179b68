"""The facts of all pictures, read again only where a file is not the one read before.

Kept in `.builderlog/photos.json`; a damaged or older one counts as none.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from builderlog import __version__
from builderlog.reading.photo_file import (
    FACTS_VERSION,
    PhotoFile,
    photo_from_facts,
    read_photo,
    to_facts,
)
from builderlog.storing.cache import describe_trouble, lay_out, replace_file
from builderlog.storing.two_threads import each_in_two_threads

FACTS_NAME = "photos.json"

Signature = tuple[int, int, int, int]  # bytes, changed (ns), its entry changed (ns), file number


@dataclass(frozen=True, slots=True)
class PhotosRead:
    """The pictures by name, and why the cache could not be written (None while it could)."""

    photos: Mapping[str, PhotoFile]
    trouble: str | None


@dataclass(frozen=True, slots=True)
class _Known:
    signature: Signature
    photo: PhotoFile


def read_all(
    files: Sequence[tuple[str, Path]],
    folder: Path | None,
    progress: Callable[[int], None],
) -> PhotosRead:
    """The facts of each (name, file); from the cache in `folder` where the file is unchanged.

    `folder` is the journal's `.builderlog`, or None to read all and write nothing.
    `progress` is told how many pictures more are done, always from the calling thread.
    """
    known = _load(folder)
    found: dict[str, _Known] = {}
    missing: list[tuple[str, Path]] = []
    for name, file in files:
        if name in known and known[name].signature == _sign(file):
            found[name] = known[name]
        else:
            missing.append((name, file))
    progress(len(found))
    photos = {name: one.photo for name, one in found.items()}
    for name, signature, photo in each_in_two_threads(_read_signed, missing):
        photos[name] = photo
        if signature is not None:
            found[name] = _Known(signature, photo)
        progress(1)
    return PhotosRead(photos, _save(folder, found) if found != known else None)


def _read_signed(item: tuple[str, Path]) -> tuple[str, Signature | None, PhotoFile]:
    """A picture's facts, with its signature where it stayed the same while it was read."""
    name, file = item
    before = _sign(file)
    photo = read_photo(file, name)
    return name, before if before == _sign(file) and photo.digest else None, photo


def _sign(file: Path) -> Signature | None:
    """What changes whenever a file does, as far as the system tells; None where it is not there."""
    try:
        stat = file.stat()
    except OSError:  # read_photo finds the same and says it
        return None
    return stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino


def _version() -> list[str | int]:
    return [__version__, FACTS_VERSION]


def _load(folder: Path | None) -> dict[str, _Known]:
    """What the cache knows; nothing where it is absent, damaged or of another version."""
    if folder is None or not (folder / FACTS_NAME).is_file():
        return {}
    try:
        words = json.loads((folder / FACTS_NAME).read_bytes())
        if words["version"] != _version():
            return {}
        rows = [(tuple(signature), photo_from_facts(facts)) for signature, facts in words["photos"]]
    except (OSError, ValueError, LookupError, TypeError):  # a cache may be damaged: read anew
        return {}
    return {photo.name: _Known(signature, photo) for signature, photo in rows}


def _save(folder: Path | None, found: Mapping[str, _Known]) -> str | None:
    """Writes the cache; the reason where it could not be written, for the command to tell."""
    if folder is None:
        return None
    rows = [[found[name].signature, to_facts(found[name].photo)] for name in sorted(found)]
    words = {"version": _version(), "photos": rows}
    try:
        lay_out(folder)
        replace_file(folder / FACTS_NAME, json.dumps(words).encode("ascii"))
    except OSError as error:
        return describe_trouble(folder, error)
    return None
