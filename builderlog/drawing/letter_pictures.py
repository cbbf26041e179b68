"""Pictures inside a letter: JPEG, upright, without metadata, together never more than may be sent.

JPEG and not WebP: every mail program shows it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from builderlog.drawing.pictures import Copy, tell_undecodable
from builderlog.reading.photo_file import PhotoFile
from builderlog.storing.cache import Store, key_of

# Width in pixels and JPEG quality, tried from the first until all pictures fit.
RUNGS = ((1200, 80), (1000, 76), (800, 74), (640, 70), (480, 64), (360, 56), (240, 48))
MOST_PICTURES = 80  # beyond these nobody looks; at the last rung they still fit
TALLEST = 2  # heights to one width; what is taller is made narrower
PICTURE_VERSION = 1  # raise whenever a copy of the same picture would get other bytes


@dataclass(frozen=True, slots=True)
class LetterPicture:
    """A picture to be drawn: its facts and its file."""

    photo: PhotoFile
    file: Path


@dataclass(frozen=True, slots=True)
class Drawn:
    """The copies by the digest of the original, those left out, and the faults by digest."""

    copies: Mapping[str, Copy]
    left_out: tuple[str, ...] = ()
    faults: Mapping[str, str] | None = None


def draw_for_letter(pictures: Sequence[LetterPicture], room_bytes: int, store: Store) -> Drawn:
    """As large as fit together into `room_bytes`; what does not fit at all is left out.

    The same pictures and the same room always give the same bytes.
    """
    wanted = list({each.photo.digest: each for each in pictures}.values())
    some, left = wanted[:MOST_PICTURES], wanted[MOST_PICTURES:]
    copies: dict[str, Copy] = {}
    faults: dict[str, str] = {}
    for rung in RUNGS:
        copies, faults = _draw_all(some, rung, store)
        if sum(len(copy.data) for copy in copies.values()) <= room_bytes:
            break
    kept = dict(_fitting(copies, room_bytes))
    out = [digest for digest in copies if digest not in kept]
    return Drawn(kept, (*out, *(each.photo.digest for each in left)), faults)


def _fitting(copies: Mapping[str, Copy], room_bytes: int) -> Iterator[tuple[str, Copy]]:
    """The first of the copies that fit; all of them but where even the last rung was too much."""
    room = room_bytes
    for digest, copy in copies.items():
        room -= len(copy.data)
        if room >= 0:
            yield digest, copy


def _draw_all(
    pictures: Iterable[LetterPicture], rung: tuple[int, int], store: Store
) -> tuple[dict[str, Copy], dict[str, str]]:
    from builderlog.reading.picture_open import UNREADABLE

    copies: dict[str, Copy] = {}
    faults: dict[str, str] = {}
    for each in pictures:
        try:
            copies[each.photo.digest] = _draw(each, rung, store)
        except UNREADABLE as error:
            faults[each.photo.digest] = tell_undecodable(each.photo.name, error)
    return copies, faults


def _draw(picture: LetterPicture, rung: tuple[int, int], store: Store) -> Copy:
    """One copy, from the store where it lies there already."""
    photo, (width, quality) = picture.photo, rung
    size = size_in_letter(photo.width_px, photo.height_px, width)
    key = key_of("letter picture", PICTURE_VERSION, photo.digest, size[0], quality)
    data = store.get(key)
    if data is None:
        from builderlog.drawing.pixels import draw_prints

        read = picture.file.read_bytes()
        (data,) = draw_prints(read, photo.kind, photo.orientation, [(size, quality)])
        store.put(key, data)
    return Copy(*size, data)


def size_in_letter(width_px: int, height_px: int, wanted_px: int) -> tuple[int, int]:
    """Width and height at a wanted width; never enlarged, and narrower where it is very tall."""
    width = min(width_px, wanted_px)
    if height_px > TALLEST * width_px:
        width = min(width, max(1, wanted_px * TALLEST * width_px // height_px))
    return width, max(1, (height_px * width * 2 + width_px) // (2 * width_px))
