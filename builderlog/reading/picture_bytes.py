"""The outer form of a picture file: its kind, its size, its parts, whether it is all there.

Walks the parts without decoding a pixel. Sources: JPEG, ITU-T T.81 Annex B; PNG, third
edition; WebP, RFC 9649; HEIF and AVIF, boxes of ISO/IEC 14496-12.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["JPEG", "PNG", "WEBP", "HEIF", "AVIF", ""]

_MARKER = re.compile(rb"\xff[^\x00\x01\xd0-\xd7\xff]")  # no stuffing, no restart
_SIZE_MARKERS = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_START_OF_SCAN, _END, _START, _APP1 = 0xDA, 0xD9, 0xD8, 0xE1
_HEIF_BRANDS = frozenset(b"heic heix heim heis hevc hevx hevm hevs mif1 msf1 mif2".split())
_AVIF_BRANDS = frozenset((b"avif", b"avis"))
_PNG_SIGN = b"\x89PNG\r\n\x1a\n"
# The parts of a PNG that say how it looks; all others (text, times, Exif, animation) are dropped.
_PNG_LOOK = frozenset(b"IHDR PLTE tRNS iCCP sRGB gAMA cHRM IDAT IEND".split())

# What else is found under a picture's name, to say so in the builder's words.
_STRANGERS: tuple[tuple[bytes, str], ...] = (
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"II*\0", "a TIFF or raw picture"),
    (b"MM\0*", "a TIFF or raw picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a ZIP archive"),
    (b"\xff\x0a", "a JPEG XL picture"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL picture"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000 picture"),
    (b"8BPS", "a Photoshop document"),
)


@dataclass(frozen=True, slots=True)
class Outline:
    """What a walk found. Width and height as stored, 0 where not found (always in HEIF, AVIF).

    `whole` is False where the file ends before the picture does. `look` are the spans
    (start, end) of bytes that decide how it looks; empty stands for the whole file.
    """

    width_px: int = 0
    height_px: int = 0
    exif: bytes = b""
    whole: bool = False
    look: tuple[tuple[int, int], ...] = field(default=(), repr=False)


def tell_kind(data: bytes) -> Kind:
    """The kind by its first bytes, whatever the file is called; '' for none of the five."""
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data.startswith(_PNG_SIGN):
        return "PNG"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WEBP"
    return _tell_boxed_kind(data)


def _tell_boxed_kind(data: bytes) -> Kind:
    """HEIF or AVIF by the brands in the first box; the main brand decides where both occur."""
    if data[4:8] != b"ftyp":
        return ""
    end = min(int.from_bytes(data[:4], "big"), len(data), 4096)
    brands = [data[8:12], *(data[place : place + 4] for place in range(16, end - 3, 4))]
    if brands[0] in _AVIF_BRANDS:
        return "AVIF"
    if brands[0] in _HEIF_BRANDS - {b"mif1", b"msf1", b"mif2"}:
        return "HEIF"
    if _AVIF_BRANDS.intersection(brands):
        return "AVIF"
    return "HEIF" if _HEIF_BRANDS.intersection(brands) else ""


def describe_stranger(data: bytes) -> str:
    """In the builder's words, what a file that is no picture of ours seems to be."""
    if data[4:8] == b"ftyp":
        return "a film"
    for sign, words in _STRANGERS:
        if data.startswith(sign):
            return words
    return "a text file" if _is_text(data[:4096]) else "not a picture"


def _is_text(data: bytes) -> bool:
    """No control characters, and mostly plain letters, whatever the encoding."""
    controls = sum(byte < 32 and byte not in b"\t\n\r\f" for byte in data)
    return not controls and 3 * sum(byte >= 128 for byte in data) <= len(data)


def outline(data: bytes, kind: Kind) -> Outline:
    """Walks a file of a kind; an empty outline for no kind."""
    walk = _WALKS.get(kind)
    return walk(data) if walk is not None else Outline()


def strip(data: bytes, found: Outline) -> bytes:
    """Only the bytes that decide how the picture looks: no Exif, no text, nothing after the end."""
    if not found.look:
        return data
    view = memoryview(data)
    return b"".join(view[start:end] for start, end in found.look)


# JPEG ----------------------------------------------------------------------------------


def _segments(data: bytes) -> Iterator[tuple[int, int, int]]:
    """(marker, start, end) of each segment, from its FF to the start of the next one.

    Ends after the end marker, or where the file is cut. A scan's segment includes its
    coded data, so that markers in thumbnails (inside segments) and behind the end of
    the picture (films, second pictures) are never met.
    """
    place = 2
    while found := _MARKER.search(data, place):
        start, marker = found.start(), data[found.end() - 1]
        if marker == _END:
            yield marker, start, start + 2
            return
        length = int.from_bytes(data[start + 2 : start + 4], "big")
        end = start + 2 + length
        if marker != _START and (length < 2 or end > len(data)):
            return
        if marker == _START_OF_SCAN:
            following = _MARKER.search(data, end)
            end = following.start() if following else len(data)
        place = end if marker != _START else start + 2
        yield marker, start, place


def _walk_jpeg(data: bytes) -> Outline:
    width, height, exif, markers = 0, 0, b"", set()
    look = [(0, 2)]
    for marker, start, end in _segments(data):
        markers.add(marker)
        if marker in _SIZE_MARKERS and not width:
            height = int.from_bytes(data[start + 5 : start + 7], "big")
            width = int.from_bytes(data[start + 7 : start + 9], "big")
        if marker == _APP1 and not exif and data[start + 4 : start + 10] == b"Exif\0\0":
            exif = data[start + 4 : end]
        if _shapes_look(marker, data[start + 4 : start + 16]):
            look.append((start, end))
    return Outline(width, height, exif, {_START_OF_SCAN, _END} <= markers, tuple(look))


def _shapes_look(marker: int, head: bytes) -> bool:
    """Tables, scans, colour profile and transform; not Exif, maker's data, remarks."""
    if marker == 0xE2:
        return head == b"ICC_PROFILE\0"
    return marker in (0xE0, 0xEE) or not (0xE0 <= marker <= 0xEF or marker == 0xFE)


# PNG -----------------------------------------------------------------------------------


def _walk_png(data: bytes) -> Outline:
    width, height, exif, whole = 0, 0, b"", False
    look, place = [(0, len(_PNG_SIGN))], len(_PNG_SIGN)
    while place + 12 <= len(data) and not whole:
        end = place + 12 + int.from_bytes(data[place : place + 4], "big")
        name = data[place + 4 : place + 8]
        if end > len(data):
            break
        if name == b"IHDR":
            width = int.from_bytes(data[place + 8 : place + 12], "big")
            height = int.from_bytes(data[place + 12 : place + 16], "big")
        if name == b"eXIf":
            exif = exif or data[place + 8 : end - 4]
        if name in _PNG_LOOK:
            look.append((place, end))
        place, whole = end, name == b"IEND"
    return Outline(width, height, exif, whole, tuple(look))


# WebP ----------------------------------------------------------------------------------


def _walk_webp(data: bytes) -> Outline:
    told = 8 + int.from_bytes(data[4:8], "little")
    size, exif, pictured = (0, 0), b"", False
    place, end = 12, min(told, len(data))
    while place + 8 <= end:
        name = data[place : place + 4]
        length = int.from_bytes(data[place + 4 : place + 8], "little")
        body = data[place + 8 : min(place + 8 + length, end)]
        if name == b"EXIF":
            exif = exif or body
        size = size if all(size) else _webp_size(name, body)
        pictured = pictured or (name in (b"VP8 ", b"VP8L", b"ANMF") and len(body) == length)
        place += 8 + length + length % 2
    whole = told <= len(data) + told % 2 and pictured
    return Outline(*size, exif, whole)


def _webp_size(name: bytes, body: bytes) -> tuple[int, int]:
    """Width and height by the first chunk that tells them; (0, 0) by any other."""
    if name == b"VP8X" and len(body) >= 10:
        width, height = (int.from_bytes(body[at : at + 3], "little") for at in (4, 7))
        return width + 1, height + 1
    if name == b"VP8 " and body[3:6] == b"\x9d\x01\x2a" and len(body) >= 10:
        width, height = (int.from_bytes(body[at : at + 2], "little") for at in (6, 8))
        return width & 0x3FFF, height & 0x3FFF
    if name == b"VP8L" and body[:1] == b"\x2f" and len(body) >= 5:
        bits = int.from_bytes(body[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return 0, 0


# HEIF and AVIF -------------------------------------------------------------------------


def _walk_boxes(data: bytes) -> Outline:
    """Whole where the boxes fit into the file and both the plan and the data are there.

    Bytes behind them that are no box (some phones append their own) do no harm.
    """
    names: set[bytes] = set()
    place = 0
    while place + 8 <= len(data):
        name, size = data[place + 4 : place + 8], int.from_bytes(data[place : place + 4], "big")
        if size == 1:
            size = int.from_bytes(data[place + 8 : place + 16], "big")
        end = place + size if size else len(data)
        if size in range(1, 8) or end > len(data):
            return Outline(whole=names >= _BOXES_NEEDED and name not in _BOXES)
        names.add(b"mdat" if name == b"meta" and b"idat" in data[place:end] else name)
        names.add(name)
        place = end
    return Outline(whole=names >= _BOXES_NEEDED)


_BOXES_NEEDED = {b"meta", b"mdat"}
_BOXES = frozenset(b"ftyp meta mdat moov moof free skip uuid mpvd".split())
_WALKS: dict[Kind, Callable[[bytes], Outline]] = {
    "JPEG": _walk_jpeg,
    "PNG": _walk_png,
    "WEBP": _walk_webp,
    "HEIF": _walk_boxes,
    "AVIF": _walk_boxes,
}
