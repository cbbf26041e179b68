"""Holds which picture opens a page, and that pictures come once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from builderlog.deciding.public import PublicPhotoUse
from builderlog.sheets.shots import best_photo, shots_of
from tests.drawing.made_public import SECOND

PLAIN = PublicPhotoUse("a" * 64, None, (), "", date(2026, 3, 1), "n")
OTHER = replace(PLAIN, digest="b" * 64)
BEST = "b"


def opened_by(*uses: PublicPhotoUse) -> str:
    """The first letter of the digest of the picture that opens a note with these."""
    photo = best_photo(shots_of(replace(SECOND, photos=uses, links=()), {}))
    assert photo
    return photo.digest[0]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({}, {"caption": "Square at last"}),
        ({"page": True, "caption": "The page of the day"}, {}),
        ({"width_px": 640, "height_px": 480}, {"width_px": 1000, "height_px": 750}),
        ({"width_px": 4000, "height_px": 1000}, {"width_px": 3000, "height_px": 1000}),
        ({"width_px": 900, "height_px": 4000}, {"width_px": 3000, "height_px": 4000}),
        (
            {"width_px": 4000, "height_px": 3000},
            {"width_px": 640, "height_px": 480, "caption": "x"},
        ),
    ],
    ids=["captioned", "no page", "large enough", "no strip", "no tall strip", "words before size"],
)
def test_the_better_picture_opens(first: dict[str, object], second: dict[str, object]) -> None:
    """The second one is better, and opens the page wherever it stands."""
    one, two = replace(PLAIN, **first), replace(OTHER, **second)  # type: ignore[arg-type]
    assert opened_by(one, two) == opened_by(two, one) == BEST


def test_of_equals_the_first_opens() -> None:
    """Where nothing speaks for one of them, the builder's order does."""
    assert opened_by(PLAIN, OTHER) == "a"
    assert opened_by(OTHER, PLAIN) == BEST


def test_a_size_that_is_not_known_speaks_against_nothing() -> None:
    """A picture of unknown size is not taken for a small one."""
    assert opened_by(PLAIN, replace(OTHER, width_px=4000, height_px=3000)) == "a"


def test_a_note_without_pictures_opens_with_none() -> None:
    """Nothing is made up where there is no picture."""
    assert best_photo(()) is None


def test_of_equals_one_that_the_page_does_not_show_elsewhere_opens_it() -> None:
    """One of less worth does not, though: better shown twice than poorly begun."""
    equals = shots_of(replace(SECOND, photos=(PLAIN, OTHER), links=()), {})
    assert [best_photo(equals, {PLAIN.digest}), best_photo(equals)] == [
        equals[1].photo,
        equals[0].photo,
    ]
    small = replace(OTHER, width_px=400, height_px=300)
    unlike = shots_of(replace(SECOND, photos=(PLAIN, small), links=()), {})
    assert best_photo(unlike, {PLAIN.digest}) == unlike[0].photo
