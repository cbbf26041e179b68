"""Zips that somebody made, well or to harm: written field by field, so that any may lie."""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from struct import pack

UTF8 = 0x800


@dataclass(frozen=True, slots=True)
class Made:
    """One file of a zip; `lies` replaces fields of its local header by name."""

    name: str | bytes
    data: bytes = b""
    method: int = 0
    flags: int = UTF8
    mode: int = 0o100644
    size: int | None = None  # what it declares when unpacked
    crc: int | None = None
    lies: Mapping[str, int | bytes] = field(default_factory=dict)
    offset: int | None = None  # where the list of contents says it begins

    @property
    def raw(self) -> bytes:
        """The name's bytes."""
        return self.name if isinstance(self.name, bytes) else self.name.encode()

    @property
    def packed(self) -> bytes:
        """The bytes as they lie in the zip."""
        if self.method != 8:
            return self.data
        deflater = zlib.compressobj(9, zlib.DEFLATED, -15)
        return deflater.compress(self.data) + deflater.flush()

    def fields(self) -> dict[str, int | bytes]:
        """What both headers say."""
        return {
            "flags": self.flags,
            "method": self.method,
            "time": 0,
            "date": 33,
            "crc": zlib.crc32(self.data) if self.crc is None else self.crc,
            "packed": len(self.packed),
            "size": len(self.data) if self.size is None else self.size,
            "name": self.raw,
        }


def _head(said: Mapping[str, int | bytes]) -> bytes:
    words = ("flags", "method", "time", "date", "crc", "packed", "size")
    name = said["name"]
    assert isinstance(name, bytes)
    return pack("<HHHHIII", *(said[word] for word in words)) + pack("<H", len(name))


def zip_of(files: Iterable[Made]) -> bytes:
    """The whole zip."""
    out, central = b"", b""
    count = 0
    for one in files:
        said = one.fields()
        offset = len(out) if one.offset is None else one.offset
        local = {**said, **one.lies}
        name = local["name"]
        assert isinstance(name, bytes)
        out += b"PK\3\4" + pack("<H", 20) + _head(local) + pack("<H", 0) + name + one.packed
        central += b"PK\1\2" + pack("<HH", 3 << 8 | 20, 20) + _head(said)
        central += pack("<HHHHII", 0, 0, 0, 0, one.mode << 16, offset) + one.raw
        count += 1
    end = pack("<HHHHIIH", 0, 0, count, count, len(central), len(out), 0)
    return out + central + b"PK\5\6" + end


def made_of(files: Mapping[str, bytes], top: str = "dossier/", method: int = 0) -> list[Made]:
    """An honest zip's files."""
    return [Made(top + path, data, method) for path, data in sorted(files.items())]
