"""Digests of files: both algorithms of a bag in one pass, in bounded memory, regular files only."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

ALGORITHMS = ("sha256", "sha512")
CHUNK_BYTES = 1 << 20

# Never wait for a device or a pipe, never go through a link; 0 where a system lacks the word.
_FLAGS = os.O_RDONLY | sum(
    int(getattr(os, word, 0)) for word in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY", "O_CLOEXEC")
)


class NotRegularError(OSError):
    """A link, device, pipe or folder stands where a file should be."""


@dataclass(frozen=True, slots=True)
class Digests:
    """What a file's bytes come to: hex digests by algorithm, and size in bytes."""

    by_algorithm: dict[str, str]
    size_bytes: int


def digests_of(chunks: Iterator[bytes]) -> Digests:
    """Both digests of the chunks put together."""
    hashes = {name: hashlib.new(name) for name in ALGORITHMS}
    size = 0
    for chunk in chunks:
        size += len(chunk)
        for one in hashes.values():
            one.update(chunk)
    return Digests({name: one.hexdigest() for name, one in hashes.items()}, size)


def digests_of_bytes(data: bytes) -> Digests:
    """Both digests of bytes at hand."""
    return digests_of(iter((data,)))


def digests_of_file(file: Path) -> Digests:
    """Both digests of an original of the journal. Raises OSError."""
    with file.open("rb") as stream:
        return digests_of(chunks_of(stream))


def chunks_of(stream: BinaryIO) -> Iterator[bytes]:
    """The stream's bytes, a piece at a time."""
    while chunk := stream.read(CHUNK_BYTES):
        yield chunk


def open_regular(file: Path) -> BinaryIO:
    """Opens a file that was handed to us: no link, no device, no pipe. Raises OSError."""
    descriptor = os.open(file, _FLAGS)
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise NotRegularError(f"{file} is not a regular file")
    return os.fdopen(descriptor, "rb")
