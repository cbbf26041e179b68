"""One picture file to facts: what it is, how big, when it was taken, what is wrong with it.

Reads only. A picture without a fault in its outer form is decoded once, small, for its likeness:
so one that cannot be decoded is found here.
"""

from __future__ import annotations

import hashlib
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import get_args

from builderlog.reading.exif import ExifFacts, read_exif
from builderlog.reading.picture_bytes import (
    Kind,
    Outline,
    describe_stranger,
    outline,
    tell_kind,
)
from builderlog.reading.signs import is_text

LARGEST_PIXELS = 250_000_000  # beyond this a picture takes gigabytes of memory to draw
LARGEST_BYTES = 1 << 29  # beyond this it is a film or a disk image by mistake
FACTS_VERSION = 2  # raise whenever read_photo would say something else of the same bytes

KINDS_SHOWN = "JPEG, PNG, WebP, HEIC or AVIF"
_KIND_NAMES = {"WEBP": "WebP", "HEIF": "HEIC"}

Fact = str | int | bool | None
Facts = dict[str, Fact]


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A picture as found. `fault` is a sentence for the builder, None where nothing is wrong.

    `digest` is the SHA-256 of the file in hex, '' where it could not be read at all.
    Width and height are those of the upright picture (after `orientation`, Exif's 1 to 8),
    0 where unknown. `taken` is ISO 8601 local time, with the offset where Exif has one;
    `located` tells that it holds the place where it was taken. `likeness` is its fingerprint
    (`fingerprint`), '' where it has a fault or shows too little to be known again; it never
    leaves this machine.
    """

    name: str
    digest: str
    size_bytes: int
    kind: Kind
    width_px: int
    height_px: int
    taken: str | None
    located: bool
    fault: str | None
    orientation: int = 1
    likeness: str = field(default="", repr=False)


def read_photo(file: Path, name: str) -> PhotoFile:
    """Reads a picture file once; `name` is how the builder calls it (its path in the journal).

    Whatever is wrong becomes the fault, also a file that is not there or may not be read.
    """
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
            if len(data) > LARGEST_BYTES:
                return _too_large(file, name)
    except OSError as error:
        reason = error.strerror or str(error)
        return _faulty(name, f"{name!r} cannot be read ({reason}); put a readable picture there")
    return _examine(data, name)


def to_facts(photo: PhotoFile) -> Facts:
    """The facts as plain values, for JSON."""
    return asdict(photo)


def photo_from_facts(facts: object) -> PhotoFile:
    """The picture from its plain values. Raises `ValueError` where they are not what we wrote."""
    if not isinstance(facts, dict) or set(facts) != set(_FIELDS):
        raise ValueError("not the facts of a picture")
    for word, kinds in _FIELDS.items():
        if type(facts[word]) not in kinds:
            raise ValueError(f"{word} of a picture is {facts[word]!r}")
    if facts["kind"] not in get_args(Kind):
        raise ValueError(f"{facts['kind']!r} is no kind of picture")
    if facts["likeness"] and not is_text(facts["likeness"]):
        raise ValueError("the likeness of a picture is no fingerprint")
    return PhotoFile(**facts)


_NONE = type(None)
_FIELDS: dict[str, tuple[type, ...]] = {
    "name": (str,),
    "digest": (str,),
    "size_bytes": (int,),
    "kind": (str,),
    "width_px": (int,),
    "height_px": (int,),
    "taken": (str, _NONE),
    "located": (bool,),
    "fault": (str, _NONE),
    "orientation": (int,),
    "likeness": (str,),
}


def _faulty(name: str, fault: str, data: bytes | None = None) -> PhotoFile:
    """A picture of no kind; `data` None where it could not be read."""
    digest = "" if data is None else hashlib.sha256(data).hexdigest()
    return PhotoFile(name, digest, len(data or b""), "", 0, 0, None, located=False, fault=fault)


def _too_large(file: Path, name: str) -> PhotoFile:
    """A file that is never held in memory as a whole: digest and size only."""
    with file.open("rb") as stream:
        digest = hashlib.file_digest(stream, "sha256").hexdigest()
        size = stream.tell()
    fault = (
        f"{name!r} has {size / 1e6:.0f} megabytes, too large for a picture; "
        f"save it as {KINDS_SHOWN} below {LARGEST_BYTES / 1e6:.0f} megabytes"
    )
    return PhotoFile(name, digest, size, "", 0, 0, None, located=False, fault=fault)


def _examine(data: bytes, name: str) -> PhotoFile:
    if not data:
        return _faulty(name, f"{name!r} is empty; copy the picture from the camera again", data)
    kind = tell_kind(data)
    if not kind:
        what = describe_stranger(data)
        fault = f"{name!r} is {what}, not a kind we show; save the picture as {KINDS_SHOWN}"
        return _faulty(name, fault, data)
    found = outline(data, kind)
    if found.whole and kind in ("HEIF", "AVIF"):
        found = _open_for_header(data, kind)
    return _settle(data, name, kind, found)


def _open_for_header(data: bytes, kind: Kind) -> Outline:
    """Size and Exif of a HEIF or AVIF by its library; of size 0 where that cannot read it."""
    from builderlog.reading.picture_open import UNREADABLE, open_picture

    try:
        with open_picture(data, kind) as image:
            exif = image.info.get("exif") or b""
            return Outline(image.width, image.height, exif, whole=True)
    except UNREADABLE:
        return Outline(whole=True)


def _settle(data: bytes, name: str, kind: Kind, found: Outline) -> PhotoFile:
    exif = read_exif(found.exif)
    width, height = _turn(found, exif)
    fault, likeness = _find_fault(name, kind, found), ""
    if fault is None:
        fault, likeness = _look_at(data, name, kind)
    return PhotoFile(
        name,
        hashlib.sha256(data).hexdigest(),
        len(data),
        kind,
        width,
        height,
        exif.taken,
        exif.located,
        fault,
        exif.orientation,
        likeness,
    )


def _turn(found: Outline, exif: ExifFacts) -> tuple[int, int]:
    """Width and height of the upright picture: orientations 5 to 8 lie on their side."""
    if exif.orientation >= 5:
        return found.height_px, found.width_px
    return found.width_px, found.height_px


def _look_at(data: bytes, name: str, kind: Kind) -> tuple[str | None, str]:
    """The fault of a picture that cannot be decoded, else its likeness."""
    from builderlog.reading.fingerprint import take_fingerprint
    from builderlog.reading.picture_open import UNREADABLE

    try:
        return None, take_fingerprint(data, kind)
    except UNREADABLE:
        return _unreadable(name, kind), ""


def _find_fault(name: str, kind: Kind, found: Outline) -> str | None:
    if not found.whole:
        shown = _KIND_NAMES.get(kind, kind)
        return (
            f"{name!r} is cut short: the {shown} file ends before its picture does; copy it again"
        )
    if not found.width_px or not found.height_px:
        return _unreadable(name, kind)
    if found.width_px * found.height_px > LARGEST_PIXELS:
        return (
            f"{name!r} has {found.width_px} x {found.height_px} pixels, more than the "
            f"{LARGEST_PIXELS // 1_000_000} million that can be drawn; save it smaller"
        )
    return None


def _unreadable(name: str, kind: Kind) -> str:
    return (
        f"{name!r} begins like a {_KIND_NAMES.get(kind, kind)} picture, but what follows cannot "
        "be read; open it in a picture program and save it again"
    )
