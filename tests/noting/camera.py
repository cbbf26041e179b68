"""Small camera pictures with a date in them, for tests of filing and unloading; invented data."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

from tests.command.running import write
from tests.command.small_journal import write_small

DETAIL, DATE_TIME_ORIGINAL, OFFSET_TIME_ORIGINAL = 0x8769, 0x9003, 0x9011

FIRST = "2026-03-14T19:30:00"  # in the note of skins
SECOND = "2026-03-15T20:00:00"  # in the note of rivets


def shot(shade: int, taken: str = "", kind: str = "JPEG") -> bytes:
    """A picture of one colour by its number, taken at an ISO time ('' for none)."""
    out = io.BytesIO()
    picture = Image.new("RGB", (16, 12), (shade * 13 % 256, 120, shade * 7 % 256))
    exif = Image.Exif()
    if taken:
        local, offset = taken[:19], taken[19:]
        detail = {DATE_TIME_ORIGINAL: local.replace("-", ":").replace("T", " ")}
        if offset:
            detail[OFFSET_TIME_ORIGINAL] = offset
        exif.get_ifd(DETAIL).update(detail)
    picture.save(out, kind, exif=exif.tobytes())
    return out.getvalue()


def grained(size: tuple[int, int], taken: str, seed: int = 5) -> bytes:
    """A picture with enough detail to be known again at another size."""
    whole = Image.new("L", (16, 12))
    whole.putdata([(place * place * seed * 37 + place * 91) % 256 for place in range(16 * 12)])
    exif = Image.Exif()
    exif.get_ifd(DETAIL)[DATE_TIME_ORIGINAL] = taken.replace("-", ":").replace("T", " ")
    out = io.BytesIO()
    whole.resize(size, Image.Resampling.BICUBIC).save(out, "JPEG", quality=92, exif=exif.tobytes())
    return out.getvalue()


def journal_with(root: Path, inbox: dict[str, bytes]) -> Path:
    """The small journal, with these files in its inbox."""
    write_small(root)
    return write(root, {f"inbox/{name}": data for name, data in inbox.items()})
