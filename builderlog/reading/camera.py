"""Which camera took a picture, as its Exif names it; a file's head is enough for most kinds."""

from __future__ import annotations

from pathlib import Path

from builderlog.reading.exif import read_exif
from builderlog.reading.picture_bytes import Kind, outline, tell_kind

HEAD_BYTES = 1 << 18  # a JPEG's Exif stands in its first 64 kilobytes
WHOLE = ("HEIF", "AVIF", "WEBP")  # these may keep their Exif at the end


def camera_of(file: Path) -> str:
    """Maker and model; "" where the picture does not say, or cannot be read."""
    try:
        with file.open("rb") as stream:
            data = stream.read(HEAD_BYTES)
            kind = tell_kind(data)
            data += stream.read() if kind in WHOLE else b""
    except OSError:
        return ""
    return read_exif(_exif(data, kind)).camera


def _exif(data: bytes, kind: Kind) -> bytes:
    if kind not in ("HEIF", "AVIF"):
        return outline(data, kind).exif
    from builderlog.reading.picture_open import UNREADABLE, open_picture

    try:
        with open_picture(data, kind) as image:
            block = image.info.get("exif")
            return block if isinstance(block, bytes) else b""
    except UNREADABLE:
        return b""
