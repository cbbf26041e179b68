"""A picture's fingerprint: near for copies, far for other pictures, none where little is shown."""

from __future__ import annotations

import random
import threading
from functools import cache
from itertools import combinations
from statistics import median
from typing import TYPE_CHECKING

import pytest
from PIL import Image, ImageDraw
from PIL.Image import Transpose

from builderlog.reading import fingerprint
from builderlog.reading.fingerprint import BUSY_PARTS, BUSY_SHADES, take_fingerprint
from builderlog.reading.picture_open import UNREADABLE
from builderlog.reading.signs import SIDE
from tests.reading.shop_pictures import (
    Change,
    apart_by,
    blurred,
    brighter,
    contrasted,
    in_turn,
    saved,
    shop_picture,
    smaller,
    trimmed,
    turned,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from builderlog.reading.picture_bytes import Kind

# Of the 88 strong signs, what was measured on the first twelve shop pictures: copies of the whole
# differ in 0, trimmed ones in up to 7; two different pictures in 16 and more, half of them in 28.
WHOLE, TRIMMED, OTHER, OTHER_MEDIAN = 1, 9, 14, 25
NUMBERS = range(12)
SOME = range(6)


@cache
def shop_print(number: int) -> str:
    """The fingerprint of a shop picture as a phone would save it."""
    return take_fingerprint(saved(shop_picture(number), quality=88), "JPEG")


def apart(change: Change, numbers: Sequence[int] = SOME, quality: int = 75) -> list[int]:
    """For some shop pictures, in how many strong signs its changed copy differs."""
    found = []
    for number in numbers:
        copy = take_fingerprint(saved(change(shop_picture(number)), quality=quality), "JPEG")
        found.append(apart_by(shop_print(number), copy))
    return found


@pytest.mark.parametrize("quality", [30, 60, 95])
def test_saved_anew(quality: int) -> None:
    """Compression, coarse or fine, leaves the fingerprint nearly as it is."""
    assert max(apart(lambda image: image, quality=quality)) <= WHOLE


@pytest.mark.parametrize(
    "change",
    [
        *(turned(turn) for turn in Transpose),
        *(smaller(2), smaller(4), blurred(2)),
        *(brighter(0.85), brighter(1.15), contrasted(0.85), contrasted(1.15)),
        in_turn(turned(Transpose.TRANSVERSE), smaller(3), brighter(1.1), blurred(1)),
    ],
)
def test_copies_of_the_whole(change: Change) -> None:
    """Turned, mirrored, smaller, blurred, lighter or darker, a copy stays nearly the same."""
    assert max(apart(change)) <= WHOLE


@pytest.mark.parametrize(
    "sides",
    [
        *((0.1, 0.1, 0.1, 0.1), (0.05, 0.05, 0.05, 0.05), (0.025, 0.025, 0.025, 0.025)),
        *((0.1, 0, 0, 0), (0.1, 0.1, 0, 0), (0, 0, 0.1, 0.1), (0.1, 0, 0.1, 0), (0, 0.1, 0, 0.1)),
        *((0.075, 0.075, 0.075, 0.075), (0.02, 0.09, 0.06, 0.03), (0.04, 0.01, 0.1, 0.07)),
    ],
)
def test_trimmed_copies(sides: tuple[float, float, float, float]) -> None:
    """A copy trimmed by up to a tenth of each side is near, in the middle or off it, turned too."""
    assert max(apart(trimmed(*sides))) <= TRIMMED
    assert max(apart(in_turn(turned(Transpose.ROTATE_90), trimmed(*sides)), [1, 2])) <= TRIMMED


def test_trimmed_by_more() -> None:
    """A copy that lost a fifth of each side is another picture: windows reach no further."""
    assert min(apart(trimmed(0.2, 0.2, 0.2, 0.2))) > TRIMMED


def test_different_pictures() -> None:
    """Before the same wall, on the same bench, different things make different fingerprints."""
    prints = [shop_print(number) for number in NUMBERS]
    found = [apart_by(one, other) for one, other in combinations(prints, 2)]
    assert min(found) > OTHER
    assert median(found) > OTHER_MEDIAN


def lamp_lit(number: int) -> Image.Image:
    """A shop picture in the dark, but for one bright lamp shade that is in all of them."""
    image = shop_picture(number).convert("L").point(lambda shade: 40 + shade // 6)
    ImageDraw.Draw(image).polygon(((0, 0), (640, 0), (640, 110), (0, 260)), fill=250)
    return image.convert("RGB")


def test_one_bright_edge_does_not_decide_all() -> None:
    """Dark pictures with the same bright lamp in them are told apart by what is in the dark.

    Measured: the nearest two of ten differ in 14 signs; by their plain shades it would be none.
    """
    prints = [take_fingerprint(saved(lamp_lit(number)), "JPEG") for number in range(10)]
    assert min(apart_by(one, other) for one, other in combinations(prints, 2)) > TRIMMED


def flat_drawing(number: int) -> Image.Image:
    """Panels of plain shades on a plain ground."""
    chance = random.Random(number)
    image = Image.new("L", (640, 480), 120)
    for _ in range(12):
        left, top = chance.randrange(600), chance.randrange(440)
        size = chance.randrange(20, 80), chance.randrange(20, 60)
        image.paste(chance.randrange(256), (left, top, left + size[0], top + size[1]))
    return image.convert("RGB")


@pytest.mark.slow
def test_grain_on_plain_ground_does_not_decide_all() -> None:
    """Coarse grain over a drawing of plain shades leaves its fingerprint near.

    Measured: the copies of ten differ in 43 signs together; by the rank of the shades in 84.
    """
    apart_together = 0
    for number in range(10):
        image = flat_drawing(number)
        grain = random.Random(100 + number).randbytes(image.width * image.height)
        copy = Image.blend(image, Image.frombytes("L", image.size, grain).convert("RGB"), 0.1)
        one, other = (take_fingerprint(saved(each, "PNG"), "PNG") for each in (image, copy))
        apart_together += apart_by(one, other)
    assert apart_together <= 60


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_every_kind(kind: Kind) -> None:
    """The same picture in each of the five kinds has nearly the same fingerprint."""
    for number in (1, 2):
        found = take_fingerprint(saved(shop_picture(number), kind), kind)
        assert apart_by(shop_print(number), found) <= WHOLE


def sixteen_bits(image: Image.Image) -> Image.Image:
    """Grey of 16 bits, the low ones not empty."""
    wide = image.convert("L").convert("I").point(lambda shade: shade * 256 + 77)
    return wide.convert("I;16")


@pytest.mark.parametrize(
    ("change", "kind"),
    [
        (lambda image: image.convert("CMYK"), "JPEG"),
        (lambda image: image.convert("L"), "JPEG"),
        (lambda image: image.convert("P"), "PNG"),
        (lambda image: image.convert("RGBA"), "PNG"),
        (lambda image: image.convert("LA"), "PNG"),
        (sixteen_bits, "PNG"),
    ],
)
def test_every_mode(change: Change, kind: Kind) -> None:
    """Grey, palette, 16 bits, print colours and an alpha of nothing make no other picture."""
    found = take_fingerprint(saved(change(shop_picture(3)), kind), kind)
    assert apart_by(shop_print(3), found) <= WHOLE


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_what_shows_through_is_white(kind: Kind) -> None:
    """A picture with holes is that on white paper, as it is published."""
    image = shop_picture(4)
    hole = (80, 60, 400, 300)
    clear = image.convert("RGBA")
    clear.paste((0, 0, 0, 0), hole)
    image.paste((255, 255, 255), hole)
    one = take_fingerprint(saved(clear, kind), kind)
    assert apart_by(one, take_fingerprint(saved(image, "PNG"), "PNG")) <= WHOLE
    assert apart_by(one, shop_print(4)) > TRIMMED


def test_palette_with_a_clear_colour() -> None:
    """A palette with transparency warns nobody, and its clear colours are white."""
    image = shop_picture(4).quantize(64)
    solid = saved(image, "PNG", transparency=bytes([255] * 64))
    assert apart_by(shop_print(4), take_fingerprint(solid, "PNG")) <= WHOLE
    assert take_fingerprint(saved(image, "PNG", transparency=bytes(64)), "PNG") == ""


# ---- pictures that show too little ---------------------------------------------------------


def plain_wall(seed: int) -> Image.Image:
    """A wall darker to its corners, with the noise of a poor camera."""
    chance = random.Random(seed)
    size = (640, 480)
    wall = Image.radial_gradient("L").resize(size).point(lambda shade: 190 - shade // (3 + seed))
    noise = Image.frombytes("L", size, chance.randbytes(640 * 480))
    return Image.blend(wall, noise, 0.15).convert("RGB")


def dark_frame(seed: int) -> Image.Image:
    """A picture taken with the lens cap on."""
    chance = random.Random(seed)
    noise = Image.frombytes("L", (640, 480), chance.randbytes(640 * 480))
    return noise.point(lambda shade: shade // 12).convert("RGB")


def one_edge(seed: int) -> Image.Image:
    """Two plain shades that meet at a straight edge."""
    image = Image.new("L", (640, 480), 60)
    ImageDraw.Draw(image).polygon(((0, 480), (0, 90 + 40 * seed), (640, 300), (640, 480)), fill=190)
    return image.convert("RGB")


@pytest.mark.parametrize("draw", [plain_wall, dark_frame, one_edge])
def test_what_shows_too_little_has_no_fingerprint(draw: Change) -> None:
    """A plain wall, a dark frame, an edge between two shades would look like many others."""
    for seed in range(4):
        for quality in (30, 90):
            assert take_fingerprint(saved(draw(seed), quality=quality), "JPEG") == ""  # type: ignore[arg-type]


def busy(parts: int, shades: int) -> bytes:
    """A picture of which so many of 64 parts hold a dot, so much lighter than the rest."""
    image = Image.new("L", (SIDE, SIDE), 100)
    for part in range(parts):
        image.putpixel((2 + 5 * (part % 8), 2 + 5 * (part // 8)), 100 + shades)
    return saved(image, "PNG")


def test_how_much_is_enough() -> None:
    """20 parts of 64 must hold detail of 8 shades; one part or one shade less is too little."""
    assert (BUSY_PARTS, BUSY_SHADES) == (20, 8)
    assert take_fingerprint(busy(20, 8), "PNG")
    assert take_fingerprint(busy(19, 8), "PNG") == ""
    assert take_fingerprint(busy(64, 7), "PNG") == ""


@pytest.mark.parametrize("size", [(1, 1), (1, 3000), (39, 41), (3000, 2)])
def test_odd_sizes(size: tuple[int, int]) -> None:
    """A picture smaller than the fingerprint's own, or a thin strip, is handled like any other."""
    for kind in ("JPEG", "PNG"):
        take_fingerprint(saved(shop_picture(5).resize(size), kind), kind)


# ---- decoding ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "decoded"),
    [
        ((4032, 3024), (504, 378)),
        ((1600, 1200), (200, 150)),
        ((640, 480), (160, 120)),
        ((300, 170), (150, 85)),
        ((150, 100), (150, 100)),
    ],
)
def test_decodes_no_more_than_it_needs(
    monkeypatch: pytest.MonkeyPatch, size: tuple[int, int], decoded: tuple[int, int]
) -> None:
    """A JPEG is decoded grey and at an eighth, where 80 pixels a side are left; else at more."""
    seen = []
    shrink = fingerprint._to_small_grey

    def look(image: Image.Image) -> Image.Image:
        seen.append((image.mode, image.size))
        return shrink(image)

    monkeypatch.setattr(fingerprint, "_to_small_grey", look)
    found = take_fingerprint(saved(shop_picture(6).resize(size)), "JPEG")
    assert seen == [("L", decoded)]
    assert apart_by(found, shop_print(6)) <= WHOLE


@pytest.mark.parametrize(("limit", "most"), [(0, 1), (1_000_000, 2)])
def test_large_pictures_are_decoded_one_at_a_time(
    monkeypatch: pytest.MonkeyPatch, limit: int, most: int
) -> None:
    """Two threads never hold two large pictures at once; others they decode side by side."""
    monkeypatch.setattr(fingerprint, "LARGE_PIXELS", limit)
    shrink = fingerprint._to_small_grey
    within, highest, meet = 0, 0, threading.Barrier(2)

    def look(image: Image.Image) -> Image.Image:
        nonlocal within, highest
        within += 1
        highest = max(highest, within)
        if most > 1:
            meet.wait(30)
        found = shrink(image)
        within -= 1
        return found

    monkeypatch.setattr(fingerprint, "_to_small_grey", look)
    data = saved(shop_picture(7))
    threads = [threading.Thread(target=take_fingerprint, args=(data, "JPEG")) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert highest == most


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_damage_raises_what_we_know(kind: Kind) -> None:
    """Whatever bytes are flipped or cut, there is a fingerprint, none, or an error that we tell."""
    data = saved(shop_picture(8, (200, 150)), kind)
    chance = random.Random(kind)
    told = 0
    for _ in range(60):
        bent = bytearray(data)
        for _ in range(chance.randrange(1, 12)):
            bent[chance.randrange(40, len(bent))] = chance.randrange(256)
        del bent[chance.choice((len(bent), len(bent), chance.randrange(60, len(bent)))) :]
        try:
            take_fingerprint(bytes(bent), kind)
        except UNREADABLE:
            told += 1
    assert told > 10


def test_the_same_bytes_give_the_same_text() -> None:
    """A fingerprint is the same each time it is taken."""
    data = saved(shop_picture(9), "PNG")
    assert take_fingerprint(data, "PNG") == take_fingerprint(data, "PNG")
