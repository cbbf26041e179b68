"""A file that is still arriving: written aside, bounded, and gone again unless it is kept.

It lies in the journal's `.builderlog`, which is safe to delete: what a killed program leaves
there is nobody's only copy, and is swept away at a later start.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import time
from contextlib import suppress
from pathlib import Path

from builderlog.storing.cache import UNFINISHED_SECONDS, lay_out
from builderlog.storing.refusal import refusing

INCOMING_NAME = "incoming"
ENDING = ".part"


class Incoming:
    """One file on its way in; used by one thread at a time. `size` and `digest` grow with it."""

    def __init__(self, cache: Path) -> None:
        """`cache` is the journal's `.builderlog`. Raises Refused where it cannot be written."""
        with refusing(f"take in a file into {cache}"):
            lay_out(cache)
            (cache / INCOMING_NAME).mkdir(exist_ok=True)
            self.file = cache / INCOMING_NAME / f"{secrets.token_hex(16)}{ENDING}"
            self._stream = self.file.open("xb")
        self._hashed = hashlib.sha256()
        self.size = 0

    @property
    def digest(self) -> str:
        """SHA-256 in hex of what came so far."""
        return self._hashed.hexdigest()

    def write(self, data: bytes) -> None:
        """Takes the next bytes. Raises Refused where the disk does not."""
        with refusing(f"take in a file into {self.file.parent}"):
            self._stream.write(data)
        self._hashed.update(data)
        self.size += len(data)

    def close(self) -> None:
        """No more bytes come. Raises Refused where the last of them did not reach the disk."""
        with refusing(f"take in a file into {self.file.parent}"):
            self._stream.close()

    def discard(self) -> None:
        """Closes and removes it; may be called at any time and twice."""
        with suppress(OSError):  # a disk that is full: what is written is thrown away in any case
            self._stream.close()
        with suppress(OSError):
            self.file.unlink(missing_ok=True)


def clear_incoming(cache: Path) -> None:
    """Removes what a killed program left behind, not what arrives at another one just now.

    Raises Refused where that is not allowed.
    """
    with refusing(f"tidy up {cache / INCOMING_NAME}"):
        for file in sorted((cache / INCOMING_NAME).glob(f"*{ENDING}")):
            if time.time() - file.lstat().st_mtime > UNFINISHED_SECONDS:
                os.unlink(file)
