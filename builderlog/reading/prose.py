"""The Markdown below the front matter: its links with lines, its words, its HTML in pieces.

One parse finds all of it, and what was found is remembered by the text's digest: a note's words
are asked for by its page, the lists, the feeds, the search and the checks. Knows nothing of pages
or of what a link leads to: `drawing` decides that.
"""

from __future__ import annotations

import hashlib
import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise, takewhile
from typing import TYPE_CHECKING, Literal

from builderlog.reading.markdown import parse
from builderlog.reading.problem import Place
from builderlog.reading.prose_pieces import Body, body_of

if TYPE_CHECKING:
    from markdown_it.token import Token

HEAD_LENGTH = 2000  # characters that surely hold the first words
MOST_REMEMBERED = 1 << 14  # texts; beyond that all are forgotten, and found again
_LINK_SIGNS = ("](", "]:", "<")  # inline links, definitions of references, addresses in brackets


@dataclass(frozen=True, slots=True)
class ProseLink:
    """One link or picture in the prose: its target as CommonMark reads it, and its words."""

    kind: Literal["image", "link"]
    target: str
    words: str
    line: int  # from 1, in the prose


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown as written, where in its file it begins, and its links, found once."""

    text: str
    place: Place
    links: tuple[ProseLink, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Finds the links; a text without any of the signs that make one is not parsed."""
        links = links_in(self.text) if any(sign in self.text for sign in _LINK_SIGNS) else ()
        object.__setattr__(self, "links", links)


@dataclass(frozen=True, slots=True)
class Found:
    """What one parse finds in a text; each is said where it is asked for below."""

    links: tuple[ProseLink, ...]
    heading: str | None
    opening: str
    paragraph: str
    words: str
    body: Body


def links_in(text: str) -> tuple[ProseLink, ...]:
    """Every link and picture in order; picture links (`[![](a)](b)`) give both."""
    return found_in(text).links


def first_heading(text: str) -> str | None:
    """The words of a level-1 heading that the prose begins with, else None."""
    return found_in(text).heading


def opening_words(text: str) -> str:
    """The plain words of the first paragraph, heading or item, on one line; "" where none is.

    One that is a picture alone has none. Only the head of a long text is parsed.
    """
    return found_in(text[:HEAD_LENGTH]).opening


def first_paragraph(text: str) -> str:
    """The first paragraph with words as plain words, "" where there is none.

    It stands in no list and no quotation. The words of a link stay, a picture's do not.
    """
    return found_in(text).paragraph


def all_words(text: str) -> str:
    """The plain words of the whole text, those of pictures and of code too; a block a line."""
    return found_in(text).words


def body_in(text: str) -> Body:
    """The HTML in pieces, for a page to fill its links and pictures in."""
    return found_in(text).body


def found_in(text: str) -> Found:
    """What a parse finds, now or earlier in this process: the same text always gives the same."""
    memory, digest = _remembered(), digest_of(text)
    found = memory.get(digest)
    if found is None:
        found = memory[digest] = _find(text)
        if len(memory) > MOST_REMEMBERED:
            memory.clear()
    return found


def remember(found: Mapping[str, Found]) -> None:
    """Takes what was found before in texts of these digests, by this very code."""
    _remembered().update(found)


def digest_of(text: str) -> str:
    """SHA-256 in hex of a text."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


@cache
def _remembered() -> dict[str, Found]:
    """By digest of the text; as good as empty, since nothing depends on what is in it."""
    return {}


def _find(text: str) -> Found:
    tokens = parse(text)
    heading = _heading(tokens)
    return Found(
        links=tuple(_links(tokens)),
        heading=heading,
        opening=_opening(tokens),
        paragraph=_paragraph(tokens),
        words="\n".join(_said(block) for block in tokens),
        body=body_of(tokens, has_heading=heading is not None),  # last: it changes the tokens
    )


def _links(tokens: Sequence[Token]) -> Iterator[ProseLink]:
    for block in tokens:
        if block.type == "inline":
            yield from _links_of_block(block)


def _links_of_block(block: Token) -> Iterator[ProseLink]:
    first_line = block.map[0] + 1 if block.map else 1
    children = block.children or []
    line_ends = [found.start() for found in re.finditer("\n", block.content)]
    for index, token in enumerate(children):
        if token.type not in ("image", "link_open"):
            continue
        line = first_line + bisect_left(line_ends, int(token.meta.get("pos", 0)))
        if token.type == "image":
            yield ProseLink("image", str(token.attrs["src"]), token.content, line)
        else:
            yield ProseLink(
                "link", str(token.attrs["href"]), _words_from(children, index + 1), line
            )


def _words_from(children: Sequence[Token], start: int) -> str:
    """The words of the link that is open at `start`."""
    tokens = (children[index] for index in range(start, len(children)))
    return "".join(token.content for token in takewhile(_in_link, tokens))


def _in_link(token: Token) -> bool:
    return token.type != "link_close"


def _heading(tokens: Sequence[Token]) -> str | None:
    if len(tokens) > 1 and tokens[0].type == "heading_open" and tokens[0].tag == "h1":
        return "".join(token.content for token in tokens[1].children or []).strip()
    return None


def _said(token: Token) -> str:
    """A token's words without marks; of a link and a picture not where they lead."""
    if token.children is not None:
        return "".join(map(_said, token.children))
    return " " if token.type.endswith("break") else token.content


def _opening(tokens: Sequence[Token]) -> str:
    for inline in tokens:
        children = inline.children or []
        if any(each.type == "text" and each.content.strip() for each in children):
            return _on_one_line(children)
    return ""


def _paragraph(tokens: Sequence[Token]) -> str:
    for opening, inline in pairwise(tokens):
        if opening.type == "paragraph_open" and opening.level == 0:
            words = [token for token in inline.children or [] if token.type != "image"]
            if text := _on_one_line(words):
                return text
    return ""


def _on_one_line(tokens: Sequence[Token]) -> str:
    words = (" " if token.type.endswith("break") else token.content for token in tokens)
    return " ".join("".join(words).split())
