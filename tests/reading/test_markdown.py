"""How Markdown becomes HTML where nothing of it is a page's to say; see also tests/outside."""

from __future__ import annotations

from builderlog.reading.markdown import parse, render, spoken


def test_raw_html_is_escaped() -> None:
    """HTML that a note holds is shown as text."""
    assert "&lt;script&gt;" in render("<script>x</script>")


def test_the_words_of_a_picture_have_no_marks() -> None:
    """What the Markdown has for a picture is told without marks, on one line."""
    (image,) = parse("![a *b*\nc \\* d](x.jpg)")[1].children or []
    assert spoken(image) == "a b c * d"
