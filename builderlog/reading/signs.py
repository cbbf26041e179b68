"""The signs of a small grey picture's waves: what stays of it when it is copied, turned or trimmed.

Knows numbers only, no file and no picture library. A picture of 40 x 40 shades is taken apart
into waves (the discrete cosine transform, DCT-II); of each wave only the sign is kept, since
brightness, contrast and compression leave it alone. The signs are taken in many windows, the
whole and its parts, so that a trimmed copy is found in one of the windows of its original.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import cos, pi
from operator import itemgetter, mul

SIDE = 40  # shades across and down; a tenth of it is cut off at most
ORDERS = 15  # half waves across plus half waves down stay below this: finer ones a copy loses

# A wave by its half waves across and down; without (0, 0), which is the mean.
WAVES = tuple((u, v) for v in range(ORDERS) for u in range(ORDERS - v) if u + v)
STRONG = 88  # so many of the 119 signs are compared, those of the whole's strongest waves
WEAK = 6  # so many of the key's signs may be other ones: those of its weakest waves
COARSE = 5  # the waves of the key: half waves across plus down up to this

# What a window leaves off at its two ends, in shades. Of any trim up to a tenth of each side one
# of these is off by no more than 1.5 shades at either end and 2 at both together. Across and down
# are combined freely: 49 windows.
TRIMS = ((0, 0), (2, 2), (4, 4), (3, 0), (0, 3), (4, 1), (1, 4))
WINDOWS = len(TRIMS) ** 2

_AMPLITUDE = 128  # of a wave, in whole numbers, so that all machines reckon alike
_MEAN_AMPLITUDE = 91  # the wave of no half waves: 128 / sqrt 2, as the transform is defined
_LANE_BYTES = 5  # holds 510 * 40 * 128 * 40 * 128, the largest sum, and its sign
_LANE_BITS = 8 * _LANE_BYTES
_LANES = len(TRIMS) * ORDERS
_HALF = 1 << (_LANE_BITS - 1)
_BIAS = sum(_HALF << (_LANE_BITS * lane) for lane in range(_LANES))


@dataclass(frozen=True, slots=True)
class Signs:
    """The signs of a picture: one number a window, one bit a wave; the whole picture first.

    `strong` marks the whole's strongest waves, `weak` the weakest waves of its key.
    """

    windows: tuple[int, ...]
    strong: int
    weak: int


def _mark(waves: Sequence[bool]) -> int:
    """A number with one bit for each wave, the first wave highest."""
    return int("".join("1" if wave else "0" for wave in waves), 2)


KEY = _mark([u + v <= COARSE for u, v in WAVES])
_ODD_ACROSS = _mark([u % 2 == 1 for u, _ in WAVES])
_ODD_DOWN = _mark([v % 2 == 1 for _, v in WAVES])
_FLIPS = (0, _ODD_ACROSS, _ODD_DOWN, _ODD_ACROSS ^ _ODD_DOWN)
_SWAPPED = itemgetter(*(WAVES.index((v, u)) for u, v in WAVES))


def swapped(signs: int) -> int:
    """The signs (or marks) of the picture mirrored at its diagonal."""
    return int("".join(_SWAPPED(f"{signs:0{len(WAVES)}b}")), 2)


def turns(signs: Signs) -> Iterator[tuple[int, int, int]]:
    """Whole, strong and weak of the picture as it would be in each of its 8 turns.

    Mirrored left to right, a wave with an odd number of half waves across changes its sign.
    """
    upright = (signs.windows[0], signs.strong, signs.weak)
    for whole, strong, weak in (upright, tuple(map(swapped, upright))):
        for flip in _FLIPS:
            yield whole ^ flip, strong, weak


# Taking the signs -------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _waves() -> tuple[tuple[tuple[int, ...], ...], ...]:
    """By window end and half waves: the wave's height at each of the 40 places."""
    return tuple(
        tuple(_wave(before, SIDE - before - after, order) for order in range(ORDERS))
        for before, after in TRIMS
    )


def _wave(before: int, length: int, order: int) -> tuple[int, ...]:
    height = _AMPLITUDE if order else _MEAN_AMPLITUDE
    inside = (round(height * cos(pi * order * (2 * x + 1) / (2 * length))) for x in range(length))
    return (*(0 for _ in range(before)), *inside, *(0 for _ in range(SIDE - before - length)))


@lru_cache(maxsize=1)
def _columns() -> tuple[int, ...]:
    """For each place across, the heights of all waves of all windows side by side in one number.

    A sum of such numbers sums all lanes at once: one multiplication serves them all.
    """
    lanes = [wave for window in _waves() for wave in window]
    return tuple(
        sum(wave[x] << (_LANE_BITS * lane) for lane, wave in enumerate(lanes)) for x in range(SIDE)
    )


def signs_of(shades: Sequence[int]) -> Signs:
    """The signs of a picture of 40 x 40 shades (0 to 510), given row by row."""
    mean = sum(shades) // len(shades)
    level = [shade - mean for shade in shades]
    columns = _columns()
    rows = [sum(map(mul, level[y : y + SIDE], columns)) for y in range(0, SIDE * SIDE, SIDE)]
    sums = [[_add_up(wave, rows) for wave in window] for window in _waves()]
    windows = tuple(
        _read_signs(sums[down], across) for down, across in product(range(len(TRIMS)), repeat=2)
    )
    return Signs(windows, *_strengths(sums[0]))


def _add_up(wave: tuple[int, ...], rows: Sequence[int]) -> bytes:
    """All sums of one wave down: five bytes for each window and wave across, biased."""
    total: int = sum(map(mul, wave, rows)) + _BIAS
    return total.to_bytes(_LANES * _LANE_BYTES, "little")


_DIGIT = bytes(b"01"[top >> 7] for top in range(256))  # the highest bit of a biased sum is its sign


def _read_signs(sums: Sequence[bytes], across: int) -> int:
    """The signs of one window, from the sums of its waves down."""
    begin = across * ORDERS
    tops = (
        one[_LANE_BYTES * (begin + 1) - 1 : _LANE_BYTES * (begin + ORDERS - down) : _LANE_BYTES]
        for down, one in enumerate(sums)
    )
    return int(b"".join(tops).translate(_DIGIT)[1:], 2)


def _strengths(sums: Sequence[bytes]) -> tuple[int, int]:
    """Which waves of the whole are its strongest, and which of its key are the weakest."""
    heights = [_height(sums[v], u) for u, v in WAVES]
    strongest = sorted(range(len(WAVES)), key=lambda at: (-heights[at], at))
    coarse = [at for at in strongest if sum(WAVES[at]) <= COARSE]
    strong, weak = set(strongest[:STRONG]), set(coarse[-WEAK:])
    places = range(len(WAVES))
    return _mark([at in strong for at in places]), _mark([at in weak for at in places])


def _height(sums: bytes, lane: int) -> int:
    lane_bytes = sums[_LANE_BYTES * lane : _LANE_BYTES * (lane + 1)]
    return abs(int.from_bytes(lane_bytes, "little") - _HALF)


# As text ----------------------------------------------------------------------------------

_SIGN_BYTES = (len(WAVES) + 7) // 8
_TEXT_BYTES = (WINDOWS + 2) * _SIGN_BYTES
TEXT_LENGTH = _TEXT_BYTES * 4 // 3  # base 64
_TEXT = re.compile(rf"[A-Za-z0-9+/]{{{TEXT_LENGTH}}}")


def to_text(signs: Signs) -> str:
    """The signs as 1,020 letters and digits."""
    numbers = (*signs.windows, signs.strong, signs.weak)
    return base64.b64encode(b"".join(one.to_bytes(_SIGN_BYTES, "big") for one in numbers)).decode()


def is_text(text: str) -> bool:
    """Whether `from_text` can read it."""
    return _TEXT.fullmatch(text) is not None


def from_text(text: str) -> Signs:
    """The signs from their text. Raises `ValueError` where it is not one that we wrote."""
    if not is_text(text):
        raise ValueError(f"{text[:20]!r} is no fingerprint")
    data = base64.b64decode(text)
    numbers = [
        int.from_bytes(data[at : at + _SIGN_BYTES], "big")
        for at in range(0, _TEXT_BYTES, _SIGN_BYTES)
    ]
    return Signs(tuple(numbers[:WINDOWS]), *numbers[WINDOWS:])
