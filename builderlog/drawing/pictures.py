"""Smaller copies of the pictures for the friends' site: upright, in sRGB, without metadata.

Originals are only read. What a copy is made of and how big it gets is decided here; where
it is put is the site's to say.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from builderlog.reading.photo_file import PhotoFile
from builderlog.storing.cache import Store, key_of
from builderlog.storing.refusal import Refused
from builderlog.storing.two_threads import each_in_two_threads

COPY_WIDTHS = (480, 960, 1600)  # a phone of 360 points shows 720 to 1080 pixels
LONGEST_SIDE_PX = 16_383  # the WebP format has no more
STEM_LENGTH = 16  # hex digits in the name of a published copy
COPY_VERSION = 3  # raise whenever a copy of the same picture would get other bytes


@dataclass(frozen=True, slots=True)
class Copy:
    """A WebP picture in memory; width and height of the upright picture."""

    width_px: int
    height_px: int
    data: bytes


@dataclass(frozen=True, slots=True)
class CopyRef:
    """A copy that lies in the store under `key`.

    `stem` is what all copies of the picture are called by on the site: made of their own bytes,
    so that an address stands for the same bytes for ever and tells nothing of the original, be
    it what the camera wrote into it. Empty until they are drawn.
    """

    width_px: int
    height_px: int
    key: str
    stem: str = ""


@dataclass(frozen=True, slots=True)
class Copies:
    """By the digest of the original: its copies, narrowest first, or why there are none.

    A fault is a sentence for the builder, about a picture that looked whole and yet could
    not be decoded. `made` counts the pictures drawn anew in this run.
    """

    refs: Mapping[str, tuple[CopyRef, ...]]
    faults: Mapping[str, str]
    made: int


def plan_sizes(width_px: int, height_px: int) -> tuple[tuple[int, int], ...]:
    """(width, height) of each copy of an upright picture, narrowest first; never enlarged."""
    narrowed = sorted({min(width_px, wanted) for wanted in COPY_WIDTHS})
    return tuple(dict.fromkeys(_fit(width, width_px, height_px) for width in narrowed))


def _fit(wanted_px: int, width_px: int, height_px: int) -> tuple[int, int]:
    """The size at a wanted width, narrower where the height would be too much for WebP."""
    width = min(wanted_px, max(1, width_px * LONGEST_SIDE_PX // height_px))
    height = (height_px * width * 2 + width_px) // (2 * width_px)
    return width, min(max(1, height), LONGEST_SIDE_PX)


def draw_copies(data_file: Path, photo: PhotoFile) -> tuple[Copy, ...]:
    """The copies of a picture without fault. Raises one of `UNREADABLE` (picture_open)."""
    from builderlog.drawing.pixels import draw_sizes

    sizes = plan_sizes(photo.width_px, photo.height_px)
    drawn = draw_sizes(data_file.read_bytes(), photo.kind, photo.orientation, sizes)
    return tuple(Copy(*size, data) for size, data in zip(sizes, drawn, strict=True))


def copies_for(
    photos: Iterable[tuple[PhotoFile, Path]], store: Store, progress: Callable[[int], None]
) -> Copies:
    """The copies of all pictures without fault, from the store where they lie there already.

    Equal files share their copies. `progress` is told how many pictures more are done.
    """
    wanted = {photo.digest: (photo, file) for photo, file in photos if photo.fault is None}
    refs: dict[str, tuple[CopyRef, ...]] = {}
    faults: dict[str, str] = {}
    made = 0
    for digest, fault, drawn in each_in_two_threads(_Drawer(store), wanted.values()):
        if fault is None:
            refs[digest] = name_refs(plan_refs(wanted[digest][0]), store)
        else:
            faults[digest] = fault
        made += drawn
        progress(1)
    return Copies(refs, faults, made)


def plan_refs(photo: PhotoFile) -> tuple[CopyRef, ...]:
    """Under which keys the copies of a picture lie: its digest, the size and our version."""
    return tuple(
        CopyRef(width, height, key_of("copy", COPY_VERSION, photo.digest, width))
        for width, height in plan_sizes(photo.width_px, photo.height_px)
    )


def name_refs(refs: Iterable[CopyRef], store: Store) -> tuple[CopyRef, ...]:
    """The copies of a picture, which lie in the store, with their stem."""
    drawn = tuple(refs)
    told = [f"{ref.width_px} {store.digest(ref.key)}" for ref in drawn]
    stem = hashlib.sha256("\n".join(told).encode("ascii")).hexdigest()[:STEM_LENGTH]
    return tuple(replace(ref, stem=stem) for ref in drawn)


def read_copy(store: Store, ref: CopyRef) -> bytes:
    """A copy's bytes. Raises `Refused` where the cache was damaged or deleted meanwhile."""
    data = store.get(ref.key)
    if data is None:
        raise Refused(
            "the cache of pictures was deleted while it was in use; run the command again"
        )
    return data


@dataclass(frozen=True, slots=True)
class _Drawer:
    """Draws into one store; called from two threads."""

    store: Store

    def __call__(self, item: tuple[PhotoFile, Path]) -> tuple[str, str | None, bool]:
        """(digest, fault, whether it was drawn anew)."""
        photo, file = item
        refs = plan_refs(photo)
        if all(self.store.get(ref.key) is not None for ref in refs):
            return photo.digest, None, False
        fault = _draw_into(self.store, photo, file)
        return photo.digest, fault, fault is None


def _draw_into(store: Store, photo: PhotoFile, file: Path) -> str | None:
    """Draws the copies of one picture into the store; the fault where it cannot be decoded."""
    from builderlog.reading.picture_open import UNREADABLE

    try:
        copies = draw_copies(file, photo)
    except UNREADABLE as error:
        return tell_undecodable(photo.name, error)
    for ref, copy in zip(plan_refs(photo), copies, strict=True):
        store.put(ref.key, copy.data)
    return None


def tell_undecodable(name: str, error: BaseException) -> str:
    """A sentence for the builder about a picture whose file looked whole."""
    return (
        f"{name!r} looks whole but cannot be decoded ({str(error) or type(error).__name__}); "
        "open it in a picture program and save it again, or copy it again"
    )
