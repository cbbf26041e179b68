"""Replaces one of the builder's files: whole, lasting, and only if it is as it was read."""

from __future__ import annotations

import os
from pathlib import Path

from builderlog.storing.lasting import keep_names
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.unfinished import unfinished


def replace_original(file: Path, old: bytes, new: bytes) -> None:
    """Writes `new` in the place of `old`; mode and name stay. It is on the disk when this returns.

    Raises `Refused`, with the file untouched, where it no longer holds `old` (the builder has
    saved it since it was read), may not be written, or the disk is full.
    """
    with refusing(f"write {file}"):
        target = file.resolve(strict=True)  # through a link inside the journal, which stays a link
        if not os.access(target, os.W_OK):
            raise Refused(f"{file} is marked read-only, so nothing was written into it")
        with unfinished(target) as temporary:
            _write(temporary, new, target.stat().st_mode & 0o7777)
            if target.read_bytes() != old:
                raise Refused(
                    f"{file} was changed by another program just now, so nothing was written into "
                    "it; save and close it there, then do this again"
                )
            temporary.replace(target)
        keep_names(target.parent)


def _write(file: Path, data: bytes, mode: int) -> None:
    with file.open("wb") as stream:
        stream.write(data)
        file.chmod(mode)
        stream.flush()
        os.fsync(stream.fileno())
