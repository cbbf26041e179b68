"""Holds the pages of a bag, the binder's and the first one, against those that its notes give.

Only where the same version of ours made the bag: another one may word its pages otherwise, and
the numbers are held by the tables in any case.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from builderlog.handover.bag_info import INFORMATION_NAME, software_agent
from builderlog.handover.binder import BINDER, PICTURES_FOLDER
from builderlog.handover.fault import Fault, printable

LARGEST_READ = 1 << 25  # bytes; beyond this a page or bag-info.txt is none of ours


def check_pages(
    bag: Path,
    sizes: Mapping[str, int],
    expected: Mapping[str, bytes],
    pictures: Collection[str],
) -> Iterator[Fault]:
    """The faults of all pages; `sizes` holds every readable regular file, in bytes.

    `pictures` are the paths of those that the pages show; what they show is not looked at.
    """
    if not _is_ours(bag, sizes):
        return
    for path in sorted(expected):
        if path not in sizes:
            told = "this page is not in the bag, though the notes give one"
            yield Fault(path, "page-missing", told)
        elif _bytes(bag, sizes, path) != expected[path]:
            told = "this page does not say what the notes give; read the tables, or make it again"
            yield Fault(path, "page", told)
    for path in sorted(set(pictures).difference(sizes)):
        told = "the pages show this picture, and it is not in the bag"
        yield Fault(path, "picture-missing", told)
    yield from _unknown(sizes, {*expected, *pictures})


def _unknown(sizes: Mapping[str, int], known: Collection[str]) -> Iterator[Fault]:
    for path in sorted(sizes):
        if not path.startswith(BINDER) or path in known:
            continue
        if path.startswith(PICTURES_FOLDER):
            told = "no page shows this picture"
            yield Fault(printable(path), "picture-unknown", told)
        else:
            told = "no page of this name comes from the notes"
            yield Fault(printable(path), "page-unknown", told)


def _is_ours(bag: Path, sizes: Mapping[str, int]) -> bool:
    lines = _bytes(bag, sizes, INFORMATION_NAME).decode("utf-8", "replace").splitlines()
    return software_agent() in lines


def _bytes(bag: Path, sizes: Mapping[str, int], path: str) -> bytes:
    """A file of the bag; nothing where it is not there or too large to be read."""
    size = sizes.get(path)
    return b"" if size is None or size > LARGEST_READ else (bag / path).read_bytes()
