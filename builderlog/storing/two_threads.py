"""Work on many pictures in two threads: reading, decoding and encoding run beside each other.

Two, not one a core: memory stays bounded whatever the machine, and two keep a disk busy.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

Item = TypeVar("Item")
Result = TypeVar("Result")

THREADS = 2


def each_in_two_threads(work: Callable[[Item], Result], items: Iterable[Item]) -> Iterator[Result]:
    """`work` of each item, in the order of the items. What it raises comes out here.

    When the caller stops (an error, Ctrl-C), what has not begun is dropped, not waited for.
    """
    executor = ThreadPoolExecutor(THREADS)
    try:
        yield from executor.map(work, items)
    finally:
        executor.shutdown(cancel_futures=True)
