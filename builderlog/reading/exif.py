"""Exif to the few facts we use: which way is up, when it was taken, whether it says where.

Not a general Exif reader, and it never fails: what is damaged or nonsense is as if absent,
for the picture is no worse for it. It reads the block itself, since a general library warns
about damage in tags that we never ask for. Source of the tags'
numbers: Exif 2.32 and TIFF 6.0.
"""

from __future__ import annotations

import re
import struct
from dataclasses import dataclass
from datetime import datetime

ORIENTATION, EXIF_POINTER, GPS_POINTER = 0x0112, 0x8769, 0x8825
MAKE, MODEL = 0x010F, 0x0110
DATE_TIME_ORIGINAL, OFFSET_TIME_ORIGINAL = 0x9003, 0x9011
GPS_LATITUDE, GPS_LONGITUDE = 2, 4

# Bytes of one value by TIFF type: byte, text, short, long, rational, (signed alike), float.
_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}
_PREFIX = b"Exif\0\0"
_TIME = re.compile(r"(\d{4})[:/-](\d\d)[:/-](\d\d)[ T](\d\d):(\d\d):(\d\d)")
_OFFSET = re.compile(r"[+-](0\d|1[0-4]):[0-5]\d")

Directory = dict[int, bytes]


@dataclass(frozen=True, slots=True)
class ExifFacts:
    """`orientation` 1 to 8 (1 where absent or nonsense); `taken` ISO 8601, local time.

    `camera` is its maker and model, "" where absent.
    """

    orientation: int = 1
    taken: str | None = None
    located: bool = False
    camera: str = ""


def read_exif(block: bytes) -> ExifFacts:
    """The facts of an Exif block, with or without its `Exif` prefix; empty where it is none."""
    tiff = block.removeprefix(_PREFIX)
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4])
    if order is None or len(tiff) < 8:
        return ExifFacts()
    main = _read_directory(tiff, order, _number(tiff[4:8], order))
    detail = _follow(tiff, order, main.get(EXIF_POINTER))
    place = _follow(tiff, order, main.get(GPS_POINTER))
    return ExifFacts(
        _read_orientation(main, order),
        _read_taken(detail),
        GPS_LATITUDE in place and GPS_LONGITUDE in place,
        _read_camera(main),
    )


def _read_directory(tiff: bytes, order: str, offset: int) -> Directory:
    """The values of a directory as raw bytes by tag; those that lie outside are left out."""
    if offset + 2 > len(tiff):
        return {}
    told = _number(tiff[offset : offset + 2], order)
    count = min(told, (len(tiff) - offset - 2) // 12)
    found: Directory = {}
    for place in range(offset + 2, offset + 2 + 12 * count, 12):
        tag, kind, length = struct.unpack_from(order + "HHI", tiff, place)
        value = _read_value(tiff, order, place + 8, _SIZES.get(kind, 0) * length)
        if value:
            found.setdefault(tag, value)
    return found


def _read_value(tiff: bytes, order: str, place: int, size: int) -> bytes:
    """A value stands in its entry where it fits into four bytes, else at the offset given there."""
    start = place if size <= 4 else _number(tiff[place : place + 4], order)
    value = tiff[start : start + size]
    return value if len(value) == size else b""


def _follow(tiff: bytes, order: str, pointer: bytes | None) -> Directory:
    if pointer is None or len(pointer) != 4:
        return {}
    return _read_directory(tiff, order, _number(pointer, order))


def _number(data: bytes, order: str) -> int:
    return int.from_bytes(data, "little" if order == "<" else "big")


def _read_orientation(main: Directory, order: str) -> int:
    value = _number(main.get(ORIENTATION, b""), order)
    return value if 1 <= value <= 8 else 1


def _read_camera(main: Directory) -> str:
    """Maker and model; the maker once, where the model begins with it."""
    make, model = (" ".join(_text(main.get(tag, b"")).split()) for tag in (MAKE, MODEL))
    return model if model.startswith(make) else f"{make} {model}".strip()


def _read_taken(detail: Directory) -> str | None:
    """DateTimeOriginal as ISO 8601, with its offset where that is well formed."""
    found = _TIME.fullmatch(_text(detail.get(DATE_TIME_ORIGINAL, b"")))
    if found is None:
        return None
    try:
        taken = datetime(*(int(part) for part in found.groups())).isoformat()  # type: ignore[arg-type]  # noqa: DTZ001
    except ValueError:  # month 0 of a clock never set, 30 February
        return None
    offset = _text(detail.get(OFFSET_TIME_ORIGINAL, b""))
    return taken + (offset if _OFFSET.fullmatch(offset) else "")


def _text(value: bytes) -> str:
    return value.split(b"\0", 1)[0].decode("ascii", "replace").strip()
