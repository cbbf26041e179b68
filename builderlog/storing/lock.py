"""One writer at a time: a lock on a file, which vanishes with the process that holds it.

Not a guard against programs other than ours, and not a queue: who comes second is refused.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from builderlog.storing.refusal import Refused, refusing

if TYPE_CHECKING:
    from filelock import BaseFileLock

LOCK_NAME = "lock"
PATIENCE_SECONDS = 10.0
PAUSE_SECONDS = 0.1
ATTEMPTS = 3  # the holder may be just taking the lock file or its folder away


class Busy(Refused):
    """Another process holds the lock."""


@contextmanager
def hold(folder: Path, what: str) -> Iterator[Path]:
    """Holds `folder`/lock, making the folder where needed; yields the lock file.

    `what` names what would be busy ("the journal wings", "published"). Raises `Refused`
    at once when another process holds it, or when the folder cannot be written. The file
    stays behind on release: taking it away would let two writers hold two files of one
    name. Who takes it away must do so while holding it, as his very last deed.
    """
    with refusing(f"lock {what}"):
        lock = _take(folder / LOCK_NAME, what)
    try:
        yield folder / LOCK_NAME
    finally:
        lock.release()


@contextmanager
def hold_soon(folder: Path, what: str) -> Iterator[Path]:
    """The same, waiting for some seconds while another process holds it."""
    ends = time.monotonic() + PATIENCE_SECONDS
    with ExitStack() as stack:
        file: Path | None = None
        while file is None:
            try:
                file = stack.enter_context(hold(folder, what))
            except Busy:
                if time.monotonic() > ends:
                    raise
                time.sleep(PAUSE_SECONDS)
        yield file


def _take(file: Path, what: str) -> BaseFileLock:
    """The lock, held. A lock file that vanished while we took it is tried again."""
    from filelock import FileLock, Timeout

    reason: Exception | None = None
    for _ in range(ATTEMPTS):
        file.parent.mkdir(parents=True, exist_ok=True)
        lock = FileLock(file, blocking=False, fallback_to_soft=False)
        try:
            lock.acquire()
        except (Timeout, FileNotFoundError) as error:
            reason = error
        else:
            return lock
    raise Busy(
        f"{what} is busy: another builderlog is writing there; "
        "wait until it is done, then try again"
    ) from reason
