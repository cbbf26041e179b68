"""Pictures of a workshop drawn by number, and copies of them as builders make them.

All stand before the same wall on the same bench under the same lamp; the things on it, their
shades and the grain differ by number.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random

import pillow_heif
from PIL import Image, ImageDraw, ImageEnhance, ImageFilter
from PIL.Image import Transpose

from builderlog.reading.signs import from_text, turns

EXAMPLE = Path(__file__).resolve().parent.parent.parent / "example_journal"
SIZE_PX = (640, 480)
HASTY: Mapping[str, Mapping[str, object]] = {  # what is written need not be small
    "AVIF": {"speed": 10},
    "HEIF": {"enc_params": {"preset": "ultrafast"}},
}
Change = Callable[[Image.Image], Image.Image]


def shop_picture(number: int, size: tuple[int, int] = SIZE_PX) -> Image.Image:
    """The picture of that number; the same number gives the same picture."""
    chance = Random(number)
    width, height = size
    image = Image.radial_gradient("L").resize(size).point(lambda shade: 200 - shade // 4)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, height * 6 // 10, width, height), fill=110)
    for _ in range(14):
        _draw_thing(draw, chance, size)
    grain = Image.frombytes("L", size, chance.randbytes(width * height))
    return Image.blend(image, grain, 0.12).convert("RGB")


def _draw_thing(draw: ImageDraw.ImageDraw, chance: Random, size: tuple[int, int]) -> None:
    """A panel, a disc, or a rod somewhere on the bench or the wall."""
    width, height = size
    left, top = chance.randrange(width), chance.randrange(height // 8, height)
    box = (left, top, left + chance.randrange(20, width // 3), top + chance.randrange(15, 150))
    shade = chance.randrange(20, 240)
    match chance.randrange(3):
        case 0:
            draw.rectangle(box, fill=shade, outline=255 - shade)
        case 1:
            draw.ellipse(box, fill=shade, outline=255 - shade)
        case _:
            draw.line(box, fill=shade, width=chance.randrange(3, 14))


def saved(image: Image.Image, kind: str = "JPEG", **words: object) -> bytes:
    """The bytes of an image in a kind of file."""
    out = io.BytesIO()
    how = {**HASTY.get(kind, {}), **words}
    if kind == "HEIF":
        pillow_heif.from_pillow(image).save(out, **how)
    else:
        image.save(out, kind, **how)
    return out.getvalue()


def trimmed(left: float, top: float, right: float, bottom: float) -> Change:
    """Cuts off so much of each side, as parts of width and height."""

    def trim(image: Image.Image) -> Image.Image:
        width, height = image.size
        box = (left * width, top * height, width - right * width, height - bottom * height)
        return image.crop(tuple(map(round, box)))  # type: ignore[arg-type]

    return trim


def smaller(parts: int) -> Change:
    """A half, a third, a quarter as wide and high."""
    return lambda image: image.resize((image.width // parts, image.height // parts))


def turned(turn: Transpose) -> Change:
    """Its pixels turned or mirrored."""
    return lambda image: image.transpose(turn)


def brighter(factor: float) -> Change:
    """So many times as bright."""
    return lambda image: ImageEnhance.Brightness(image).enhance(factor)


def contrasted(factor: float) -> Change:
    """So many times the contrast."""
    return lambda image: ImageEnhance.Contrast(image).enhance(factor)


def blurred(radius_px: float) -> Change:
    """Out of focus by so much."""
    return lambda image: image.filter(ImageFilter.GaussianBlur(radius_px))


def in_turn(*changes: Change) -> Change:
    """One change after the other."""

    def change(image: Image.Image) -> Image.Image:
        for each in changes:
            image = each(image)
        return image

    return change


def example_pictures(size_px: tuple[int, int]) -> dict[str, Image.Image]:
    """The pictures of the example journal by file name, at least so large, upright as stored."""
    pictures = {}
    for file in sorted((EXAMPLE / "photos").rglob("*.*")):
        with Image.open(file) as image:
            image.draft("RGB", size_px)
            pictures[file.name] = image.convert("RGB")
    return pictures


def apart_by(one: str, other: str) -> int:
    """In how many strong signs two fingerprints differ, in the best turn and window.

    Compared one by one: what an index finds can be held against it.
    """
    pair = from_text(one), from_text(other)
    return min(
        ((window ^ whole) & strong).bit_count()
        for whose, windows in (pair, pair[::-1])
        for whole, strong, _ in turns(whose)
        for window in windows.windows
    )
