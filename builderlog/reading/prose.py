"""The Markdown below the front matter: CommonMark 0.31, raw HTML escaped, links with lines.

Knows nothing of pages or of what a link leads to: `drawing` decides that.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import takewhile
from typing import TYPE_CHECKING, Literal

from builderlog.reading.problem import Place

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import StateInline
    from markdown_it.token import Token

HEAD_LENGTH = 2000  # characters that surely hold the first words
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


@cache
def _markdown() -> MarkdownIt:
    """One parser for all: CommonMark plus tables; it keeps no state between texts."""
    from markdown_it import MarkdownIt

    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    # Targets are judged in `checks`, with their place; here nothing may silently become plain text.
    parser.validateLink = _any_target  # type: ignore[assignment, method-assign]
    for rule in ("link", "image", "autolink"):
        _remember_offsets(parser, rule)
    return parser


def _any_target(_url: str) -> bool:
    return True


def _remember_offsets(parser: MarkdownIt, name: str) -> None:
    """Wraps an inline rule so that each link token carries its offset in the block (meta `pos`)."""
    (rule,) = (rule for rule in parser.inline.ruler.__rules__ if rule.name == name)
    plain = rule.fn

    def with_offset(state: StateInline, silent: bool) -> bool:  # noqa: FBT001 - its caller's form
        before, pos = len(state.tokens), state.pos
        done = bool(plain(state, silent))
        if done and not silent:
            opening = next(t for t in state.tokens[before:] if t.type in ("image", "link_open"))
            opening.meta["pos"] = pos
        return done

    parser.inline.ruler.at(name, with_offset)


def parse(text: str) -> list[Token]:
    """The Markdown's tokens, blocks with their lines (0-based `map`)."""
    return _markdown().parse(text)


def render(text: str) -> str:
    """The Markdown as HTML, links as written and headings at their own level."""
    return str(_markdown().render(text))


def render_tokens(tokens: Sequence[Token]) -> str:
    """Tokens, changed or not, as HTML."""
    parser = _markdown()
    return str(parser.renderer.render(tokens, parser.options, {}))


def links_in(text: str) -> tuple[ProseLink, ...]:
    """Every link and picture in order; picture links (`[![](a)](b)`) give both."""
    return tuple(
        link for block in parse(text) if block.type == "inline" for link in _links_of_block(block)
    )


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


def first_heading(text: str) -> str | None:
    """The words of a level-1 heading that the prose begins with, else None."""
    tokens = parse(text)
    if len(tokens) > 1 and tokens[0].type == "heading_open" and tokens[0].tag == "h1":
        return _plain(tokens[1])
    return None


def _plain(inline: Token) -> str:
    return "".join(token.content for token in inline.children or []).strip()


def all_words(text: str) -> str:
    """The plain words of the whole text, those of pictures and of code too; a block a line."""
    return "\n".join(_said(block) for block in parse(text))


def _said(token: Token) -> str:
    """A token's words without marks; of a link and a picture not where they lead."""
    if token.children is not None:
        return "".join(map(_said, token.children))
    return " " if token.type.endswith("break") else token.content


def opening_words(text: str) -> str:
    """The plain words of the first paragraph, heading or item, on one line; "" where none is.

    One that is a picture alone has none. Only the head of a long text is parsed.
    """
    for inline in parse(text[:HEAD_LENGTH]):
        children = inline.children or []
        if any(each.type == "text" and each.content.strip() for each in children):
            words = (" " if each.type.endswith("break") else each.content for each in children)
            return " ".join("".join(words).split())
    return ""
