"""A picture's fingerprint: decodes it once, small and grey, and takes the signs of what it shows.

Fingerprints of nearly the same picture are nearly the same; how near is for `deciding`. Whether
a picture can be decoded at all is found here too. Imported late: it loads the picture libraries.
"""

from __future__ import annotations

import threading
from contextlib import nullcontext

from PIL import Image, ImageChops, ImageFilter, ImageOps
from PIL.Image import Resampling

from builderlog.reading.picture_bytes import Kind
from builderlog.reading.picture_open import open_picture
from builderlog.reading.signs import SIDE, signs_of, to_text

LARGE_PIXELS = 100_000_000  # above this one is decoded at a time: it takes up to 4 bytes a pixel
DRAFT_SIDE = 2 * SIDE  # a JPEG is decoded at an eighth, unless that has fewer pixels on a side

# A plain wall, a dark frame or two shades with one edge look like many others. A picture has a
# fingerprint where 20 of its 8 x 8 parts hold detail: shades of which, against the mean of their
# neighbours, some stand out by 8 of 256 more than others. A smooth change of light is no detail.
# Measured on 1,120 photographs, drawings and parts of them, many of them plain: 829 have one, and
# of the pairs wrongly taken for the same nine in ten are gone (15 instead of 167).
PARTS = 8
NEIGHBOURS = 2  # to each side
BUSY_SHADES = 8
BUSY_PARTS = 20

_LARGE = threading.Lock()
_EIGHT_BITS = 1 / 256


def take_fingerprint(data: bytes, kind: Kind) -> str:
    """The fingerprint as text; '' where the picture shows too little to be known again.

    Which way is up does not matter: fingerprints are compared in all turns. Raises one of
    `UNREADABLE` (picture_open) where the picture cannot be decoded.
    """
    with open_picture(data, kind) as image:
        is_large = image.width * image.height > LARGE_PIXELS
        if kind == "JPEG":
            image.draft("L", (DRAFT_SIDE, DRAFT_SIDE))
        with _LARGE if is_large else nullcontext():
            image.load()
            grey = _to_small_grey(image)
    return to_text(signs_of(_shades(grey))) if _shows_enough(grey) else ""


def _to_small_grey(image: Image.Image) -> Image.Image:
    """40 x 40 shades of grey, each the mean of its part of the picture.

    What shows through is white; of 16 bits the high ones are taken.
    """
    if image.mode.startswith(("I", "F")):
        small = _shrink(image.convert("I"))
        return small.point(lambda shade: shade * _EIGHT_BITS).convert("L")
    if "transparency" in image.info or image.mode in ("LA", "PA", "RGBA"):
        small = _shrink(image.convert("RGBA"))
        return Image.alpha_composite(Image.new("RGBA", small.size, "white"), small).convert("L")
    if image.mode == "LAB":
        return _shrink(image.getchannel("L"))
    return _shrink(image.convert("RGB") if image.mode in ("1", "P") else image).convert("L")


def _shrink(image: Image.Image) -> Image.Image:
    return image.resize((SIDE, SIDE), Resampling.BOX, reducing_gap=2.0)


def _shows_enough(grey: Image.Image) -> bool:
    around = grey.filter(ImageFilter.BoxBlur(NEIGHBOURS))
    detail = ImageChops.subtract(grey, around, offset=128)
    side = SIDE // PARTS
    highest = detail.filter(ImageFilter.MaxFilter(side))
    spread = ImageChops.subtract(highest, detail.filter(ImageFilter.MinFilter(side)))
    parts = spread.resize((PARTS, PARTS), Resampling.NEAREST)  # the middle of each part
    return sum(shade >= BUSY_SHADES for shade in parts.tobytes()) >= BUSY_PARTS


def _shades(grey: Image.Image) -> list[int]:
    """Shades as they are and as their rank among all, added up (0 to 510).

    By rank alone noise counts as much as the picture; without it one bright edge decides all.
    """
    plain = ImageOps.autocontrast(grey).tobytes()
    ranked = ImageOps.equalize(grey).tobytes()
    return [shade + rank for shade, rank in zip(plain, ranked, strict=True)]
