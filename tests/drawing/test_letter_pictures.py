"""Pictures in a letter: as large as fit together, upright JPEG, the same bytes each time."""

from __future__ import annotations

import io
import random
from pathlib import Path

import pytest
from PIL import Image

from builderlog.drawing import letter_pictures
from builderlog.drawing.letter_pictures import (
    Drawn,
    LetterPicture,
    draw_for_letter,
    size_in_letter,
)
from builderlog.reading.photo_file import read_photo
from builderlog.storing.cache import Store

PLENTY = 10_000_000
RUNGS = ((120, 80), (40, 50))
MOST_PICTURES = 3


def picture(folder: Path, name: str, size: tuple[int, int] = (140, 90)) -> LetterPicture:
    """A picture with something to look at, so that its bytes grow with its size."""
    chance = random.Random(name)
    small = Image.frombytes("RGB", (70, 45), chance.randbytes(70 * 45 * 3))
    file = folder / f"{name}.jpg"
    small.resize(size).save(file, quality=90)
    return LetterPicture(read_photo(file, file.name), file)


@pytest.fixture(autouse=True)
def low_rungs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two rungs for small pictures, and few of them, so that the tests are quick."""
    monkeypatch.setattr(letter_pictures, "RUNGS", RUNGS)
    monkeypatch.setattr(letter_pictures, "MOST_PICTURES", MOST_PICTURES)


def drawn(pictures: list[LetterPicture], room: int) -> Drawn:
    """The copies in this many bytes."""
    return draw_for_letter(pictures, room, Store(None))


def weight(made: Drawn) -> int:
    """Bytes of all copies."""
    return sum(len(copy.data) for copy in made.copies.values())


def test_a_copy_is_a_jpeg_of_the_size_it_says(tmp_path: Path) -> None:
    """At the first rung, without a profile, comment or Exif."""
    made = drawn([picture(tmp_path, "a")], PLENTY)
    (copy,) = made.copies.values()
    with Image.open(io.BytesIO(copy.data)) as image:
        assert (image.format, image.size) == ("JPEG", (copy.width_px, copy.height_px))
        assert not set(image.info) & {"exif", "icc_profile", "comment", "xmp"}
    assert copy.width_px == RUNGS[0][0]


def test_pictures_get_smaller_until_all_fit(tmp_path: Path) -> None:
    """None is left out while a lower rung is there."""
    pictures = [picture(tmp_path, name) for name in "ab"]
    all_bytes = weight(drawn(pictures, PLENTY))
    made = drawn(pictures, all_bytes // 3)
    assert weight(made) <= all_bytes // 3
    assert len(made.copies) == 2
    assert made.left_out == ()


def test_what_does_not_fit_at_all_is_left_out_and_named(tmp_path: Path) -> None:
    """The first ones stay, in the order of the letter."""
    pictures = [picture(tmp_path, name) for name in "abc"]
    made = drawn(pictures, weight(drawn(pictures, 1 << 12)) - 1)
    assert [*made.copies] == [each.photo.digest for each in pictures[:2]]
    assert made.left_out == (pictures[2].photo.digest,)
    assert drawn(pictures, 0).copies == {}


def test_more_pictures_than_anybody_looks_at_are_left_out(tmp_path: Path) -> None:
    """And equal files count once."""
    one = picture(tmp_path, "a", (8, 8))
    assert len(drawn([one] * (MOST_PICTURES + 5), PLENTY).copies) == 1
    many = [picture(tmp_path, f"{number}", (8, 8)) for number in range(MOST_PICTURES + 2)]
    assert len(drawn(many, PLENTY).left_out) == 2


def test_the_same_pictures_give_the_same_bytes(tmp_path: Path) -> None:
    """Whether drawn anew or taken from the store."""
    pictures = [picture(tmp_path, "a")]
    store = Store(tmp_path / "cache")
    first = draw_for_letter(pictures, PLENTY, store)
    assert draw_for_letter(pictures, PLENTY, Store(tmp_path / "cache")) == first
    assert drawn(pictures, PLENTY) == first


def test_a_picture_that_cannot_be_decoded_is_told(tmp_path: Path) -> None:
    """With a sentence for the builder; the others are drawn."""
    good = picture(tmp_path, "good", (64, 48))
    bad = picture(tmp_path, "bad", (64, 48))
    bad.file.write_bytes(b"\xff\xd8 no picture at all")
    made = drawn([bad, good], PLENTY)
    assert [*made.copies] == [good.photo.digest]
    assert "cannot be decoded" in (made.faults or {})[bad.photo.digest]


@pytest.mark.parametrize(
    ("size", "wanted", "made"),
    [
        ((4000, 3000), 1200, (1200, 900)),
        ((3000, 4000), 1200, (1200, 1600)),
        ((640, 480), 1200, (640, 480)),
        ((1000, 8000), 800, (200, 1600)),
        ((9000, 10), 240, (240, 1)),
        ((1, 9000), 240, (1, 9000)),
    ],
)
def test_no_copy_is_larger_than_the_picture_or_very_tall(
    size: tuple[int, int], wanted: int, made: tuple[int, int]
) -> None:
    """A long strip is made narrower, so that it does not fill the whole letter."""
    assert size_in_letter(*size, wanted) == made
