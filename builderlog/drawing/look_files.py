"""Plain files of a look as they go along: pictures among them without a word of the camera.

A picture that says nothing beside its pixels goes along byte for byte. What a camera or a program
wrote into one is cut out where the pixels can stay as they are; a picture that is told by its
metadata which way is up, or by a profile which colours it has, is drawn anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from builderlog.reading.exif import read_exif
from builderlog.reading.picture_bytes import Kind, describe_stranger, outline, strip, tell_kind
from builderlog.storing.cache import Store, key_of

VERSION = 1  # raise whenever the same picture would get other bytes
HEAD_BYTES = 4096  # enough to tell what a file is
UNSEEN = (
    *("a film", "a PDF document", "a Photoshop document", "a ZIP archive"),
    *("a TIFF or raw picture", "a JPEG XL picture", "a JPEG 2000 picture"),
)
DAMAGED = "this picture cannot be opened; save it again"
_PROFILE = {"JPEG": b"ICC_PROFILE\0", "PNG": b"iCCP", "WEBP": b"ICCP"}
_WEBP_LOOK = frozenset((b"VP8 ", b"VP8L", b"ALPH", b"ANIM", b"ANMF"))
_WEBP_SAYS = 0x0C  # the bits of VP8X that promise Exif and XMP (RFC 9649, 2.7)
_PNG_LOOK = frozenset(b"IHDR PLTE tRNS sRGB gAMA cHRM acTL fcTL fdAT IDAT IEND".split())


class UncleanError(Exception):
    """A picture whose metadata cannot be taken out, in a sentence for the builder."""


def bytes_to_publish(file: Path, store: Store) -> bytes:
    """The file's bytes as friends get them. Raises `UncleanError`."""
    data = file.read_bytes()
    kind = tell_kind(data)
    if not kind:
        return data
    key = key_of("look picture", VERSION, hashlib.sha256(data).hexdigest())
    clean = store.get(key)
    if clean is None:
        clean = without_words(data, kind)
        store.put(key, clean)
    return clean


def without_words(data: bytes, kind: Kind) -> bytes:
    """The picture without what was written into it beside its pixels. Raises `UncleanError`."""
    if kind == "HEIF":
        raise UncleanError("few browsers show a picture of this kind; save it as JPEG")
    if kind == "AVIF":
        return _avif(data)
    found = outline(data, kind)
    head = strip(data, found)
    moves = (kind == "PNG" and b"acTL" in data) or (kind == "WEBP" and b"ANIM" in data)
    if not moves and (read_exif(found.exif).orientation > 1 or _PROFILE[kind] in head):
        return _drawn_anew(data, kind, found.exif)
    if kind == "WEBP":
        return b"".join(_webp(data))
    return b"".join(_png_film(data)) if moves and kind == "PNG" else strip(data, found)


def unseen(head: bytes) -> str:
    """What a file is whose words nobody here can take out, by its first bytes; "" for none."""
    told = "" if tell_kind(head) else describe_stranger(head)
    return told if told in UNSEEN else ""


def _webp(data: bytes) -> Iterator[bytes]:
    """The chunks that decide how it looks, under a head of their length."""
    chunks = list(_webp_chunks(data))
    yield b"RIFF" + (4 + sum(map(len, chunks))).to_bytes(4, "little") + b"WEBP"
    yield from chunks


def _webp_chunks(data: bytes) -> Iterator[bytes]:
    place, end = 12, min(8 + int.from_bytes(data[4:8], "little"), len(data))
    while place + 8 <= end:
        name = data[place : place + 4]
        length = int.from_bytes(data[place + 4 : place + 8], "little")
        body = data[place + 8 : place + 8 + length]
        if name == b"VP8X":
            body = bytes((body[0] & ~_WEBP_SAYS, *body[1:])) if body else body
        if name == b"VP8X" or name in _WEBP_LOOK:
            yield name + length.to_bytes(4, "little") + body + b"\0" * (length % 2)
        place += 8 + length + length % 2


def _png_film(data: bytes) -> Iterator[bytes]:
    """The chunks that decide how a moving PNG looks; a profile is none that it needs."""
    place = 8
    yield data[:place]
    while place + 12 <= len(data):
        end = place + 12 + int.from_bytes(data[place : place + 4], "big")
        name = data[place + 4 : place + 8]
        if name in _PNG_LOOK:
            yield data[place:end]
        place = len(data) if name == b"IEND" else end


def _avif(data: bytes) -> bytes:
    """As it is where it holds no more than its pixels, else drawn anew."""
    from builderlog.reading.picture_open import UNREADABLE, open_picture

    try:
        with open_picture(data, "AVIF") as image:
            said = image.info
    except UNREADABLE as error:
        raise UncleanError(DAMAGED) from error
    if any(said.get(name) for name in ("exif", "xmp", "icc_profile")):
        return _drawn_anew(data, "AVIF", said.get("exif") or b"")
    return data


def _drawn_anew(data: bytes, kind: Kind, exif: bytes) -> bytes:
    from builderlog.drawing.pixels import draw_plain
    from builderlog.reading.picture_open import UNREADABLE

    try:
        return draw_plain(data, kind, read_exif(exif).orientation)
    except UNREADABLE as error:
        raise UncleanError(DAMAGED) from error
