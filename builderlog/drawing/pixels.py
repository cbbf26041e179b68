"""Pixels: decodes a picture, makes it smaller and upright, brings it to sRGB, writes WebP.

Imported late, where a picture is really drawn: it loads the picture libraries.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Sequence
from contextlib import nullcontext
from functools import lru_cache

from PIL import Image, ImageCms
from PIL.Image import Resampling, Transpose

from builderlog.reading.picture_bytes import Kind
from builderlog.reading.picture_open import open_picture

QUALITY = 78  # the eye sees no loss at these widths; common practice
METHOD = 2  # more effort saves a few per cent of bytes for twice the time
LARGE_PIXELS = 100_000_000  # above this one is decoded at a time: it takes up to 4 bytes a pixel

# Exif 2.32 and TIFF 6.0, tag 274: what turns the stored picture upright.
TURNS = {
    2: Transpose.FLIP_LEFT_RIGHT,
    3: Transpose.ROTATE_180,
    4: Transpose.FLIP_TOP_BOTTOM,
    5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_270,
    7: Transpose.TRANSVERSE,
    8: Transpose.ROTATE_90,
}

_LARGE = threading.Lock()

Size = tuple[int, int]


def draw_sizes(data: bytes, kind: Kind, orientation: int, sizes: Sequence[Size]) -> list[bytes]:
    """WebP bytes of each upright (width, height), given narrowest first.

    Each size is drawn from the next larger one. Raises one of `UNREADABLE` (picture_open).
    """
    stored = [size[::-1] if orientation >= 5 else size for size in sizes]
    drawn: list[bytes] = []
    image, profile = _decode(data, kind, stored[-1])
    for size in reversed(stored):
        image = _shrink(image, size)
        if not drawn:
            image = to_srgb(image, profile)
        drawn.append(_write(image, orientation))
    return drawn[::-1]


def _decode(data: bytes, kind: Kind, size: Size) -> tuple[Image.Image, bytes]:
    """The picture at or above a stored size, in a mode that can be shrunk, and its profile.

    A JPEG is decoded at a half, a quarter or an eighth where that suffices.
    """
    with open_picture(data, kind) as image:
        profile = image.info.get("icc_profile") or b""
        is_large = image.width * image.height > LARGE_PIXELS
        if kind == "JPEG":
            image.draft(image.mode, size)
        with _LARGE if is_large else nullcontext():
            image.load()
            return _shrink(_to_plain_mode(image), size), profile


def _to_plain_mode(image: Image.Image) -> Image.Image:
    """Palettes, bits and 16-bit greys in modes that can be averaged."""
    if image.mode.startswith("I"):
        return _to_eight_bits(image)
    if image.mode == "1":
        return image.convert("L")
    has_alpha = "transparency" in image.info
    if image.mode == "P" or (has_alpha and image.mode in ("L", "RGB")):
        return image.convert("RGBA" if has_alpha else "RGB")
    return image


def _to_eight_bits(image: Image.Image) -> Image.Image:
    """16-bit grey to 8 bits: the high byte, without clipping what is brighter than 255."""
    return image.convert("I").point([value >> 8 for value in range(65536)], "L")


def _shrink(image: Image.Image, size: Size) -> Image.Image:
    if image.size == size:
        return image
    return image.resize(size, Resampling.BICUBIC, reducing_gap=2.0)


def to_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    """RGB over white, in sRGB by the embedded profile.

    A profile that is broken, or made for other colours than the picture has, is passed
    over as every picture program does: the plain conversion is close.
    """
    if image.mode == "LAB":
        return _convert(image, ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")))
    flat = _flatten(image)
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            return flat.convert("RGB") if _is_srgb(source) else _convert(flat, source)
        except (ImageCms.PyCMSError, OSError):
            return flat.convert("RGB")
    return flat.convert("RGB")


def _convert(image: Image.Image, source: ImageCms.ImageCmsProfile) -> Image.Image:
    made = ImageCms.profileToProfile(image, source, _srgb(), outputMode="RGB")
    if made is None:
        raise ImageCms.PyCMSError("no picture came out of the conversion")
    return made


def _is_srgb(profile: ImageCms.ImageCmsProfile) -> bool:
    """Most pictures that carry a profile say by it only that they are sRGB already."""
    return "srgb" in (profile.profile.profile_description or "").casefold()


@lru_cache(maxsize=1)
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _flatten(image: Image.Image) -> Image.Image:
    """What shows through is paper: alpha over white."""
    if image.mode not in ("LA", "PA", "La", "RGBA", "RGBa"):
        return image
    layer = image.convert("RGBA")
    paper = Image.new("RGBA", layer.size, "white")
    return Image.alpha_composite(paper, layer).convert("RGB")


def _write(image: Image.Image, orientation: int) -> bytes:
    """Upright WebP; the library would copy a profile by itself, so all it knows is cleared."""
    upright = image.transpose(TURNS[orientation]) if orientation in TURNS else image.copy()
    upright.info.clear()
    out = io.BytesIO()
    upright.save(out, "WEBP", quality=QUALITY, method=METHOD, icc_profile=b"", exif=b"", xmp=b"")
    return out.getvalue()
