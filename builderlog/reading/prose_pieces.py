"""Markdown as HTML in pieces: where a link, a picture or a heading stands, a hole is left open.

What a hole becomes is each page's to say: `drawing` fills it. The pieces depend on the text alone,
so that they are made once, whatever page the text stands on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from builderlog.reading.markdown import render_tokens, spoken

if TYPE_CHECKING:
    from markdown_it.token import Token

ALIGNMENTS = ("left", "center", "right")
# No text has it (CommonMark replaces it), so that no text can be taken for a hole.
_EDGE = "\0"

HoleKind = Literal[
    "heading",  # the name of its opening tag, at the level `words`
    "/heading",  # the name of its closing tag
    "link",  # its opening tag, with `words` as its title
    "bare link",  # the same of a link without words
    "/link",  # its closing tag
    "picture",  # the whole picture, with `words` as the Markdown has them
    "pictures",  # before a paragraph that holds nothing but pictures
    "/pictures",  # behind it
]


@dataclass(frozen=True, slots=True)
class Hole:
    """What a page fills in; `title` is that of a link, None where it has none."""

    kind: HoleKind
    target: str = ""
    words: str = ""
    title: str | None = None


Piece = str | Hole


@dataclass(frozen=True, slots=True)
class Body:
    """A text's HTML in pieces: the heading of level 1 that it begins with, if so, and the rest."""

    heading: tuple[Piece, ...]
    rest: tuple[Piece, ...]

    def below(self, *, has_heading: bool) -> tuple[Piece, ...]:
        """All pieces, or those below the heading that became a title."""
        return self.rest if has_heading else self.heading + self.rest

    def pictures(self, *, has_heading: bool) -> frozenset[str]:
        """The targets of the pictures that stand there."""
        pieces = self.below(has_heading=has_heading)
        holes = (piece for piece in pieces if isinstance(piece, Hole))
        return frozenset(hole.target for hole in holes if hole.kind == "picture")


def body_of(tokens: Sequence[Token], *, has_heading: bool) -> Body:
    """The pieces of a text's tokens, which are changed on the way; `has_heading`: it begins so."""
    first = 3 if has_heading else 0
    return Body(_Cutter().pieces(tokens[:first]), _Cutter().pieces(tokens[first:]))


class _Cutter:
    """Puts holes in the place of tokens, and cuts the HTML there."""

    def __init__(self) -> None:
        self.holes: list[Hole] = []

    def pieces(self, tokens: Sequence[Token]) -> tuple[Piece, ...]:
        """Text and holes by turns, without empty texts."""
        html = render_tokens(list(self._blocks(_without_empty_headings(tokens))))
        return tuple(self._cut(html.split(_EDGE)))

    def _cut(self, parts: Sequence[str]) -> Iterator[Piece]:
        for number, part in enumerate(parts):
            if number % 2:
                yield self.holes[int(part)]
            elif part:
                yield part

    def _mark(self, hole: Hole) -> str:
        self.holes.append(hole)
        return f"{_EDGE}{len(self.holes) - 1}{_EDGE}"

    def _blocks(self, tokens: Sequence[Token]) -> Iterator[Token]:
        open_pictures = False
        for position, token in enumerate(tokens):
            if token.type == "paragraph_open" and _only_pictures(token, tokens[position + 1]):
                yield _raw("html_block", self._mark(Hole("pictures")))
                open_pictures = True
            yield self._block(token)
            if token.type == "paragraph_close" and open_pictures:
                yield _raw("html_block", self._mark(Hole("/pictures")))
                open_pictures = False

    def _block(self, token: Token) -> Token:
        if token.type == "inline":
            token.children = list(self._inline(token.children or []))
        elif token.type == "heading_open":
            token.tag = self._mark(Hole("heading", words=token.tag[1:]))
        elif token.type == "heading_close":
            token.tag = self._mark(Hole("/heading"))
        _class_for_style(token)
        return token

    def _inline(self, children: Sequence[Token]) -> Iterator[Token]:
        for position, token in enumerate(children):
            hole = _hole(token, children[position + 1 : position + 2])
            yield _raw("html_inline", self._mark(hole)) if hole else token


def _hole(token: Token, following: Sequence[Token]) -> Hole | None:
    """What stays open of an inline token; None for one that is the same on every page."""
    if token.type == "image":
        return Hole("picture", str(token.attrs["src"]), spoken(token))
    if token.type == "link_open":
        kind: HoleKind = "bare link" if following[0].type == "link_close" else "link"
        title = token.attrs.get("title")
        return Hole(kind, str(token.attrs["href"]), title=None if title is None else str(title))
    return Hole("/link") if token.type == "link_close" else None


def _only_pictures(paragraph: Token, inline: Token) -> bool:
    """Whether a paragraph that has a tag of its own holds pictures and nothing else."""
    kinds = {child.type for child in inline.children or []}
    return not paragraph.hidden and "image" in kinds and kinds <= {"image", "softbreak"}


def _without_empty_headings(tokens: Sequence[Token]) -> list[Token]:
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


def _class_for_style(token: Token) -> None:
    """Alignment of a table cell as a class: a page's policy forbids inline styles."""
    style = str(token.attrs.pop("style", ""))
    for alignment in ALIGNMENTS:
        if style == f"text-align:{alignment}":
            token.attrs["class"] = alignment


def _raw(kind: str, html: str) -> Token:
    from markdown_it.token import Token

    token = Token(kind, "", 0)
    token.content = html
    return token
