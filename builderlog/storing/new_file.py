"""Writes a file that was not there: whole, lasting, and never over another one."""

from __future__ import annotations

import os
from pathlib import Path

from builderlog.storing.lasting import keep_names
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.unfinished import unfinished


def write_new(file: Path, data: bytes) -> None:
    """Writes `data`, making the folder where needed; it is on the disk when this returns.

    Raises `Refused` where the name is taken, by a broken link too, or the folder cannot be
    written; then nothing is left behind.
    """
    with refusing(f"write {file}"):
        file.parent.mkdir(parents=True, exist_ok=True)
        try:
            with unfinished(file) as temporary:
                _write(temporary, data)
                _name(temporary, file)
        except FileExistsError:
            told = f"{file} is there already and is never written over; move it away, or look at it"
            raise Refused(told) from None
        keep_names(file.parent)


def _name(temporary: Path, file: Path) -> None:
    """Gives the file its name, which fails where it is taken. Raises FileExistsError, OSError."""
    try:
        os.link(temporary, file)
    except FileExistsError:
        raise
    except OSError:  # a file system without second names, as on a stick: less safe from a power cut
        _write(file, data=temporary.read_bytes())


def _write(file: Path, data: bytes) -> None:
    with file.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
