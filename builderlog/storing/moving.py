"""Moves originals: copied beside their place, held against the digest, named, then taken away.

Whatever moment the power goes, an original is whole under its old name, its new one, or both.
One writer at a time: the caller holds the lock.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from stat import S_ISREG
from typing import BinaryIO

from builderlog.reading.folder import folded
from builderlog.storing.copying import pieces_of
from builderlog.storing.lasting import CANNOT, keep_names
from builderlog.storing.refusal import refusing

UNFINISHED = ".unfinished"  # the ending of a copy that has no name yet; it begins with a dot too
NAMED_BY = 32  # hex digits of its digest in between


class OtherBytesError(Exception):
    """What was copied is not what was read before: the file is still being written."""


def copy_original(source: Path, folder: Path, name: str, digest: str) -> Path:
    """Copies `source` into `folder` under the first free name like `name`; lasting on return.

    `digest` is the SHA-256 that the copy must have when it is read back. Never over another
    file, also where names differ only in case. Raises `OtherBytesError`, or `Refused` where the
    folder cannot be written (the disk is full); then nothing is left behind.
    """
    unfinished = folder / f".{digest[:NAMED_BY]}{UNFINISHED}"
    with refusing(f"copy {source} into {folder}"):
        folder.mkdir(parents=True, exist_ok=True)
        try:
            _copy(source, unfinished)
            if digest_on_disk(unfinished) != digest:
                raise OtherBytesError(f"{source} changed while it was read")
            file = _name(unfinished, folder, name)
        finally:
            unfinished.unlink(missing_ok=True)
        keep_names(folder)
    return file


def take_away(source: Path, file: Path, digest: str) -> bool:
    """Removes `source` once `file` was read again and has its digest; says whether it did.

    Not where the two are one file under one name, nor where `source` holds other bytes by now.
    Raises `Refused` where it cannot be removed.
    """
    with refusing(f"take away {source}"):
        if not _is_regular(source) or _is_one_name(source, file):
            return False
        if digest_on_disk(source) != digest or digest_on_disk(file) != digest:
            return False
        keep_names(file.parent)
        source.unlink()
        keep_names(source.parent)
    return True


def clear_unfinished(folder: Path) -> None:
    """Removes copies without a name that a killed run left anywhere below `folder`."""
    with refusing(f"tidy up {folder}"):
        for file in folder.glob(f"**/.{'[0-9a-f]' * NAMED_BY}{UNFINISHED}"):
            if _is_regular(file):
                file.unlink()


def free_name(taken: Iterable[str], name: str) -> str:
    """`name`, or with -2, -3 … before its ending, so that it differs from all in more than case."""
    used = {folded(other) for other in taken}
    stem, dot, ending = name.rpartition(".")
    number, tried = 1, name
    while folded(tried) in used:
        number += 1
        tried = f"{stem}-{number}{dot}{ending}"
    return tried


def digest_on_disk(file: Path) -> str:
    """The SHA-256 of a file as the disk has it: written out and, where asked for, read anew."""
    hashed = hashlib.sha256()
    with open(file, "rb", buffering=0) as stream:
        _forget(stream)
        for piece in pieces_of(stream):
            hashed.update(piece)
    return hashed.hexdigest()


def _copy(source: Path, unfinished: Path) -> None:
    """Bytes and time of change; the system writes them out before this returns."""
    unfinished.unlink(missing_ok=True)
    with open(source, "rb", buffering=0) as read, open(unfinished, "xb") as write:
        write.writelines(pieces_of(read))
        write.flush()
        stat = os.fstat(read.fileno())
        os.utime(unfinished, ns=(stat.st_atime_ns, stat.st_mtime_ns))
        os.fsync(write.fileno())


def _name(unfinished: Path, folder: Path, name: str) -> Path:
    """Gives the copy its name; tries the next free one where another program was faster."""
    while True:
        file = folder / free_name(os.listdir(folder), name)
        try:
            os.link(unfinished, file)
        except FileExistsError:
            continue
        except OSError as error:
            if error.errno not in CANNOT:
                raise
            os.rename(unfinished, file)  # the lock is ours, and the name was free just now
        return file


def _forget(stream: BinaryIO) -> None:
    """Asks the system to read from the disk, not from its memory of what was written."""
    advise = getattr(os, "posix_fadvise", None)
    if advise is not None:
        with suppress(OSError):  # advice: what cannot be had is done without
            advise(stream.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def _is_regular(file: Path) -> bool:
    try:
        return S_ISREG(os.lstat(file).st_mode)
    except FileNotFoundError:
        return False


def _is_one_name(source: Path, file: Path) -> bool:
    """True where both lead to one file that has but one name: removing it would lose it."""
    return os.path.samefile(source, file) and os.stat(source).st_nlink == 1
