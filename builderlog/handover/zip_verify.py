"""Checks a dossier that is one zip file: what the zip is, then, unpacked aside, the bag in it.

It is unpacked into a private folder that is gone in the end. Nothing is written anywhere else.
"""

from __future__ import annotations

import errno
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import BinaryIO

from builderlog.handover.digests import open_regular
from builderlog.handover.fault import Fault, printable
from builderlog.handover.verify import Progress, verify_bag
from builderlog.handover.zip_check import Checked, check_entries, find_top, size_fault
from builderlog.handover.zip_form import FIRST_DATE, STORED, Packed, ending, local_header
from builderlog.handover.zip_read import (
    BrokenZipError,
    Entry,
    read_directory,
    unpacked,
)
from builderlog.storing.inside import MARK_NAME
from builderlog.storing.refusal import Refused, refusing

UNPACKED = "dossier"  # the folder for the bag inside the private one


def verify_zip(file: Path, progress: Progress | None = None) -> tuple[Fault, ...]:
    """Every fault of the zip and of the bag in it, sorted by path.

    Raises `Refused` where it cannot be read, is no zip, holds no bag, or finds no room.
    """
    with refusing(f"read {file}"), open_regular(file) as stream:
        return _verify(stream, file, progress)


def _verify(stream: BinaryIO, file: Path, progress: Progress | None) -> tuple[Fault, ...]:
    if stream.read(2) != b"PK" and file.suffix.lower() != ".zip":
        raise Refused(f"{file} is neither a folder nor a zip; name what `builderlog dossier` wrote")
    try:
        directory = read_directory(stream)
    except BrokenZipError as broken:
        return (Fault(printable(file.name), "zip", f"this zip cannot be read: {broken}"),)
    top = find_top(directory.entries)
    if top is None:
        raise Refused(f"{file} holds no bagit.txt in the folder at its top, so it is no dossier")
    checked = check_entries(stream, directory, top)
    with tempfile.TemporaryDirectory(prefix="builderlog-verify-") as aside:
        return _verify_unpacked(stream, file, checked, Path(aside), progress)


def _verify_unpacked(
    stream: BinaryIO, file: Path, checked: Checked, aside: Path, progress: Progress | None
) -> tuple[Fault, ...]:
    told = size_fault(checked, file.stat().st_size, shutil.disk_usage(aside).free)
    if told is not None:
        return tuple(sorted({*checked.faults, Fault(printable(file.name), "zip-size", told)}))
    bag = aside / UNPACKED
    faults = [*checked.faults, *_unpack_all(stream, checked, bag)]
    if not (bag / "bagit.txt").exists():
        return tuple(sorted(faults))
    if not faults:
        faults += _form_faults(stream, file, checked)
    return tuple(sorted({*faults, *verify_bag(bag, progress)}))


def _unpack_all(stream: BinaryIO, checked: Checked, bag: Path) -> Iterator[Fault]:
    for path, entry in checked.good:
        try:
            _unpack(stream, entry, bag / path)
        except BrokenZipError as broken:
            yield Fault(printable(path), "zip-bytes", str(broken))
        except OSError as error:
            if error.errno in (errno.ENOSPC, errno.EDQUOT):
                raise
            told = f"this file cannot be unpacked here: {error.strerror or error}"
            yield Fault(printable(path), "zip-bytes", told)


def _unpack(stream: BinaryIO, entry: Entry, file: Path) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("xb") as write:
        for piece in unpacked(stream, entry):
            write.write(piece)


def _form_faults(stream: BinaryIO, file: Path, checked: Checked) -> Iterator[Fault]:
    """Where a zip of ours is not byte for byte as we write it; nothing of one packed by others."""
    if not any(_is_our_mark(path, entry) for path, entry in checked.good):
        return
    place = _first_difference(stream, checked.good, file.stat().st_size)
    if place is not None:
        told = f"{place}, it is not as builderlog writes it; the zip was changed after it was made"
        yield Fault(printable(file.name), "zip-changed", told)


def _is_our_mark(path: str, entry: Entry) -> bool:
    return path == MARK_NAME and entry.method == STORED and entry.stamp == (0, FIRST_DATE)


def _first_difference(
    stream: BinaryIO, good: Sequence[tuple[str, Entry]], length: int
) -> str | None:
    """Where the zip differs from ours of the same files, the files' bytes aside."""
    packed: list[Packed] = []
    offset = 0
    for path, entry in sorted(good):
        one = Packed(entry.name, entry.size, entry.crc, offset)
        header = local_header(one)
        stream.seek(offset)
        if stream.read(len(header)) != header:
            return f"before the bytes of {printable(path)!r}"
        packed.append(one)
        offset = one.end
    expected = ending(packed)
    stream.seek(offset)
    if offset + len(expected) != length or stream.read(len(expected)) != expected:
        return "in its list of contents"
    return None
