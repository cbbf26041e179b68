"""Markdown to tokens and to HTML: CommonMark 0.31 with tables, raw HTML escaped.

The library is imported when the first text is taken apart: a run that knows all its texts from
before does without it.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import StateInline
    from markdown_it.token import Token


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


def spoken(image: Token) -> str:
    """The words that the Markdown has for a picture, without its marks and escapes."""
    parts = (" " if child.type == "softbreak" else child.content for child in image.children or [])
    return "".join(parts)
