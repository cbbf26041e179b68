"""The signs of a picture's waves: what they are, and how they turn with the picture."""

from __future__ import annotations

from fractions import Fraction
from hashlib import sha256
from math import cos, pi
from random import Random

import pytest

from builderlog.reading.signs import (
    COARSE,
    KEY,
    ORDERS,
    SIDE,
    STRONG,
    TEXT_LENGTH,
    TRIMS,
    WAVES,
    WEAK,
    WINDOWS,
    from_text,
    is_text,
    signs_of,
    swapped,
    to_text,
    turns,
)

Shades = list[int]
PLACES = range(SIDE)


def some_shades(seed: int, most: int = 510) -> Shades:
    """A picture of chance."""
    chance = Random(seed)
    return [chance.randrange(most + 1) for _ in range(SIDE * SIDE)]


def mirrored(shades: Shades) -> Shades:
    """Left to right."""
    return [shades[SIDE * y + SIDE - 1 - x] for y in PLACES for x in PLACES]


def upended(shades: Shades) -> Shades:
    """Top to bottom."""
    return [shades[SIDE * (SIDE - 1 - y) + x] for y in PLACES for x in PLACES]


def transposed(shades: Shades) -> Shades:
    """At the diagonal."""
    return [shades[SIDE * x + y] for y in PLACES for x in PLACES]


def height(shades: Shades, wave: tuple[int, int], trims: tuple[tuple[int, int], ...]) -> float:
    """How high a wave is in a window, by the definition of the transform (DCT-II)."""
    (left, right), (top, bottom) = trims
    across, down = SIDE - left - right, SIDE - top - bottom
    mean = sum(shades) / len(shades)
    return sum(
        (shades[SIDE * (top + y) + left + x] - mean)
        * cos(pi * wave[0] * (2 * x + 1) / (2 * across))
        * cos(pi * wave[1] * (2 * y + 1) / (2 * down))
        for y in range(down)
        for x in range(across)
    )


@pytest.mark.parametrize("window", [0, 5, 18, 24, 41, 48])
def test_signs_are_those_of_the_transform(window: int) -> None:
    """Each sign is that of the wave in its window by definition, but for waves next to none."""
    shades = some_shades(window)
    found = signs_of(shades).windows[window]
    trims = TRIMS[window % len(TRIMS)], TRIMS[window // len(TRIMS)]
    for at, wave in enumerate(WAVES):
        wanted = height(shades, wave, trims)
        if abs(wanted) > 300:  # of 7,000 usual; below, whole-numbered waves may differ
            assert (found >> (len(WAVES) - 1 - at) & 1) == (wanted > 0), wave


def test_strong_and_weak_waves_of_the_whole() -> None:
    """88 of the 119 waves are strong, six of the key weak; no strong wave is below another."""
    shades = some_shades(3)
    signs = signs_of(shades)
    assert (len(WAVES), signs.strong.bit_count(), signs.weak.bit_count()) == (119, STRONG, WEAK)
    heights = []
    for at, (u, v) in enumerate(WAVES):
        scale = (1 if u else 2**-0.5) * (1 if v else 2**-0.5)
        mark = 1 << (len(WAVES) - 1 - at)
        told = abs(height(shades, (u, v), (TRIMS[0], TRIMS[0])) * scale)
        heights.append((told, bool(mark & signs.strong), mark & KEY and bool(mark & signs.weak)))
    weakest_strong = min(told for told, strong, _ in heights if strong)
    assert all(told < weakest_strong * 1.05 for told, strong, _ in heights if not strong)
    strongest_weak = max(told for told, _, weak in heights if weak)
    assert all(told > strongest_weak * 0.95 for told, _, weak in heights if weak is False)


def test_the_key_is_made_of_the_coarsest_waves() -> None:
    """The key has one bit for each wave of up to five half waves, across and down together."""
    coarse = [wave for wave in WAVES if sum(wave) <= COARSE]
    assert KEY.bit_count() == len(coarse) == 20
    assert max(map(sum, WAVES)) == ORDERS - 1
    assert signs_of(some_shades(4)).weak & ~KEY == 0


def test_turns_are_those_of_the_turned_picture() -> None:
    """What is told of each of the 8 turns is what the turned picture itself would say."""
    shades = some_shades(5)
    turned = [
        each
        for one in (shades, transposed(shades))
        for each in (one, mirrored(one), upended(one), mirrored(upended(one)))
    ]
    taken = [signs_of(each) for each in turned]
    told = [*turns(taken[0])]
    assert told == [(each.windows[0], each.strong, each.weak) for each in taken]
    assert len(set(told)) == 8
    assert swapped(swapped(told[0][0])) == told[0][0]


def test_brightness_and_contrast_change_nothing() -> None:
    """A picture with lighter shades, or with twice the contrast, has the same signs."""
    shades = some_shades(6, most=200)
    signs = signs_of(shades)
    assert signs_of([shade + 60 for shade in shades]) == signs
    near = signs_of([2 * shade + 37 for shade in shades])  # the mean is rounded differently
    assert sum((a ^ b).bit_count() for a, b in zip(signs.windows, near.windows, strict=True)) < 20


def test_the_largest_sums_fit() -> None:
    """A picture that is one wave in black and white, the largest sum, has that wave's sign."""
    for u, v in ((1, 0), (0, 1), (1, 1), (7, 7), (14, 0), (0, 14)):
        across = [cos(pi * u * (2 * x + 1) / (2 * SIDE)) for x in PLACES]
        down = [cos(pi * v * (2 * y + 1) / (2 * SIDE)) for y in PLACES]
        for most, least in ((510, 0), (0, 510)):
            shades = [most if across[x] * down[y] > 0 else least for y in PLACES for x in PLACES]
            signs = signs_of(shades)
            mark = 1 << (len(WAVES) - 1 - WAVES.index((u, v)))
            assert bool(signs.windows[0] & mark) is (most > least)
            assert signs.strong & mark


def test_every_trim_is_near_a_window() -> None:
    """Whatever is cut off two ends, up to a tenth, one window leaves off nearly as much."""
    steps = [Fraction(step, 4) for step in range(17)]  # in shades of 40: a tenth is 4
    for before in steps:
        for after in steps:
            off = min(max(abs(before - a), abs(after - b)) for a, b in TRIMS)
            assert off <= Fraction(3, 2), (before, after)
            spread = min(abs(before - a) + abs(after - b) for a, b in TRIMS)
            assert spread <= 2, (before, after)
    assert len(TRIMS) ** 2 == WINDOWS


def test_text_and_back() -> None:
    """Signs as text are 1,020 letters and digits, and the same when read again."""
    signs = signs_of(some_shades(7))
    text = to_text(signs)
    assert len(text) == TEXT_LENGTH == 1020
    assert from_text(text) == signs


def test_signs_stay_what_they_are() -> None:
    """The signs of the same shades are the same on every machine and in every version.

    Where this must change, FACTS_VERSION (photo_file) goes up with it: those in a cache are old.
    """
    text = to_text(signs_of(some_shades(1)))
    digest = "825490d08b5485b2424eaea3acf9e0b7784db411cd3329c1bb5d1f32734cabf8"
    assert sha256(text.encode()).hexdigest() == digest


@pytest.mark.parametrize("text", ["", "A", "A" * 1019, "A" * 1021, "=" * 1020, "é" + "A" * 1019])
def test_other_text_is_refused(text: str) -> None:
    """What is no fingerprint of ours is told as such, never read as another."""
    assert not is_text(text)
    with pytest.raises(ValueError, match="is no fingerprint"):
        from_text(text)
