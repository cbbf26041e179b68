"""Notes are read as the CommonMark specification says; raw HTML alone is shown, never obeyed.

Source: CommonMark Spec 0.31.2, every example (see tests/outside/commonmark.py). Links and
headings are those of the specification: what publishing does to them comes later.
"""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from builderlog.reading import markdown
from tests.outside import commonmark
from tests.outside.commonmark import Example

# All that CommonMark itself, without raw HTML, can write.
TAGS = frozenset("a blockquote br code em h1 h2 h3 h4 h5 h6 hr img li ol p pre strong ul".split())
ATTRIBUTES = frozenset("alt class href src start title".split())


@pytest.fixture(scope="module")
def examples() -> tuple[Example, ...]:
    """Every example of the specification."""
    return commonmark.examples()


class TagReader(HTMLParser):
    """Collects the names of all tags and attributes of an HTML text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note one opening tag, as HTMLParser hands it over."""
        self.tags.add(tag)
        self.attributes.update(name for name, _ in attrs)


def test_the_specification_is_read_whole(examples: tuple[Example, ...]) -> None:
    """All 652 examples are found, and the last stands in the section on textual content."""
    assert len(examples) == commonmark.COUNT
    assert examples[-1].section == "Textual content"


def test_every_example_without_raw_html_renders_as_specified(examples: tuple[Example, ...]) -> None:
    """Each example that holds no raw HTML becomes exactly the HTML of the specification."""
    different = [
        (example.number, example.section, example.markdown, markdown.render(example.markdown))
        for example in examples
        if not commonmark.holds_raw_html(example)
        and commonmark.plain(markdown.render(example.markdown)) != commonmark.plain(example.html)
    ]
    assert different == []


def test_only_raw_html_is_left_to_the_list(examples: tuple[Example, ...]) -> None:
    """The sections on raw HTML are listed whole or nearly, and seven in eight examples are not."""
    listed = [example for example in examples if commonmark.holds_raw_html(example)]
    assert {"HTML blocks", "Raw HTML"} <= {example.section for example in listed}
    assert len(listed) < commonmark.COUNT / 8


def test_raw_html_is_shown_and_never_obeyed(examples: tuple[Example, ...]) -> None:
    """No tag and no attribute gets through that CommonMark itself could not have written."""
    for example in examples:
        reader = TagReader()
        reader.feed(markdown.render(example.markdown))
        assert reader.tags <= TAGS, example
        assert reader.attributes <= ATTRIBUTES, example


def test_the_list_of_escaped_examples_is_as_printed() -> None:
    """The examples with raw HTML become what the golden file shows, so that a change is read."""
    golden = commonmark.GOLDEN.read_text(encoding="utf-8")
    assert commonmark.escaped_list(markdown.render) == golden
