"""Digests of bytes at hand and of files handed to us: bounded memory, regular files only."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO

from builderlog.storing.copying import Digests, digests_of, pieces_of

# Never wait for a device or a pipe, never go through a link; 0 where a system lacks the word.
_FLAGS = os.O_RDONLY | sum(
    int(getattr(os, word, 0)) for word in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY", "O_CLOEXEC")
)


class NotRegularError(OSError):
    """A link, device, pipe or folder stands where a file should be."""


def digests_of_bytes(data: bytes) -> Digests:
    """Both digests of bytes at hand."""
    return digests_of((data,))


def digests_of_regular(file: Path) -> Digests:
    """Both digests of a file that was handed to us. Raises OSError."""
    with open_regular(file) as stream:
        return digests_of(pieces_of(stream))


def open_regular(file: Path) -> BinaryIO:
    """Opens a file that was handed to us: no link, no device, no pipe. Raises OSError."""
    descriptor = os.open(file, _FLAGS)
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise NotRegularError(f"{file} is not a regular file")
    return os.fdopen(descriptor, "rb")
