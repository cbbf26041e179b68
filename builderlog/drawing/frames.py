"""Pictures on a page: the copies a digest stands for, and the img element that shows them.

Knows nothing of decoding; `pictures` makes the copies.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache

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


def frames_of(digest: str, copies: Sequence[CopyRef]) -> tuple[Frame, ...]:
    """The copies of a picture, smallest first, each width once."""
    by_width = {copy.width_px: copy for copy in copies}
    return tuple(
        Frame(picture_path(digest, width), width, copy.height_px)
        for width, copy in sorted(by_width.items())
    )


def photos_in(value: object) -> Iterator[Photo]:
    """Every picture that a sheet names, in whatever row it stands."""
    if isinstance(value, Photo):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from photos_in(item)
    else:
        for name in _names(type(value)):  # type: ignore[arg-type]  # every class has a hash
            yield from photos_in(getattr(value, name))


@cache
def _names(kind: type) -> tuple[str, ...]:
    """The fields of a row; none of what is no row. A long journal's pages hold 100,000 values."""
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else ()


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
