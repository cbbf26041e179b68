"""Files of pictures in every form that a camera or a program writes, and what they must show."""

from __future__ import annotations

import io
import zlib

import pillow_heif
from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo

from tests.reading.shop_pictures import HASTY

RED, GREEN, BLUE, YELLOW = (220, 20, 20), (20, 160, 20), (20, 20, 220), (230, 220, 20)
Color = tuple[int, ...]


def corners(width: int = 60, height: int = 40) -> Image.Image:
    """Red at the top left, green at the top right, blue at the bottom left, yellow right."""
    image = Image.new("RGB", (width, height), RED)
    image.paste(GREEN, (width // 2, 0, width, height // 2))
    image.paste(BLUE, (0, height // 2, width // 2, height))
    image.paste(YELLOW, (width // 2, height // 2, width, height))
    return image


def encode(image: Image.Image, kind: str, **words: object) -> bytes:
    """The bytes of an image in a kind of file."""
    out = io.BytesIO()
    how = {**HASTY.get(kind, {}), **words}
    if kind == "HEIF":
        pillow_heif.from_pillow(image).save(out, **how)
    else:
        image.save(out, kind, **how)
    return out.getvalue()


def is_near(found: object, wanted: Color, within: int = 24) -> bool:
    """Whether two colours look alike, as far as lossy copies go."""
    assert isinstance(found, tuple)
    return all(abs(a - b) <= within for a, b in zip(found, wanted, strict=True))


def assert_corners(image: Image.Image, *wanted: Color, within: int = 24) -> None:
    """The colours at the top left, top right, bottom left and bottom right."""
    right, bottom = image.width * 7 // 8, image.height * 7 // 8
    left, top = image.width // 8, image.height // 8
    places = ((left, top), (right, top), (left, bottom), (right, bottom))
    for place, color in zip(places, wanted, strict=True):
        found = image.getpixel(place)
        assert is_near(found, color, within), (place, found, color)


# Exif 2.32, tag 274: "the 0th row is the visual ... , the 0th column is the visual ...".
# From it, which stored corner (T top, B bottom, L left, R right) is seen at the top left,
# top right, bottom left, bottom right of the upright picture.
STORED = {"TL": RED, "TR": GREEN, "BL": BLUE, "BR": YELLOW}
SEEN = {
    1: "TL TR BL BR",  # row top, column left
    2: "TR TL BR BL",  # row top, column right
    3: "BR BL TR TL",  # row bottom, column right
    4: "BL BR TL TR",  # row bottom, column left
    5: "TL BL TR BR",  # row left, column top
    6: "BL TL BR TR",  # row right, column top
    7: "BR TR BL TL",  # row right, column bottom
    8: "TR BR TL BL",  # row left, column bottom
}


MARKER = b"planted-48.1371-11.5754"


def plant(kind: str) -> bytes:
    """A picture with a marker in every place that a kind has for metadata, and a profile."""
    exif = Image.Exif()
    exif[0x010E] = MARKER.decode()
    exif.get_ifd(0x8825).update({1: "N", 2: (48.0, 8.0, 13.0), 3: "E", 4: (11.0, 34.0, 31.0)})
    words: dict[str, object] = {"exif": exif.tobytes(), "xmp": b"<x:xmpmeta>" + MARKER}
    words["icc_profile"] = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    if kind == "JPEG":
        words["comment"] = MARKER
    if kind == "PNG":
        info = PngInfo()
        info.add_text("Comment", MARKER.decode())
        info.add_itxt("XML:com.adobe.xmp", MARKER.decode())
        words["pnginfo"] = info
        del words["xmp"]
    return encode(corners(600, 400), kind, **words)


def png(width: int, height: int, bits: int, colors: int, rows: bytes) -> bytes:
    """A PNG from its raw rows, for forms that the library does not write."""
    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((bits, colors, 0, 0, 0))
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    made = (
        len(body).to_bytes(4, "big") + name + body + zlib.crc32(name + body).to_bytes(4, "big")
        for name, body in parts
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(made)


def over_white(image: Image.Image) -> Image.Image:
    """Half see-through red at the left, wholly see-through at the right."""
    image.putalpha(128)
    image.paste((0, 0, 0, 0), (image.width // 2, 0, image.width, image.height))
    return image


def swapped_profile() -> bytes:
    """An RGB profile in which red and blue have changed places, so that its use is seen."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, blue = profile.index(b"rXYZ"), profile.index(b"bXYZ")
    profile[red : red + 4], profile[blue : blue + 4] = b"bXYZ", b"rXYZ"
    return bytes(profile).replace("sRGB".encode("utf-16-be"), "odd!".encode("utf-16-be"))


# The colours of Display P3 as its ICC profile has them, by D50: from memory, as is the matrix by
# which the test reckons (CSS Color 4, section 17).
P3_PRIMARIES = {
    b"rXYZ": (0.51512, 0.24120, -0.00105),
    b"gXYZ": (0.29198, 0.69225, 0.04189),
    b"bXYZ": (0.15710, 0.06657, 0.78407),
}


def display_p3_profile() -> bytes:
    """The profile that phones write: the curve of sRGB, wider colours."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for name, values in P3_PRIMARIES.items():
        entry = profile.index(name)
        place = int.from_bytes(profile[entry + 4 : entry + 8], "big") + 8
        numbers = (round(value * 65536).to_bytes(4, "big", signed=True) for value in values)
        profile[place : place + 12] = b"".join(numbers)
    return bytes(profile).replace("sRGB".encode("utf-16-be"), "P3 d".encode("utf-16-be"))
