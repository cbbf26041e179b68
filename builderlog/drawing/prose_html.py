"""A note's Markdown as HTML for its page: pictures as copies, links to pages, the rest unlinked.

Raw HTML is escaped where the Markdown is cut into pieces; here their holes are filled. What a
target is was decided before and comes in the sheet.
"""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from markupsafe import Markup, escape

from builderlog.reading.prose import body_in
from builderlog.reading.prose_pieces import Hole, Piece
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Photo

DEEPEST = 6
HOST = re.compile(r"(\[[0-9A-Fa-f:.]+\]|[0-9A-Za-z_-]+(\.[0-9A-Za-z_-]+)*\.?)(:[0-9]*)?")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the page gives the prose: relative URLs, and the elements of a picture."""

    url: Callable[[str], str]  # site path to relative URL
    image: Callable[[Photo], str]  # the img element
    large: Callable[[Photo], str]  # relative URL of the largest copy; "" where there is none
    size: Callable[[Photo], str] = lambda _: ""  # of that copy, where a script may open it


def prose_html(prose: ProseText, around: Surroundings) -> Markup:
    """The prose below the page's one h1, without the heading that became it."""
    pieces = body_in(prose.text).below(has_heading=prose.has_heading)
    targets = {link.target: link for link in prose.links}
    return Markup("".join(_Filler(targets, around).filled(pieces)))  # noqa: S704 - escaped there


class _Filler:
    """Fills the holes of one text, from its first piece to its last."""

    def __init__(self, targets: dict[str, ProseLink], around: Surroundings) -> None:
        self.targets = targets
        self.around = around
        self.linked = False  # inside a link that stays
        # The headings that contain the next piece: their level as written, and as moved.
        self.above: list[tuple[int, int]] = []

    def filled(self, pieces: Sequence[Piece]) -> Iterator[str]:
        """The HTML, piece by piece."""
        position = 0
        while position < len(pieces):
            piece = pieces[position]
            if isinstance(piece, str):
                yield piece
            elif piece.kind == "pictures":
                end = pieces.index(Hole("/pictures"), position)
                yield self._pictures(pieces[position + 1 : end])
                position = end
            else:
                yield self._fill(piece)
            position += 1

    def _pictures(self, pieces: Sequence[Piece]) -> str:
        """A paragraph that holds pictures alone: figures, where friends see every one of them."""
        holes = [piece for piece in pieces if isinstance(piece, Hole)]
        photos = [self._photo_of(hole) for hole in holes]
        figures = [
            self._figure(photo, hole) for photo, hole in zip(photos, holes, strict=True) if photo
        ]
        return "".join(figures if len(figures) == len(holes) else self.filled(pieces))

    def _fill(self, hole: Hole) -> str:
        if hole.kind == "heading":
            return self._heading(int(hole.words))
        if hole.kind == "/heading":
            return f"h{self.above[-1][1]}"
        if hole.kind == "picture":
            return self._picture(hole)
        if hole.kind == "/link":
            closed, self.linked = self.linked, False
            return "</a>" if closed else ""
        return self._link(hole)

    def _heading(self, written: int) -> str:
        """Headings from h2 on, none deeper than one below the heading before it."""
        while self.above and self.above[-1][0] >= written:
            self.above.pop()
        moved = min(DEEPEST, self.above[-1][1] + 1 if self.above else 2)
        self.above.append((written, moved))
        return f"h{moved}"

    def _figure(self, photo: Photo, hole: Hole) -> str:
        caption = hole.words or photo.caption
        words = f"<figcaption>{escape(caption)}</figcaption>" if caption else ""
        return f"<figure>{self._linked_image(photo, hole)}{words}</figure>\n"

    def _linked_image(self, photo: Photo, hole: Hole) -> str:
        image, large = self._image(photo, hole), self.around.large(photo)
        if not large:
            return image
        size = self.around.size(photo)
        opened = f' data-large="{escape(size)}"' if size else ""
        return f'<a href="{escape(large)}"{opened}>{image}</a>'

    def _image(self, photo: Photo, hole: Hole) -> str:
        """The picture with the words the Markdown has for it, else its own."""
        if not hole.words:
            return self.around.image(photo)
        shown = Photo(photo.digest, hole.words, photo.caption, photo.day, photo.note)
        return self.around.image(shown)

    def _photo_of(self, hole: Hole) -> Photo | None:
        link = self.targets.get(hole.target)
        return link.photo if link else None

    def _link(self, hole: Hole) -> str:
        """The opening tag of a link; its target as the words of one that has none."""
        url = self._url_of(hole.target)
        self.linked = url is not None
        if url is None:
            return ""
        size = self._size_of(hole)
        attributes = {
            "href": url,
            "title": hole.title,
            "data-large": size or None,
            "rel": "noopener noreferrer" if leads_out(url) else None,
        }
        tag = "".join(
            f' {name}="{html.escape(value, quote=False).replace(chr(34), "&quot;")}"'
            for name, value in attributes.items()
            if value is not None
        )
        return f"<a{tag}>{escape(url) if hole.kind == 'bare link' else ''}"

    def _size_of(self, hole: Hole) -> str:
        """The size of the picture that a link leads to, "" where it leads to none."""
        photo = self._photo_of(hole)
        return self.around.size(photo) if photo is not None else ""

    def _url_of(self, target: str) -> str | None:
        """Where a target leads on the site, or outside; None: its words stay unlinked."""
        known = self.targets.get(target)
        if known is None:
            return target if leads_out(target) else None
        if known.photo is not None:
            return self.around.large(known.photo) or None
        return self.around.url(known.page.path) if known.page is not None else None

    def _picture(self, hole: Hole) -> str:
        """A picture amid words; anything else becomes its own words, linked where it leads out."""
        photo = self._photo_of(hole)
        if photo is not None:
            return (self._image if self.linked else self._linked_image)(photo, hole)
        url = self._url_of(hole.target)
        if self.linked or url is None:
            return str(escape(hole.words))
        rel = ' rel="noopener noreferrer"' if leads_out(url) else ""
        return f'<a href="{escape(url)}"{rel}>{escape(hole.words or hole.target)}</a>'


def leads_out(target: str) -> bool:
    """Whether a target is a web address with a host, or a mail address."""
    try:
        parts = urlsplit(target)
    except ValueError:
        return False
    if parts.scheme == "mailto":
        return bool(parts.path)
    return parts.scheme in ("http", "https") and HOST.fullmatch(parts.netloc) is not None
