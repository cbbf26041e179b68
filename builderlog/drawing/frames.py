"""Pictures on a page: the copies a digest stands for, and the img element that shows them.

Knows nothing of decoding; `pictures` makes the copies.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from builderlog.deciding.addresses import picture_path, relative_url
from builderlog.drawing.pictures import CopyRef
from builderlog.sheets.rows import Photo

STRIP = 27  # tenths: the width of a long strip by its height
Pictures = Mapping[str, Sequence[CopyRef]]  # by digest of the original


@dataclass(frozen=True, slots=True)
class Frame:
    """One copy on the site: its path and its size in pixels."""

    path: str
    width_px: int
    height_px: int


def frames_of(copies: Sequence[CopyRef]) -> tuple[Frame, ...]:
    """The copies of a picture, smallest first, each width once."""
    by_width = {copy.width_px: copy for copy in copies}
    return tuple(
        Frame(picture_path(copy.stem, width), width, copy.height_px)
        for width, copy in sorted(by_width.items())
    )


def image(photo: Photo, frames: Sequence[Frame], page: str, sizes: str, *, eager: bool) -> Markup:
    """The img element of a picture on a page; `sizes` as HTML's attribute of that name."""
    small = frames[0]
    size = f'width="{small.width_px}" height="{small.height_px}"'
    parts = [
        f'<img class="{_shape(small)}" src="{_url(page, small)}" {size}',
        f'alt="{escape(photo.alt)}"',
    ]
    if len(frames) > 1:
        srcset = ", ".join(f"{_url(page, frame)} {frame.width_px}w" for frame in frames)
        parts.append(f'srcset="{srcset}" sizes="{escape(sizes)}"')
    parts.append('fetchpriority="high">' if eager else 'loading="lazy" decoding="async">')
    return Markup(" ".join(parts))  # noqa: S704 - every value above is a number or escaped


def linked_image(shown: Markup, large: Frame, page: str) -> Markup:
    """An img element in a link to a larger copy; a script finds by the size what it can open."""
    attributes = f'href="{_url(page, large)}" data-large="{size_of(large)}"'
    return Markup(f"<a {attributes}>{shown}</a>")  # noqa: S704 - paths and numbers of ours


def size_of(frame: Frame) -> str:
    """Width and height in pixels, "1600 1200"."""
    return f"{frame.width_px} {frame.height_px}"


def _shape(frame: Frame) -> str:
    """The class of a picture's shape: a theme may not measure it, having no styles in the page."""
    if frame.height_px > frame.width_px:
        return "tall"
    if 10 * frame.width_px > STRIP * frame.height_px:
        return "broad strip"
    return "broad" if 2 * frame.width_px > 3 * frame.height_px else "wide"


def _url(page: str, frame: Frame) -> str:
    return relative_url(page, frame.path)
