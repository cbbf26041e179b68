"""Pixels: decodes a picture, makes it smaller and upright, in sRGB, writes WebP or JPEG.

Imported late, where a picture is really drawn: it loads the picture libraries.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Iterable, Sequence
from contextlib import nullcontext
from functools import lru_cache

from PIL import Image, ImageCms
from PIL.Image import Resampling, Transpose

from builderlog.reading.picture_bytes import Kind
from builderlog.reading.picture_open import open_picture

QUALITY = 78  # the eye sees no loss at these widths; common practice
LOOK_QUALITY = 92  # of a picture of the builder's own look, which is drawn at its own size
SEE_THROUGH = ("LA", "PA", "La", "RGBA", "RGBa")
SAME_COLOUR = 0.01  # in x and y: what profiles of sRGB differ by is a tenth of it
METHOD = 2  # more effort saves a few per cent of bytes for twice the time

# Above this many pixels one is decoded at a time, since it may take 8 bytes a pixel; but a JPEG,
# which is decoded at a part of its size, takes at most 4.
LARGE_PIXELS, LARGE_JPEG_PIXELS = 25_000_000, 50_000_000

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
    stored = _as_stored(sizes, orientation)
    drawn: list[bytes] = []
    (image,), profile = _decode(data, kind, stored[-1:])
    for size in reversed(stored):
        image = _shrink(image, size)
        if not drawn:
            image = to_srgb(image, profile)
        drawn.append(_write_webp(_upright(image, orientation)))
    return drawn[::-1]


def draw_prints(
    data: bytes, kind: Kind, orientation: int, wanted: Sequence[tuple[Size, int]]
) -> list[bytes]:
    """Baseline JPEG bytes of each upright (width, height), with its quality.

    Each is drawn from the picture itself, so that its bytes never depend on which others are
    wanted. For the same reason a JPEG is decoded for each at its own scale: of one of 12 million
    pixels the small copy takes 48 ms at an eighth and 68 ms by way of the large copy, and most
    are wanted in small alone. Other kinds are decoded once. Raises one of `UNREADABLE`.
    """
    together = [[each] for each in wanted] if kind == "JPEG" else [wanted]
    drawn: list[bytes] = []
    for some in together:
        images, profile = _decode(data, kind, _as_stored((size for size, _ in some), orientation))
        for image, (_, quality) in zip(images, some, strict=True):
            drawn.append(_write_jpeg(_upright(to_srgb(image, profile), orientation), quality))
    return drawn


def draw_plain(data: bytes, kind: Kind, orientation: int) -> bytes:
    """The picture at its own size and in its own kind, upright, in sRGB, without any words.

    What shows through stays so. Raises one of `UNREADABLE` (picture_open).
    """
    with open_picture(data, kind) as image:
        profile = image.info.get("icc_profile") or b""
        image.load()
        plain = _to_plain_mode(image)
    if plain.mode in SEE_THROUGH:
        whole = plain.convert("RGBA")
        drawn = to_srgb(whole.convert("RGB"), profile)
        drawn.putalpha(whole.getchannel("A"))
    else:
        drawn = to_srgb(plain, profile)
    out = io.BytesIO()
    _upright(drawn, orientation).save(out, kind, quality=LOOK_QUALITY)
    return out.getvalue()


def _as_stored(sizes: Iterable[Size], orientation: int) -> list[Size]:
    """Upright sizes as the picture lies in its file."""
    return [size[::-1] if orientation >= 5 else size for size in sizes]


def _decode(data: bytes, kind: Kind, sizes: Sequence[Size]) -> tuple[list[Image.Image], bytes]:
    """The picture at each of some stored sizes, in a mode that can be shrunk, and its profile.

    A JPEG is decoded at a half, a quarter or an eighth where that suffices for the largest.
    """
    with open_picture(data, kind) as image:
        profile = image.info.get("icc_profile") or b""
        limit = LARGE_JPEG_PIXELS if kind == "JPEG" else LARGE_PIXELS
        is_large = image.width * image.height > limit
        if kind == "JPEG":
            image.draft(image.mode, max(sizes))
        with _LARGE if is_large else nullcontext():
            image.load()
            plain = _to_plain_mode(image)
            return [_shrink(plain, size) for size in sizes], profile


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
    """Most pictures that carry a profile say by it only that they are sRGB already.

    A name may lie ("wider than sRGB"): where the profile tells its red and green, they count too.
    """
    if "srgb" not in (profile.profile.profile_description or "").casefold():
        return False
    told = (profile.profile.red_colorant, profile.profile.green_colorant)
    known = (_srgb().profile.red_colorant, _srgb().profile.green_colorant)
    return all(
        one is None or other is None or _is_near(one[1], other[1])
        for one, other in zip(told, known, strict=True)
    )


def _is_near(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Whether two colours are the same to the eye, by their x and y (CIE 1931)."""
    return all(abs(a - b) < SAME_COLOUR for a, b in zip(one[:2], other[:2], strict=True))


@lru_cache(maxsize=1)
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _flatten(image: Image.Image) -> Image.Image:
    """What shows through is paper: alpha over white."""
    if image.mode not in SEE_THROUGH:
        return image
    layer = image.convert("RGBA")
    paper = Image.new("RGBA", layer.size, "white")
    return Image.alpha_composite(paper, layer).convert("RGB")


def _upright(image: Image.Image, orientation: int) -> Image.Image:
    """Turned upright; the library would copy a profile by itself, so all it knows is cleared."""
    upright = image.transpose(TURNS[orientation]) if orientation in TURNS else image.copy()
    upright.info.clear()
    return upright


def _write_webp(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "WEBP", quality=QUALITY, method=METHOD, icc_profile=b"", exif=b"", xmp=b"")
    return out.getvalue()


def _write_jpeg(image: Image.Image, quality: int) -> bytes:
    """Baseline, in colour even where it is grey: what every reader of paper formats takes.

    Tables made for the picture save one byte in twenty and cost 5 ms of the large copy.
    """
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality, subsampling="4:2:0", optimize=True, progressive=False)
    return out.getvalue()
