"""Copies files and takes their digests on the way: each is read once, whatever is wanted of it.

Hashing, reading and writing let other threads work, so two files at a time keep two cores busy.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

ALGORITHMS = ("sha256", "sha512")
PIECE_BYTES = 1 << 19  # small enough to stay in a core's own cache between its three readers


@dataclass(frozen=True, slots=True)
class Digests:
    """What a file's bytes come to: hex digests by algorithm, and size in bytes."""

    by_algorithm: dict[str, str]
    size_bytes: int


def digests_of(pieces: Iterable[bytes | memoryview]) -> Digests:
    """Both digests of the pieces put together."""
    hashes = [hashlib.new(name) for name in ALGORITHMS]
    size = 0
    for piece in pieces:
        size += len(piece)
        for one in hashes:
            one.update(piece)
    return Digests(dict(zip(ALGORITHMS, (h.hexdigest() for h in hashes), strict=True)), size)


def pieces_of(stream: BinaryIO) -> Iterator[memoryview]:
    """The stream's bytes, a piece at a time; a piece may be used until the next is asked for."""
    room = memoryview(bytearray(PIECE_BYTES))
    while length := stream.readinto(room):  # type: ignore[attr-defined]
        yield room[:length]


def copy_with_digests(source: Path, file: Path) -> Digests:
    """Writes a copy of `source`; its digests are those of the bytes written. Raises `OSError`."""
    with open(source, "rb", buffering=0) as read, open(file, "xb", buffering=0) as write:
        return digests_of(_each_done(pieces_of(read), lambda piece: _write(write, piece)))


def digests_if_same(source: Path, file: Path) -> Digests | None:
    """The digests of `source` where `file` holds the same bytes, else None. Raises `OSError`."""
    if source.stat().st_size != file.stat().st_size:
        return None
    with open(source, "rb", buffering=0) as read, open(file, "rb") as held:
        try:
            digests = digests_of(_each_done(pieces_of(read), lambda piece: _match(held, piece)))
        except _OtherBytesError:
            return None
        return None if held.read(1) else digests


class _OtherBytesError(Exception):
    """Two files differ."""


def _each_done(
    pieces: Iterable[memoryview], work: Callable[[memoryview], None]
) -> Iterator[memoryview]:
    for piece in pieces:
        work(piece)
        yield piece


def _write(write: BinaryIO, piece: memoryview) -> None:
    """All of a piece: a write that is not buffered may take less at a time."""
    while piece:
        piece = piece[write.write(piece) :]


def _match(held: BinaryIO, piece: memoryview) -> None:
    if held.read(len(piece)) != piece:
        raise _OtherBytesError
