"""Which signs are printed as they are, and what stands in place of those that are not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing.print_signs import lacking, printable_text, sign_name
from tests.outside.print_signs import printed


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Nýtt stél, 17..19 mm \N{MULTIPLICATION SIGN} 2", None),
        ("done \U0001f600", "done [U+1F600]"),
        ("a\tb\nc", "a b c"),
        ("soft\u00adhyphen", "softhyphen"),
        ("e\u0301", "\u00e9"),
        ("\ue000", "[U+E000]"),
        ("\x07", "[U+0007]"),
        ("\u202etxt", "[U+202E]txt"),
        ("\u4e2d", "[U+4E2D]"),
    ],
)
def test_what_is_printed(text: str, shown: str | None) -> None:
    """Letters as they are, blanks as blanks, shapeless signs not at all, others by their number."""
    assert printable_text(text) == (text if shown is None else shown)


@given(st.lists(st.text(), max_size=5))
def test_lacking_is_what_is_written_by_its_number(lines: list[str]) -> None:
    """Each sign told stands in the printed text by its number; with none told there is none."""
    text = "\n".join(lines).replace("[U+", "")
    told, shown = lacking(text), printable_text(text)
    assert all(sign_name(sign) in shown for sign in told)
    assert ("[U+" in shown) is bool(told)


def test_the_compiler_itself_prints_a_sample_of_what_the_table_has() -> None:
    """Letters of several scripts have a shape in the first font; an emoji has none."""
    fonts = ("Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono")
    sample = ["A", "\u00e9", "\u03a9", "\u0434", "\u2264", "\U0001f600", "\u4e2d"]
    assert printed(sample, fonts, 400) == [not lacking(sign) for sign in sample]
