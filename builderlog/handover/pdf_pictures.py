"""Puts the pictures into a finished PDF, in the place of stand-ins that hold but their size.

The compiler keeps every picture that it is handed four times over while it works: of 20,000 small
ones and a thousand large that is more than a gigabyte. It needs no more of them than width and
height; so it is handed a JPEG that ends where the picture would begin, and the real one is put in
its place afterwards: the object's length, the offsets of those behind it and the file's identifier
are written anew (ISO 32000-1, 7.3.8, 7.5.4 and 14.4).
"""

from __future__ import annotations

import base64
import hashlib
import re
import struct
from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

_MARK = b"\x01stand-in for picture "  # no text of a PDF of ours holds such a control character
_START, _COMMENT, _FRAME = b"\xff\xd8", b"\xff\xfe", b"\xff\xc0"
_SCAN, _END = b"\xff\xda", b"\xff\xd9"
# One object: its number and length, the rest of its words; then the stand-in up to its name.
_OBJECT = re.compile(
    rb"(?P<head>\d+ 0 obj\n<</Length )(?P<length>\d+)"
    rb"(?P<rest>/[^\n]*/Filter/DCTDecode[^\n]*>>\nstream\n)"
    + re.escape(_START + _COMMENT)
    + rb".."
    + re.escape(_MARK)
    + rb"(?P<name>[^;]+);",
    re.DOTALL,
)
_TABLE = re.compile(rb"\nxref\n0 (?P<count>\d+)\n")
_ENTRY = 20  # bytes of one line of the table
_LAST = re.compile(rb"startxref\n(\d+)\n%%EOF\s*$")
_INSTANCE = re.compile(rb"/ID\[\([^()]*\)\(([A-Za-z0-9+/=]{24})\)\]")


class UnknownFormError(Exception):
    """The compiler's PDF is not written as it was when this was made: a fault of ours."""


def stand_in(name: str, width: int, height: int) -> bytes:
    """A baseline JPEG in colour without any picture in it (ITU-T T.81, annex B)."""
    frame = struct.pack(">BHHB", 8, height, width, 3) + b"\x01\x22\x00\x02\x11\x01\x03\x11\x01"
    scan = b"\x03\x01\x00\x02\x11\x03\x11\x00\x3f\x00"
    mark = _MARK + name.encode("ascii") + b";"
    segments = ((_COMMENT, mark), (_FRAME, frame), (_SCAN, scan))
    return _START + b"".join(_segment(*each) for each in segments) + _END


def _segment(kind: bytes, content: bytes) -> bytes:
    return kind + struct.pack(">H", len(content) + 2) + content


def drawing(name: str, width: int, height: int) -> str:
    """The stand-in inside an SVG drawing of its size: what is in there is not decoded."""
    data = base64.b64encode(stand_in(name, width, height)).decode("ascii")
    size = f'width="{width}" height="{height}"'
    image = f'<image {size} href="data:image/jpeg;base64,{data}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{image}</svg>'


@dataclass(slots=True)
class _Moves:
    """Where things of the old file stand in the new one: it grew by so much at these places."""

    starts: list[int] = field(default_factory=list)
    shifts: list[int] = field(default_factory=lambda: [0])

    def grow(self, start: int, by: int) -> None:
        """An object that began at `start` is longer now; told in their order."""
        self.starts.append(start)
        self.shifts.append(self.shifts[-1] + by)

    def moved(self, offset: int) -> int:
        """The new offset of what is not inside such an object."""
        return offset + self.shifts[bisect_left(self.starts, offset)]


def put_pictures(pdf: bytes, picture: Callable[[str], Path], target: Path) -> int:
    """Writes the PDF to `target` with its pictures in it; how many objects were filled.

    `picture` tells the file of a stand-in's name. Raises `UnknownFormError`.
    """
    table = _TABLE.search(pdf, pdf.rindex(b"\nxref\n"))
    instance = _INSTANCE.search(pdf, pdf.rindex(b"\ntrailer\n"))
    if table is None or instance is None:
        raise UnknownFormError("the table of its objects or its identifier is not found")
    moves, digest = _Moves(), hashlib.sha256(instance[1])
    done = 0
    with target.open("w+b") as out:
        for found in _OBJECT.finditer(pdf):
            content = picture(found["name"].decode("ascii")).read_bytes()
            digest.update(content)
            end = found.end("rest") + int(found["length"])
            filled = b"%s%d%s%s" % (found["head"], len(content), found["rest"], content)
            out.writelines((pdf[done : found.start()], filled))
            moves.grow(found.start(), len(filled) - (end - found.start()))
            done = end
        out.writelines((pdf[done : table.start() + 1], _table(pdf, table, moves)))
        _rename(out, pdf, instance[1], (digest.digest(), moves))
    if pdf.count(_MARK) != len(moves.starts):
        raise UnknownFormError("a stand-in stands in an object of another form")
    return len(moves.starts)


def _table(pdf: bytes, table: re.Match[bytes], moves: _Moves) -> bytes:
    """The table of all objects' offsets, and what follows it to the end of the file."""
    first, count = table.end(), int(table["count"])
    lines = [pdf[first + _ENTRY * line : first + _ENTRY * (line + 1)] for line in range(count)]
    entries = [
        b"%010d%s" % (moves.moved(int(line[:10])), line[10:]) if line[17:18] == b"n" else line
        for line in lines
    ]
    rest = pdf[first + _ENTRY * count :]
    last = _LAST.search(rest)
    if last is None or int(last[1]) != table.start() + 1:
        raise UnknownFormError("its last lines do not lead to the table of its objects")
    led = b"%d" % moves.moved(int(last[1]))
    return b"".join((table[0][1:], *entries, rest[: last.start(1)], led, rest[last.end(1) :]))


def _rename(out: BinaryIO, pdf: bytes, instance: bytes, new: tuple[bytes, _Moves]) -> None:
    """Gives the file an identifier of its own: other pictures make it another file."""
    digest, moves = new
    name = base64.b64encode(digest[:16])
    for found in re.finditer(re.escape(instance), pdf):
        out.seek(moves.moved(found.start()))
        out.write(name)
