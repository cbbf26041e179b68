"""What is wrong with a zip before a byte of it is unpacked: names, links, sizes, headers.

Every path in a fault is the one in the bag, without the folder at the zip's top.
"""

from __future__ import annotations

import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import BinaryIO

from builderlog.handover.fault import Fault, printable
from builderlog.handover.manifests import leaves_bag
from builderlog.handover.zip_form import STORED
from builderlog.handover.zip_read import (
    BEHIND,
    DEFLATED,
    ENCRYPTED,
    BrokenZipError,
    Directory,
    Entry,
    Local,
    read_local,
)
from builderlog.storing.inside import fold, folders_of

DECLARATION = "bagit.txt"
MOST_RATIO = 200  # unpacked bytes for each byte of the zip; text of ours packs to a tenth
FREE_RATIO = 1 << 28  # bytes that may be unpacked whatever the ratio
UNIX_LIKE = (3, 19)  # systems whose attributes hold a Unix mode


@dataclass(frozen=True, slots=True)
class Checked:
    """The files that may be unpacked, by path in the bag, and the faults of all others."""

    top: str  # "dossier/", or "" where the bag lies at the top of the zip
    good: tuple[tuple[str, Entry], ...]
    faults: tuple[Fault, ...]


def find_top(entries: Sequence[Entry]) -> str | None:
    """The folder in the zip that is the bag; None where none is."""
    tops = [
        each.name.removesuffix(DECLARATION)
        for each in entries
        if each.name == DECLARATION
        or (each.name.endswith(f"/{DECLARATION}") and each.name.count("/") == 1)
    ]
    return min(tops, key=lambda top: (len(top), top), default=None)


def check_entries(stream: BinaryIO, directory: Directory, top: str) -> Checked:
    """Looks at every file of the list of contents, and at what stands before its bytes."""
    good: list[tuple[str, Entry]] = []
    faults = [*_top_faults(top)]
    taken = _Taken()
    overlapping = _overlapping(stream, directory)
    for entry in directory.entries:
        path = entry.name.removeprefix(top)
        told = [*_faults_of(stream, entry, path, inside=entry.name.startswith(top))]
        told += [*overlapping.get(entry.offset, ())]
        if not told and not entry.name.endswith("/"):
            told += [*taken.take(path)]
        shown = printable(path) or printable(entry.raw.decode("utf-8", "backslashreplace")) or "?"
        faults += [Fault(shown, code, message) for code, message in told]
        if not told and not entry.name.endswith("/"):
            good.append((path, entry))
    return Checked(top, tuple(good), tuple(faults))


def _top_faults(top: str) -> Iterator[Fault]:
    if not top:
        told = "the bag has to lie in one folder at the top of the zip (RFC 8493, section 4)"
        yield Fault(DECLARATION, "zip-top", told)


class _Taken:
    """Names so far, in the form in which some file system takes two for one."""

    def __init__(self) -> None:
        self._files: dict[str, str] = {}
        self._folders: dict[str, str] = {}

    def take(self, path: str) -> Iterator[tuple[str, str]]:
        """What is wrong with one name more."""
        inside = [fold(folder) for folder in folders_of(path)]
        others = [self._files.get(each) for each in (fold(path), *inside)]
        other = next((each for each in (*others, self._folders.get(fold(path))) if each), None)
        if other is not None:
            yield "zip-twice", f"some systems take this name and {printable(other)!r} for one"
            return
        self._files[fold(path)] = path
        self._folders.update(dict.fromkeys(inside, path))


def _faults_of(
    stream: BinaryIO, entry: Entry, path: str, *, inside: bool
) -> Iterator[tuple[str, str]]:
    """Code and message of each fault; the first of names, of kinds, of headers."""
    if not entry.name:
        yield "zip-name", "the file's name is not UTF-8"
    elif not inside:
        yield "zip-outside", "this lies in the zip beside the bag's folder; it is not looked at"
    elif path and leaves_bag(entry.name.removesuffix("/")):
        yield "zip-name", "this name leads out of the bag, or does on some systems"
    yield from _kind_faults(entry)
    yield from _header_faults(stream, entry)


def _kind_faults(entry: Entry) -> Iterator[tuple[str, str]]:
    mode = entry.attributes >> 16 if entry.creator in UNIX_LIKE else 0
    if stat.S_ISLNK(mode):
        yield "link", "a link stands here, and a bag holds files alone; it is not unpacked"
    elif stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR):
        yield "no-file", "a device or pipe stands here, and a bag holds files alone"
    elif stat.S_ISDIR(mode) is not entry.name.endswith("/") and stat.S_IFMT(mode):
        yield "no-file", "the zip calls this a file and a folder at once"
    if entry.flags & ENCRYPTED:
        yield "zip-encrypted", "this file is encrypted and cannot be read"
    elif entry.method not in (STORED, DEFLATED):
        yield "zip-method", f"this file is packed by method {entry.method}; only 0 and 8 are read"
    elif entry.method == STORED and entry.size != entry.packed:
        yield "zip-headers", "this file is not packed, and yet declares two sizes"


def _header_faults(stream: BinaryIO, entry: Entry) -> Iterator[tuple[str, str]]:
    try:
        local = read_local(stream, entry)
    except BrokenZipError as broken:
        yield "zip-headers", str(broken)
        return
    differing = [word for word, is_same in _agreement(entry, local) if not is_same]
    if differing:
        words = ", ".join(differing)
        yield "zip-headers", f"the list of contents and the file itself differ in {words}"


def _agreement(entry: Entry, local: Local) -> Iterator[tuple[str, bool]]:
    """What both have to say alike; sizes and CRC may stand behind the bytes instead."""
    yield "name", entry.raw == local.raw
    yield "flags", entry.flags == local.flags
    yield "method", entry.method == local.method
    yield "date", entry.stamp == local.stamp
    behind = bool(local.flags & BEHIND)
    for word, listed, found in (
        ("checksum", entry.crc, local.crc),
        ("packed size", entry.packed, local.packed),
        ("size", entry.size, local.size),
    ):
        yield word, listed == found or (behind and found == 0)


def _overlapping(stream: BinaryIO, directory: Directory) -> dict[int, list[tuple[str, str]]]:
    """Faults of files that share bytes with the next one or the list of contents, by offset."""
    ordered = sorted(directory.entries, key=lambda each: each.offset)
    told = ("zip-overlap", "its bytes are those of another file too; the zip is made to deceive")
    found: dict[int, list[tuple[str, str]]] = {}
    reached = -1
    for number, entry in enumerate(ordered):
        end = _end(stream, entry)
        last = number + 1 == len(ordered)
        limit = directory.start if last else ordered[number + 1].offset
        if entry.offset < reached or end > limit:
            found[entry.offset] = [told]
        reached = max(reached, end)
    return found


def _end(stream: BinaryIO, entry: Entry) -> int:
    try:
        return read_local(stream, entry).data + entry.packed
    except BrokenZipError:
        return entry.offset  # told as a fault of its header


def size_fault(checked: Checked, zip_bytes: int, free_bytes: int) -> str | None:
    """Why the zip may not be unpacked at all; None where it may."""
    total = sum(entry.size for _, entry in checked.good)
    most = max(FREE_RATIO, MOST_RATIO * zip_bytes)
    if total > most:
        return (
            f"it declares {total} bytes when unpacked, from a zip of {zip_bytes}; "
            f"more than {most} ({MOST_RATIO} times as many) are not unpacked"
        )
    if total > free_bytes:
        return (
            f"it declares {total} bytes when unpacked, and the disk of the folder for temporary "
            f"files has {free_bytes} free; make room, or set TMPDIR to a folder with more"
        )
    return None
