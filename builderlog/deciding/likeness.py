"""Which pictures are nearly the same: fingerprints compared in all turns and trims, by an index.

What follows from it is for `deciding.checks_pictures` to say.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from functools import cache, partial
from itertools import islice
from typing import TypeVar

from builderlog.reading.signs import KEY, WINDOWS, Signs, from_text, turns

Side = TypeVar("Side", bound=Hashable)

# Of the 88 strongest signs so many may differ. Measured on 318 photographs, drawings and parts of
# them that have a fingerprint: of 5,248 copies (saved anew, smaller, turned, mirrored, lighter,
# darker, blurred, trimmed by up to a tenth of each side, and several of these together) 98.3 in
# 100 are found, and most others are plain pictures whose copy shows too little for a fingerprint;
# of 178,700 pairs of different pictures 10 are taken for the same, 6 of them parts of one round
# disc. With 8 it is 96.8 in 100 and 6 pairs; with 16, 98.4 and 22.
NEAR = 12

# The window that has the key need not be the best one: differing by no more than this, its
# picture's other windows are compared too.
BESIDE = 2 * NEAR

# Of one picture so many others like it are looked for: enough to tell, and bounded where all
# pictures of a journal are alike (a camera fixed to the wall).
MOST = 8


def alike(
    prints: Mapping[str, str], sides: Mapping[str, Side], are_apart: Callable[[Side, Side], bool]
) -> tuple[tuple[str, str], ...]:
    """The pairs of nearly the same pictures on different sides; each and all in order of name.

    `prints` are fingerprints (`reading.fingerprint`) by any name; '' is like no other. A pair
    is only compared where the sides of the two `are_apart` (either way round).
    """
    names = sorted(name for name, text in prints.items() if text)
    index = _Index([from_text(prints[name]) for name in names], [sides[name] for name in names])
    found: set[tuple[str, str]] = set()
    for number, name in enumerate(names):
        is_apart = cache(partial(are_apart, sides[name]))
        for other in islice(index.near(number, is_apart), MOST):
            found.add((name, names[other]) if number < other else (names[other], name))
    return tuple(sorted(found))


def nearly_same(one: Signs, other: Signs) -> bool:
    """Whether `alike` would find these two, for who has few to compare."""
    return one == other or _is_copy(one, other) or _is_copy(other, one)


def _is_copy(one: Signs, other: Signs) -> bool:
    """Whether the whole of one, in some turn, is near a window of the other that has its key."""
    for whole, strong, weak in turns(one):
        ruled = KEY & ~weak
        for window in other.windows:
            apart = window ^ whole
            if not apart & ruled and (apart & strong).bit_count() <= BESIDE:
                if _is_near(other, whole, strong):
                    return True
                break
    return False


class _Index:
    """The windows of all pictures, by the signs of their coarsest waves (the key) and their side.

    A trimmed copy is near some window of its original, and then nearly always has its key, but
    for a few of the weakest waves. So a picture asks for its key in 8 turns and, in each, for
    the keys that differ in some of these waves: 512 questions instead of one for each window of
    each picture.
    """

    def __init__(self, pictures: Sequence[Signs], sides: Sequence[Hashable]) -> None:
        self._pictures = pictures
        self._windows = [window for picture in pictures for window in picture.windows]
        self._by_key: dict[int, dict[Hashable, list[int]]] = {}
        for at, window in enumerate(self._windows):
            by_side = self._by_key.setdefault(window & KEY, {})
            by_side.setdefault(sides[at // WINDOWS], []).append(at)

    def near(self, number: int, is_apart: Callable[..., bool]) -> Iterator[int]:
        """The pictures apart one of whose windows is near the whole of this one, each once."""
        found = {number}
        for whole, strong, weak in turns(self._pictures[number]):
            compared: set[int] = set()
            for at in self._with_key(whole & KEY, weak, is_apart):
                other = at // WINDOWS
                if other in found or other in compared:
                    continue
                if ((self._windows[at] ^ whole) & strong).bit_count() <= BESIDE:
                    compared.add(other)
                    if _is_near(self._pictures[other], whole, strong):
                        found.add(other)
                        yield other

    def _with_key(self, key: int, weak: int, is_apart: Callable[..., bool]) -> Iterator[int]:
        """The windows that have the key, or one that differs in weak waves only."""
        for change in _parts_of(weak):
            if by_side := self._by_key.get(key ^ change):
                for side, places in by_side.items():
                    if is_apart(side):
                        yield from places


def _is_near(picture: Signs, whole: int, strong: int) -> bool:
    return min(((window ^ whole) & strong).bit_count() for window in picture.windows) <= NEAR


def _parts_of(marks: int) -> Iterator[int]:
    """Every choice of some of the marked bits, none first."""
    part = 0
    while True:
        yield part
        part = (part - marks) & marks
        if not part:
            return
