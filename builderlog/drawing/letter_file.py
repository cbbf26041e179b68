"""A month's letter as one file that holds all it needs, and as text for a mail.

The file asks for nothing when it is opened: its pictures and its style are inside, and its policy
forbids every request.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from builderlog.deciding.addresses import relative_url
from builderlog.drawing.letter_pictures import LetterPicture, draw_for_letter
from builderlog.drawing.letter_text import letter_text
from builderlog.drawing.pictures import Copy
from builderlog.drawing.prose_html import Surroundings, prose_html
from builderlog.drawing.theme import Pen, Theme
from builderlog.sheets.letter import LetterSheet
from builderlog.sheets.note import photos_shown
from builderlog.sheets.rows import Photo
from builderlog.storing.cache import Store

LARGEST_BYTES = 2_000_000  # of the whole file: what mail programs take, and phones open at once
SHOWN_PX = 640  # across at most, even where a mail program drops the style; sharp screens use more
FRAME_BYTES = 100  # of an img element without its words and its data
TEMPLATE = "letter.html"


@dataclass(frozen=True, slots=True)
class LetterFiles:
    """What is to be sent, and what could not be in it.

    `left_out` and `faults` go by the digest of the picture.
    """

    html: bytes
    text: bytes
    left_out: tuple[str, ...]
    faults: Mapping[str, str]
    pictures: int


def draw_letter(
    sheet: LetterSheet, pictures: Sequence[LetterPicture], theme: Theme, store: Store
) -> LetterFiles:
    """The letter drawn. Raises `ThemeFault`."""
    pen = Pen(theme, {})
    words = len(_html(pen, sheet, {})) + FRAME_BYTES * len(pictures)
    # Base64 writes three bytes as four signs.
    drawn = draw_for_letter(pictures, max(0, LARGEST_BYTES - words) * 3 // 4, store)
    return LetterFiles(
        html=_html(pen, sheet, drawn.copies),
        text=letter_text(sheet).encode("utf-8"),
        left_out=drawn.left_out,
        faults=drawn.faults or {},
        pictures=len(drawn.copies),
    )


def shown_in(sheet: LetterSheet) -> tuple[str, ...]:
    """The digests of the pictures that stand in the letter, in its order, each once."""
    return tuple(dict.fromkeys(photo.digest for photo in photos_shown(sheet.prose)))


def _html(pen: Pen, sheet: LetterSheet, copies: Mapping[str, Copy]) -> bytes:
    left = dict(copies)  # a picture that stands there twice is shown once, for the file's size
    around = Surroundings(
        url=lambda path: _whole(sheet, path),
        image=lambda photo: _image(photo, left.pop(photo.digest, None)),
        large=lambda _: "",
    )
    body = prose_html(sheet.prose, around)
    return pen.draw(TEMPLATE, {"sheet": sheet, "body": body}).encode("utf-8")


def _whole(sheet: LetterSheet, path: str) -> str:
    """The whole address of a page; only a letter with an address has links to any."""
    return f"{sheet.address or ''}{relative_url('', path)}"


def _image(photo: Photo, copy: Copy | None) -> Markup:
    """The picture itself in the page; in place of one that did not fit its words."""
    if copy is None:
        return Markup("<em>{}</em>").format(photo.alt)
    data = base64.b64encode(copy.data).decode("ascii")
    width = min(copy.width_px, SHOWN_PX)
    height = max(1, (copy.height_px * width * 2 + copy.width_px) // (2 * copy.width_px))
    size = f'width="{width}" height="{height}"'
    html = f'<img src="data:image/jpeg;base64,{data}" {size} alt="{escape(photo.alt)}">'
    return Markup(html)  # noqa: S704 - every value above is a number, base64 or escaped
