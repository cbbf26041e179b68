"""Holds the pages of a bag, the claim's and the guide, against those that its notes give.

Only where the same version of ours made the bag: another one may word its pages otherwise, and
the numbers are held by the tables in any case.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from builderlog.handover.bag import INFORMATION_NAME, software_agent
from builderlog.handover.claim_pages import FOLDER
from builderlog.handover.fault import Fault, printable

LARGEST_READ = 1 << 25  # bytes; beyond this a page or bag-info.txt is none of ours


def check_pages(
    bag: Path, sizes: Mapping[str, int], expected: Mapping[str, bytes]
) -> Iterator[Fault]:
    """The faults of all pages; `sizes` holds every readable regular file, in bytes."""
    if not _is_ours(bag, sizes):
        return
    for path in sorted(expected):
        if path not in sizes:
            yield Fault(
                path, "page-missing", "this page is not in the bag, though the notes give one"
            )
        elif _bytes(bag, sizes, path) != expected[path]:
            told = "this page does not say what the notes give; read the tables, or make it again"
            yield Fault(path, "page", told)
    for path in sorted(sizes):
        if path.startswith(FOLDER) and path not in expected:
            told = "no page of this name comes from the notes"
            yield Fault(printable(path), "page-unknown", told)


def _is_ours(bag: Path, sizes: Mapping[str, int]) -> bool:
    lines = _bytes(bag, sizes, INFORMATION_NAME).decode("utf-8", "replace").splitlines()
    return software_agent() in lines


def _bytes(bag: Path, sizes: Mapping[str, int], path: str) -> bytes:
    """A file of the bag; nothing where it is not there or too large to be read."""
    size = sizes.get(path)
    return b"" if size is None or size > LARGEST_READ else (bag / path).read_bytes()
