"""The two files that say what a bag is: bagit.txt and bag-info.txt, written and read.

Source: RFC 8493 (BagIt 1.0), sections 2.1.1 and 2.2.2.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from unicodedata import category

from builderlog import __version__
from builderlog.knowing.settings import Settings

DECLARATION_NAME = "bagit.txt"
DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
INFORMATION_NAME = "bag-info.txt"
PAYLOAD = "data/"
OXUM = "Payload-Oxum"
LONGEST_VALUE = 500  # characters

_BREAKING = ("Cc", "Cs", "Zl", "Zp", "Zs")


def software_agent() -> str:
    """The line of bag-info.txt that says which version made the bag."""
    return f"Bag-Software-Agent: builderlog {__version__}"


def bag_info(
    settings: Settings, sizes: Iterable[int], on: date | None, *, small: bool = False
) -> bytes:
    """bag-info.txt of a payload of these sizes in bytes; `small` where pictures are copies."""
    held = list(sizes)
    lines = [software_agent(), *_about(settings, small=small), f"{OXUM}: {sum(held)}.{len(held)}"]
    if on:
        lines.append(f"Bagging-Date: {on.isoformat()}")
    return "".join(f"{line}\n" for line in lines).encode("utf-8")


def _about(settings: Settings, *, small: bool) -> Iterator[str]:
    yield f"External-Description: Builder's record: {one_line(settings.title) or 'untitled'}"
    if small:
        yield (
            "External-Description: Pictures as print-size copies; the digests in "
            "data/tables/photos.csv are those of the originals"
        )
    organization = one_line(settings.dossier.organization or "")
    if organization:
        yield f"Source-Organization: {organization}"


def one_line(text: str) -> str:
    """The text on one line: a break in it would begin another label or go on with this one."""
    plain = "".join(" " if category(sign) in _BREAKING else sign for sign in text)
    return " ".join(plain.split())[:LONGEST_VALUE].rstrip()


def values_of(label: str, data: bytes) -> list[str]:
    """What bag-info.txt says under a label, in order; bytes that are not UTF-8 as escapes."""
    lines = data.decode("utf-8", "backslashreplace").split("\n")
    pairs = (line.partition(":") for line in lines)
    return [value.strip() for found, _, value in pairs if found == label]
