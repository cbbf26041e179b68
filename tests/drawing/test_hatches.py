"""Holds that areas are told apart by form: thirty hatches, and blank paper for none."""

from __future__ import annotations

import re

from builderlog.drawing.hatches import BLANK, HATCHES, KINDS, hatch_of, patterns, swatch


def test_thirty_areas_look_different() -> None:
    """No two patterns have the same strokes in the same manner."""
    drawn = re.findall(
        r'hatching hatch-\d+( heavy| dotted)?" d="([^"]+)"', "".join(patterns("a", range(KINDS)))
    )
    assert len(set(drawn)) == len(drawn) == KINDS == 3 * len(HATCHES)


def test_more_areas_than_hatches_begin_anew() -> None:
    """The hatch after the last is the first again, so that every part has one."""
    assert hatch_of(KINDS) == 0
    assert "url(#hours-hatch-0)" in str(swatch("hours", KINDS))


def test_blank_paper_needs_no_pattern() -> None:
    """Time of no area is drawn and sampled without a hatch."""
    assert "".join(patterns("a", [BLANK])) == "<defs></defs>"
    assert 'class="bar blank"' in str(swatch("a", BLANK))
    assert 'fill="none"' in str(swatch("a", BLANK))
