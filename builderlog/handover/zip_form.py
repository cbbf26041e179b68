"""The form of our zip files, to the last byte: stored as they are, one date, sorted names.

Nothing in it depends on the day, the machine or a library's version, so the same bag gives the
same zip. Source: APPNOTE.TXT, .ZIP File Format Specification 6.3.x, sections 4.3.7 to 4.3.16 and
4.5.3 (from memory; the tests read what is written with the standard library).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from struct import Struct

LOCAL_SIGNATURE, CENTRAL_SIGNATURE, END_SIGNATURE = b"PK\3\4", b"PK\1\2", b"PK\5\6"
END64_SIGNATURE, LOCATOR_SIGNATURE = b"PK\6\6", b"PK\6\7"
LOCAL = Struct("<4sHHHHHIIIHH")
CENTRAL = Struct("<4sHHHHHHIIIHHHHHII")
END = Struct("<4sHHHHIIH")
END64 = Struct("<4sQHHIIQQQQ")
LOCATOR = Struct("<4sIQI")

FULL_16, FULL_32 = 0xFFFF, 0xFFFFFFFF  # "see the larger field"
VERSION, VERSION_64 = 20, 45
UNIX = 3
UTF8 = 0x0800
STORED = 0
FIRST_DATE = (0 << 9) | (1 << 5) | 1  # 1980-01-01, the first day a zip can name
PLAIN_FILE = 0o100644 << 16
EXTRA_64 = 1


@dataclass(frozen=True, slots=True)
class Packed:
    """One file of our zip: its name there, its size in bytes, its CRC-32, where it begins."""

    name: str
    size: int
    crc: int
    offset: int

    @property
    def data_offset(self) -> int:
        """Where its bytes begin."""
        return self.offset + len(local_header(self))

    @property
    def end(self) -> int:
        """Where the next one begins."""
        return self.data_offset + self.size


def local_header(one: Packed) -> bytes:
    """What stands before a file's bytes."""
    name = one.name.encode("utf-8")
    big = one.size >= FULL_32
    extra = _extra(one.size, one.size) if big else b""
    size = FULL_32 if big else one.size
    version = VERSION_64 if big else VERSION
    words = (version, UTF8, STORED, 0, FIRST_DATE, one.crc, size, size, len(name), len(extra))
    return LOCAL.pack(LOCAL_SIGNATURE, *words) + name + extra


def central_header(one: Packed) -> bytes:
    """What the list of contents says of a file."""
    name = one.name.encode("utf-8")
    size, offset = min(one.size, FULL_32), min(one.offset, FULL_32)
    sizes = [one.size] * 2 if size == FULL_32 else []
    offsets = [one.offset] if offset == FULL_32 else []
    extra = _extra(*sizes, *offsets) if sizes or offsets else b""
    version = VERSION_64 if extra else VERSION
    words = (UNIX << 8 | version, version, UTF8, STORED, 0, FIRST_DATE, one.crc, size, size)
    rest = (len(name), len(extra), 0, 0, 0, PLAIN_FILE, offset)
    return CENTRAL.pack(CENTRAL_SIGNATURE, *words, *rest) + name + extra


def _extra(*numbers: int) -> bytes:
    return Struct(f"<HH{len(numbers)}Q").pack(EXTRA_64, 8 * len(numbers), *numbers)


def ending(packed: Sequence[Packed]) -> bytes:
    """All that follows the last file's bytes: the list of contents and its end."""
    central = b"".join(map(central_header, packed))
    start, size, count = (packed[-1].end if packed else 0), len(central), len(packed)
    big = count >= FULL_16 or size >= FULL_32 or start >= FULL_32
    large = _end64(count, size, start) if big else b""
    counts = (min(count, FULL_16),) * 2
    places = (min(size, FULL_32), min(start, FULL_32))
    return central + large + END.pack(END_SIGNATURE, 0, 0, *counts, *places, 0)


def _end64(count: int, size: int, start: int) -> bytes:
    words = (END64.size - 12, UNIX << 8 | VERSION_64, VERSION_64, 0, 0, count, count, size, start)
    end = END64.pack(END64_SIGNATURE, *words)
    return end + LOCATOR.pack(LOCATOR_SIGNATURE, 0, start + size, 1)
