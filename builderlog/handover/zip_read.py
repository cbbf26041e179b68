"""Reads a zip that anybody may have made: its list of contents, and each file's bytes, bounded.

Source: APPNOTE.TXT, .ZIP File Format Specification 6.3.x (from memory). Trusts nothing: whatever
does not fit together raises `BrokenZipError`; what is odd but can be read is for `zip_check`.
"""

from __future__ import annotations

import os
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from struct import Struct, error
from typing import BinaryIO

from builderlog.handover.zip_form import (
    CENTRAL,
    CENTRAL_SIGNATURE,
    END,
    END64,
    END64_SIGNATURE,
    END_SIGNATURE,
    EXTRA_64,
    FULL_16,
    FULL_32,
    LOCAL,
    LOCAL_SIGNATURE,
    LOCATOR,
    LOCATOR_SIGNATURE,
    STORED,
    UTF8,
)

MOST_ENTRIES = 1_000_000
LARGEST_LIST = 1 << 29  # bytes of the list of contents
LONGEST_COMMENT = 0xFFFF
DEFLATED = 8
BEHIND = 8  # the bit that says: sizes and CRC stand behind the bytes
ENCRYPTED = 0x2041  # bits 0, 6 and 13
PIECE_BYTES = 1 << 18


class BrokenZipError(Exception):
    """The zip, or one file in it, cannot be read; the message says why."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What the list of contents says of one file; `name` is "" where it is not UTF-8."""

    name: str
    raw: bytes
    flags: int
    method: int
    stamp: tuple[int, int]  # time and date
    crc: int
    packed: int  # bytes in the zip
    size: int  # bytes when unpacked
    offset: int
    creator: int
    attributes: int


@dataclass(frozen=True, slots=True)
class Directory:
    """The list of contents, and where it begins."""

    entries: tuple[Entry, ...]
    start: int


@dataclass(frozen=True, slots=True)
class Local:
    """What stands before a file's bytes, and where they begin."""

    raw: bytes
    flags: int
    method: int
    stamp: tuple[int, int]
    crc: int
    packed: int
    size: int
    data: int


def read_directory(stream: BinaryIO) -> Directory:
    """The list of contents. Raises `BrokenZipError`."""
    length = stream.seek(0, os.SEEK_END)
    count, size, start = _find_end(stream, length)
    if count > MOST_ENTRIES or size > LARGEST_LIST:
        raise BrokenZipError(
            f"it lists {count} files in {size} bytes; at most {MOST_ENTRIES} files in "
            f"{LARGEST_LIST} bytes are read"
        )
    if start + size > length:
        raise BrokenZipError("its list of contents lies outside the file")
    stream.seek(start)
    data = stream.read(size)
    entries = tuple(_entries(data, count))
    return Directory(entries, start)


def _find_end(stream: BinaryIO, length: int) -> tuple[int, int, int]:
    """Number of files, size and place of the list of contents."""
    stream.seek(max(0, length - END.size - LONGEST_COMMENT))
    tail = stream.read()
    at = tail.rfind(END_SIGNATURE)
    if at < 0 or len(tail) - at < END.size:
        raise BrokenZipError("it has no end of a zip file")
    _, disk, start_disk, here, count, size, start, comment = END.unpack_from(tail, at)
    if at + END.size + comment != len(tail):
        raise BrokenZipError("something stands behind its end, or the end is damaged")
    if disk or start_disk or here != count:
        raise BrokenZipError("it is one part of several")
    if count == FULL_16 or FULL_32 in {size, start}:
        return _find_end64(stream, length - len(tail) + at) or (count, size, start)
    return count, size, start


def _find_end64(stream: BinaryIO, end: int) -> tuple[int, int, int] | None:
    """The same from the larger fields; None where there are none."""
    if end < LOCATOR.size + END64.size:
        return None
    stream.seek(end - LOCATOR.size)
    signature, disk, place, disks = LOCATOR.unpack(stream.read(LOCATOR.size))
    if signature != LOCATOR_SIGNATURE:
        return None
    if disk or disks > 1 or place > end - LOCATOR.size - END64.size:
        raise BrokenZipError("its larger end does not stand where it should")
    stream.seek(place)
    words = END64.unpack(stream.read(END64.size))
    if words[0] != END64_SIGNATURE:
        raise BrokenZipError("its larger end does not stand where it should")
    return words[7], words[8], words[9]


def _entries(data: bytes, count: int) -> Iterator[Entry]:
    at = 0
    for number in range(count):
        try:
            words = CENTRAL.unpack_from(data, at)
        except error as broken:
            raise BrokenZipError(f"its list of contents ends before file {number + 1}") from broken
        if words[0] != CENTRAL_SIGNATURE:
            raise BrokenZipError(f"file {number + 1} of its list of contents cannot be read")
        name, extra, comment = words[10:13]
        end = at + CENTRAL.size + name + extra + comment
        if end > len(data):
            raise BrokenZipError(f"its list of contents ends inside file {number + 1}")
        named = at + CENTRAL.size
        raw, more = data[named : named + name], data[named + name : named + name + extra]
        yield _entry(words, raw, more)
        at = end
    if at != len(data):
        raise BrokenZipError("its list of contents holds more than the files it counts")


def _entry(words: tuple[int, ...], raw: bytes, extra: bytes) -> Entry:
    creator, _, flags, method, time, date, crc, packed, size = words[1:10]
    size, packed, offset = _large((size, packed, words[16]), extra)
    name = _text(raw, flags)
    stamp = (time, date)
    return Entry(
        name, raw, flags, method, stamp, crc, packed, size, offset, creator >> 8, words[15]
    )


def _text(raw: bytes, flags: int) -> str:
    """The name; a name of other than ASCII signs has to say that it is UTF-8."""
    try:
        return raw.decode("utf-8" if flags & UTF8 else "ascii")
    except UnicodeDecodeError:
        return ""


def _large(numbers: tuple[int, ...], extra: bytes) -> tuple[int, ...]:
    """The numbers, each that is full taken from the larger field."""
    larger = _larger(extra)
    return tuple(next(larger, one) if one == FULL_32 else one for one in numbers)


def _larger(extra: bytes) -> Iterator[int]:
    at, head = 0, Struct("<HH")
    while at + head.size <= len(extra):
        kind, length = head.unpack_from(extra, at)
        at += head.size
        if kind == EXTRA_64:
            field = extra[at : at + length]
            yield from (number for (number,) in Struct("<Q").iter_unpack(field[: length // 8 * 8]))
            return
        at += length


def read_local(stream: BinaryIO, entry: Entry) -> Local:
    """What stands before the bytes of a file. Raises `BrokenZipError`."""
    stream.seek(entry.offset)
    head = stream.read(LOCAL.size)
    if len(head) < LOCAL.size or not head.startswith(LOCAL_SIGNATURE):
        raise BrokenZipError("it does not begin where the list of contents says")
    _, _, flags, method, time, date, crc, packed, size, name, extra = LOCAL.unpack(head)
    raw, more = stream.read(name), stream.read(extra)
    size, packed = _large((size, packed), more)
    data = entry.offset + LOCAL.size + name + extra
    return Local(raw, flags, method, (time, date), crc, packed, size, data)


def unpacked(stream: BinaryIO, entry: Entry) -> Iterator[bytes]:
    """A file's bytes, never more than it declares. Raises `BrokenZipError` where they do not fit.

    What came before the error was yielded.
    """
    stream.seek(read_local(stream, entry).data)
    crc = done = 0
    for piece in _stored(stream, entry) if entry.method == STORED else _inflated(stream, entry):
        done += len(piece)
        if done > entry.size:
            raise BrokenZipError(f"it unpacks to more than the {entry.size} bytes it declares")
        crc = zlib.crc32(piece, crc)
        yield piece
    if done != entry.size:
        raise BrokenZipError(f"it unpacks to {done} bytes, not to the {entry.size} it declares")
    if crc != entry.crc:
        raise BrokenZipError("its bytes do not have the checksum that the zip gives for them")


def _stored(stream: BinaryIO, entry: Entry) -> Iterator[bytes]:
    left = entry.packed
    while left and (piece := stream.read(min(left, PIECE_BYTES))):
        left -= len(piece)
        yield piece


def _inflated(stream: BinaryIO, entry: Entry) -> Iterator[bytes]:
    """Deflated bytes, a piece at a time, so that no piece can fill the memory."""
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        for piece in _stored(stream, entry):
            rest = piece
            while rest and not inflater.eof:
                yield inflater.decompress(rest, PIECE_BYTES)
                rest = inflater.unconsumed_tail
        while not inflater.eof and (more := inflater.decompress(b"", PIECE_BYTES)):
            yield more
    except zlib.error as broken:
        raise BrokenZipError(f"it cannot be unpacked ({broken})") from broken
