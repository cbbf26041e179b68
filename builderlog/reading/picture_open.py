"""The one door to the picture libraries: opens a header, decodes nothing.

Imported late by those who need it: the libraries take tens of milliseconds to load.
"""

from __future__ import annotations

import io
import struct
import threading
import warnings
import zlib
from typing import TYPE_CHECKING

from PIL import Image

from builderlog.reading.picture_bytes import Kind, outline, strip

if TYPE_CHECKING:
    from PIL.ImageFile import ImageFile

# The library's own limit warns at one size and fails at another. Ours is one number with a
# sentence for the builder, checked on the header before a pixel is decoded (photo_file).
Image.MAX_IMAGE_PIXELS = None

# What the libraries raise for damaged data; found by feeding them cut and flipped pictures.
UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    EOFError,
    RuntimeError,
    TypeError,
    LookupError,
    MemoryError,
    struct.error,
    zlib.error,
)

_OPENING = threading.Lock()


def open_picture(data: bytes, kind: Kind) -> ImageFile:
    """Opens a picture of a kind for its header; raises one of `UNREADABLE`.

    Of JPEG and PNG only the parts that decide how it looks are handed on, so that no
    metadata can disturb the decoder or reach a copy.
    """
    if kind in ("JPEG", "PNG"):
        return Image.open(io.BytesIO(strip(data, outline(data, kind))), formats=(kind,))
    if kind == "WEBP":
        return Image.open(io.BytesIO(data), formats=(kind,))
    return _open_boxed(data, kind)


def _open_boxed(data: bytes, kind: Kind) -> ImageFile:
    """HEIF or AVIF. Their plug-ins parse Exif on opening and warn about damage in it.

    A warning is not for the builder (the picture is no worse), and filters belong to the
    whole process: hence one thread at a time.
    """
    from pillow_heif import HeifImageFile

    with _OPENING, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        if kind == "HEIF":
            return HeifImageFile(io.BytesIO(data))  # type: ignore[no-untyped-call]
        return Image.open(io.BytesIO(data), formats=(kind,))
