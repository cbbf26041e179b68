"""Writes a bag as one zip file beside its folder: streamed, the same bytes on each run.

RFC 8493, section 4 (from memory): the archive holds one folder at its top, and in it one bag.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO

from builderlog.handover.digests import open_regular
from builderlog.handover.zip_form import Packed, ending, local_header
from builderlog.handover.zip_read import BrokenZipError, Entry, read_directory, unpacked
from builderlog.storing.copying import pieces_of
from builderlog.storing.inside import MARK_NAME, Standing, look_at
from builderlog.storing.mark import parse_mark
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.unfinished import unfinished

LARGEST_MARK = 1 << 28  # bytes

Progress = Callable[[int, int], None]  # bytes done, of how many


def zip_place(bag: Path) -> Path:
    """Where the zip of a bag's folder stands. Raises `Refused` where a strange file is there."""
    place = bag.with_name(f"{bag.name}.zip")
    with refusing(f"read {place}"):
        standing = look_at(place)
        if standing is not Standing.NOTHING and not (standing is Standing.FILE and _ours(place)):
            raise Refused(
                f"{place} stands there already and is no dossier of ours; "
                "move it away, or choose another folder with --out"
            )
    return place


def _ours(file: Path) -> bool:
    """Whether a file is a zip of a dossier, by the mark in it."""
    with open_regular(file) as stream:
        try:
            marks = [each for each in read_directory(stream).entries if _is_mark(each)]
            return len(marks) == 1 and _read_mark(stream, marks[0]) == "dossier"
        except (BrokenZipError, ValueError):
            return False


def _is_mark(entry: Entry) -> bool:
    return entry.name.count("/") == 1 and entry.name.endswith(f"/{MARK_NAME}")


def _read_mark(stream: BinaryIO, entry: Entry) -> str:
    """The mark's kind. Raises `ValueError` where it is none of ours."""
    if entry.size > LARGEST_MARK:
        raise ValueError("too large")
    return parse_mark(json.loads(b"".join(unpacked(stream, entry)))).kind


def write_zip(bag: Path, paths: Iterable[str], place: Path, progress: Progress) -> int:
    """Writes the files of the bag's folder into a zip at `place`; the zip's size in bytes.

    The zip is written under another name first, then renamed. Raises `Refused` where it cannot.
    """
    listed = sorted(paths)
    with refusing(f"write {place}"):
        total = sum((bag / path).stat().st_size for path in listed)
        with unfinished(place) as temporary:
            with temporary.open("xb") as stream:
                _write_all(stream, bag, listed, lambda done: progress(done, total))
                size = stream.tell()
            temporary.replace(place)
    return size


def _write_all(
    stream: BinaryIO, bag: Path, paths: list[str], progress: Callable[[int], None]
) -> None:
    packed: list[Packed] = []
    offset = done = 0
    for path in paths:
        one = _write_one(stream, bag / path, f"{bag.name}/{path}", offset)
        packed.append(one)
        offset, done = one.end, done + one.size
        progress(done)
    stream.write(ending(packed))


def _write_one(stream: BinaryIO, file: Path, name: str, offset: int) -> Packed:
    """The header again behind the bytes, since only they tell the CRC."""
    with open_regular(file) as read:
        one = Packed(name, file.stat().st_size, 0, offset)
        stream.write(local_header(one))
        crc = written = 0
        for piece in pieces_of(read):
            crc = zlib.crc32(piece, crc)
            written += stream.write(piece)
    if written != one.size:
        raise Refused(f"{file} changed while it was put into the zip; run the command again")
    one = replace(one, crc=crc)
    stream.seek(offset)
    stream.write(local_header(one))
    stream.seek(one.end)
    return one
