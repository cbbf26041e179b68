"""A file while it is being written: beside its place, under a hidden name of ours, until whole.

A process that is killed leaves it behind. Whoever writes into the folder next takes it away, but
only what bears our form of name and the number of a process that is gone.
"""

from __future__ import annotations

import os
import re
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from builderlog.storing.cache import UNFINISHED_SECONDS

_LONGEST = 40  # characters of the file's own name, so that ours is never too long for the disk
_OURS = re.compile(r"\..*\.builderlog-(\d{1,10})\.tmp", re.ASCII | re.DOTALL)


@contextmanager
def unfinished(file: Path) -> Iterator[Path]:
    """A name to write under, in the folder of `file`, that is there and can be written.

    What killed runs left in the folder goes first, and what is left under the name in the end.
    Whoever calls writes alone in the folder. Raises `OSError`.
    """
    sweep_unfinished(file.parent)
    temporary = file.with_name(f".{file.name[:_LONGEST]}.builderlog-{os.getpid()}.tmp")
    temporary.unlink(missing_ok=True)  # of a run before the machine was started anew
    try:
        yield temporary
    finally:
        temporary.unlink(missing_ok=True)


def sweep_unfinished(folder: Path) -> None:
    """Takes away what killed runs left in a folder; one that cannot be looked into is left."""
    with suppress(OSError), os.scandir(folder) as found:
        left = [(entry, ours[1]) for entry in found if (ours := _OURS.fullmatch(entry.name))]
        for entry, number in left:
            if entry.is_file(follow_symlinks=False) and not _is_at_work(int(number), entry):
                os.unlink(entry.path)


def _is_at_work(process: int, entry: os.DirEntry[str]) -> bool:
    """Whether the process that writes the file may still be there."""
    if os.name == "nt":  # where to ask for a process by signal would be to stop it
        return time.time() - entry.stat().st_mtime < UNFINISHED_SECONDS
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # another user's, or no number that a process can have
        return True
    return True
