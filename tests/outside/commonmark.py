"""Reads the examples of the CommonMark specification; prints those with raw HTML as we show them.

`python -m tests.outside.commonmark` writes tests/golden/commonmark_escaped.txt anew.

Source: CommonMark Spec, version 0.31.2 (2024-01-28), file spec.txt of the npm package
commonmark-spec 0.31.2; read there, not committed here.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from markdown_it import MarkdownIt

from tests.outside import tools

GOLDEN = tools.TOP / "tests" / "golden" / "commonmark_escaped.txt"
COUNT = 652

FENCE = "`" * 32
EXAMPLE_OR_HEADING = re.compile(
    rf"^{FENCE} example\n(?P<markdown>.*?)^\.\n(?P<html>.*?)^{FENCE}$"
    r"|^#{1,6} +(?P<section>[^\n]*)$",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True)
class Example:
    """One example: its number in the specification, its section, the source and what it becomes."""

    number: int
    section: str
    markdown: str
    html: str


def examples() -> tuple[Example, ...]:
    """All examples, in the specification's order and numbering (from 1)."""
    text = tools.npm_file("commonmark-spec/spec.txt").read_text(encoding="utf-8")
    text = text.partition("<!-- END TESTS -->")[0].replace("→", "\t")
    section, found = "", list[Example]()
    for match in EXAMPLE_OR_HEADING.finditer(text):
        if match["section"] is not None:
            section = match["section"]
        else:
            found.append(Example(len(found) + 1, section, match["markdown"], match["html"]))
    return tuple(found)


def holds_raw_html(example: Example) -> bool:
    """Whether a plain CommonMark reader finds raw HTML in the source, in a block or in a line."""
    tokens = MarkdownIt("commonmark").parse(example.markdown)
    within = [child for token in tokens for child in token.children or ()]
    return any(token.type in ("html_block", "html_inline") for token in [*tokens, *within])


def plain(html: str) -> str:
    """The same HTML without the line break in an empty quotation, which shows nowhere."""
    return html.replace("<blockquote>\n</blockquote>", "<blockquote></blockquote>")


def escaped_list(render: Callable[[str], str]) -> str:
    """Every example with raw HTML: number and section, source, and what `render` makes of it."""
    return "\n".join(
        f"=== example {example.number}: {example.section}\n{example.markdown}"
        f"--- becomes\n{render(example.markdown)}"
        for example in examples()
        if holds_raw_html(example)
    )


if __name__ == "__main__":
    from builderlog.reading import markdown

    GOLDEN.write_text(escaped_list(markdown.render), encoding="utf-8")
