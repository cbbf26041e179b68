"""Holds the document of a bag against its tables: what is attached to the PDF must be the same.

How the document looks is not judged: it was set from the same notes as the pages, and its digest
is in the manifests.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from builderlog.handover.digests import digests_of_regular
from builderlog.handover.fault import Fault, printable

DOCUMENT = "dossier.pdf"
LARGEST = 1 << 31  # bytes; beyond this it is none of ours
MOST_SECONDS = 300  # the largest of ours take a few
LONGEST_REASON = 200  # characters

_PROGRAM = "import sys; from builderlog.handover.pdf_attached import main; main(sys.argv[1:])"


class BrokenDocumentError(Exception):
    """The document cannot be read; the message says why."""


def check_document(file: Path, size: int | None, tables: Mapping[str, Path]) -> Iterator[Fault]:
    """The faults of what is attached; `size` None where the document is not there.

    `tables` are the bag's files by the names under which they have to be attached.
    """
    if size is None:
        told = "the document is not in the bag; the pages in binder/ say the same"
        yield Fault(DOCUMENT, "document-missing", told)
        return
    try:
        held = attached_to(file, size)
    except BrokenDocumentError as broken:
        yield Fault(DOCUMENT, "document", f"what is attached to it cannot be read: {broken}")
        return
    for name, told in _differences(held, tables):
        yield Fault(DOCUMENT, "attachment", f"{printable(name)!r} {told}")


def _differences(
    held: list[tuple[str, str]], tables: Mapping[str, Path]
) -> Iterator[tuple[str, str]]:
    digests = dict(held)
    if len(digests) != len(held):
        yield "two files", "of one name are attached"
    for name, table in tables.items():
        if name not in digests:
            yield name, "is not attached, though the bag has this table"
        elif digests[name] != digests_of_regular(table).by_algorithm["sha256"]:
            yield name, "is attached with other bytes than the bag's table has"
    for name in sorted(set(digests) - set(tables)):
        yield name, "is attached, and the bag has no such table"


def attached_to(file: Path, size: int) -> list[tuple[str, str]]:
    """(name, SHA-256 in hex) of each attached file. Raises `BrokenDocumentError`."""
    if size > LARGEST:
        raise BrokenDocumentError(f"{size} bytes are more than {LARGEST}; it is not opened")
    words = [sys.executable, "-P", "-c", _PROGRAM, str(file.resolve())]
    try:
        done = subprocess.run(  # noqa: S603 - our own words and a path
            words, capture_output=True, check=False, timeout=MOST_SECONDS, stdin=subprocess.DEVNULL
        )
    except subprocess.TimeoutExpired as error:
        raise BrokenDocumentError(f"it is not read within {MOST_SECONDS} seconds") from error
    if done.returncode:
        raise BrokenDocumentError(_reason(done.stderr))
    return [(str(name), str(digest)) for name, digest in json.loads(done.stdout)]


def _reason(stderr: bytes) -> str:
    """What the reader said last, on one line."""
    lines = stderr.decode("utf-8", "replace").strip().splitlines()
    return printable((lines or ["its reader was ended by the system"])[-1][:LONGEST_REASON])
