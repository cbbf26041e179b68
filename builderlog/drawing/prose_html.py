"""A note's Markdown as HTML for its page: pictures as copies, links to pages, the rest unlinked.

Raw HTML is escaped by `reading.prose`; what a target is was decided before and comes in the sheet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from markupsafe import Markup, escape

from builderlog.reading.prose import parse, render_tokens
from builderlog.sheets.note import ProseLink, ProseText
from builderlog.sheets.rows import Photo

if TYPE_CHECKING:
    from markdown_it.token import Token

DEEPEST = 6
HOST = re.compile(r"(\[[0-9A-Fa-f:.]+\]|[0-9A-Za-z_-]+(\.[0-9A-Za-z_-]+)*\.?)(:[0-9]*)?")
ALIGNMENTS = ("left", "center", "right")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the page gives the prose: relative URLs, and the elements of a picture."""

    url: Callable[[str], str]  # site path to relative URL
    image: Callable[[Photo], str]  # the img element
    large: Callable[[Photo], str]  # relative URL of the largest copy; "" where there is none
    size: Callable[[Photo], str] = lambda _: ""  # of that copy, where a script may open it


def prose_html(prose: ProseText, around: Surroundings) -> Markup:
    """The prose below the page's one h1, without the heading that became it."""
    tokens = parse(prose.text)
    if prose.has_heading:
        tokens = tokens[3:]
    tokens = _move_headings(_drop_empty_headings(tokens))
    targets = {link.target: link for link in prose.links}
    return Markup(render_tokens(list(_rewrite(tokens, targets, around))))  # noqa: S704 - escaped there


def _drop_empty_headings(tokens: Sequence[Token]) -> list[Token]:
    """Without headings that have no words: they would be read out as nothing."""
    kept: list[Token] = []
    position = 0
    while position < len(tokens):
        if tokens[position].type == "heading_open" and not tokens[position + 1].content.strip():
            position += 3
            continue
        kept.append(tokens[position])
        position += 1
    return kept


def _move_headings(tokens: list[Token]) -> list[Token]:
    """Headings from h2 on, none deeper than one below the heading before it."""
    above: list[tuple[int, int]] = []  # the headings that contain the next one: written, moved
    for token in tokens:
        if token.type == "heading_open":
            written = int(token.tag[1:])
            while above and above[-1][0] >= written:
                above.pop()
            moved = min(DEEPEST, above[-1][1] + 1 if above else 2)
            above.append((written, moved))
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{above[-1][1]}"
    return tokens


def _rewrite(
    tokens: Sequence[Token], targets: dict[str, ProseLink], around: Surroundings
) -> Iterator[Token]:
    position = 0
    while position < len(tokens):
        token = tokens[position]
        figures = _figures(tokens, position, targets, around)
        if figures is not None:
            yield _raw("html_block", figures)
            position += 3
            continue
        if token.type == "inline":
            token.children = list(_rewrite_inline(token.children or [], targets, around))
        _class_for_style(token)
        yield token
        position += 1


def _figures(
    tokens: Sequence[Token], position: int, targets: dict[str, ProseLink], around: Surroundings
) -> str | None:
    """The pictures of a paragraph that holds nothing else, as figures; None for any other."""
    if tokens[position].type != "paragraph_open" or tokens[position].hidden:
        return None
    children = tokens[position + 1].children or []
    spoken = [child for child in children if child.type != "softbreak"]
    photos = [_photo_of(child, targets) for child in spoken]
    if not photos or any(photo is None for photo in photos):
        return None
    return "".join(
        _figure(photo, child, around)
        for photo, child in zip(photos, spoken, strict=True)
        if photo is not None
    )


def _figure(photo: Photo, token: Token, around: Surroundings) -> str:
    caption = spoken(token) or photo.caption
    words = f"<figcaption>{escape(caption)}</figcaption>" if caption else ""
    return f"<figure>{_linked_image(photo, token, around)}{words}</figure>\n"


def _linked_image(photo: Photo, token: Token, around: Surroundings) -> str:
    if not around.large(photo):
        return _image(photo, token, around)
    size = around.size(photo)
    opened = f' data-large="{escape(size)}"' if size else ""
    return f'<a href="{escape(around.large(photo))}"{opened}>{_image(photo, token, around)}</a>'


def _image(photo: Photo, token: Token, around: Surroundings) -> str:
    """The picture with the words the Markdown has for it, else its own."""
    shown = photo
    if words := spoken(token):
        shown = Photo(photo.digest, words, photo.caption, photo.day, photo.note)
    return around.image(shown)


def spoken(image: Token) -> str:
    """The words that the Markdown has for a picture, without its marks and escapes."""
    parts = (" " if child.type == "softbreak" else child.content for child in image.children or [])
    return "".join(parts)


def _photo_of(token: Token, targets: dict[str, ProseLink]) -> Photo | None:
    if token.type != "image":
        return None
    link = targets.get(str(token.attrs["src"]))
    return link.photo if link else None


def _rewrite_inline(
    children: Sequence[Token], targets: dict[str, ProseLink], around: Surroundings
) -> Iterator[Token]:
    linked = False  # inside a link that stays
    for position, token in enumerate(children):
        if token.type == "link_open":
            url = _url_of(str(token.attrs["href"]), targets, around)
            linked = url is not None
            if url is not None:
                yield _link(token, url, _size_of(str(token.attrs["href"]), targets, around))
                yield from _words_if_none(children[position + 1], url)
        elif token.type == "link_close":
            if linked:
                yield token
            linked = False
        elif token.type == "image":
            yield _raw("html_inline", _inline_image(token, targets, around, linked=linked))
        else:
            yield token


def _words_if_none(following: Token, url: str) -> Iterator[Token]:
    """The target as the words of a link that has none."""
    if following.type == "link_close":
        yield _raw("html_inline", str(escape(url)))


def _size_of(target: str, targets: dict[str, ProseLink], around: Surroundings) -> str:
    """The size of the picture that a target leads to, "" where it leads to none."""
    known = targets.get(target)
    return around.size(known.photo) if known is not None and known.photo is not None else ""


def _link(token: Token, url: str, size: str) -> Token:
    token.attrs["href"] = url
    if size:
        token.attrs["data-large"] = size
    if leads_out(url):
        token.attrs["rel"] = "noopener noreferrer"
    return token


def _url_of(target: str, targets: dict[str, ProseLink], around: Surroundings) -> str | None:
    """Where a target leads on the site, or outside; None: its words stay unlinked."""
    known = targets.get(target)
    if known is None:
        return target if leads_out(target) else None
    if known.photo is not None:
        return around.large(known.photo) or None
    return around.url(known.page.path) if known.page is not None else None


def leads_out(target: str) -> bool:
    """Whether a target is a web address with a host, or a mail address."""
    try:
        parts = urlsplit(target)
    except ValueError:
        return False
    if parts.scheme == "mailto":
        return bool(parts.path)
    return parts.scheme in ("http", "https") and HOST.fullmatch(parts.netloc) is not None


def _inline_image(
    token: Token, targets: dict[str, ProseLink], around: Surroundings, *, linked: bool
) -> str:
    """A picture amid words; anything else becomes its own words, linked where it leads out."""
    photo = _photo_of(token, targets)
    if photo is not None:
        return (_image if linked else _linked_image)(photo, token, around)
    target = str(token.attrs["src"])
    url = _url_of(target, targets, around)
    if linked or url is None:
        return str(escape(spoken(token)))
    rel = ' rel="noopener noreferrer"' if leads_out(url) else ""
    return f'<a href="{escape(url)}"{rel}>{escape(spoken(token) or target)}</a>'


def _class_for_style(token: Token) -> None:
    """Alignment of a table cell as a class: the page's policy forbids inline styles."""
    style = str(token.attrs.pop("style", ""))
    for alignment in ALIGNMENTS:
        if style == f"text-align:{alignment}":
            token.attrs["class"] = alignment


def _raw(kind: str, html: str) -> Token:
    from markdown_it.token import Token

    token = Token(kind, "", 0)
    token.content = html
    return token
