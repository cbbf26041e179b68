"""Names and digests of the files attached to a PDF; run as a process of its own, one JSON line.

A PDF that somebody made to harm can keep a reader busy for ever or fill the memory. So it is read
where both are bounded; whatever the reader raises ends this process alone (`pdf_check`).
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import logging
import sys
from pathlib import Path

MOST_MEMORY = 1 << 32  # bytes of address space, where the system can bound it
MOST_ATTACHED = 1000
LONGEST_NAME = 1000  # characters


def main(words: list[str]) -> None:
    """Prints what is attached to the PDF that the first word names."""
    _bound_memory()
    logging.disable()
    sys.stdout.write(json.dumps(attached(Path(words[0]))))


def _bound_memory() -> None:
    """Only where the system can: the standard library has no `resource` on the others."""
    if importlib.util.find_spec("resource") is None:
        return
    resource = importlib.import_module("resource")
    _, most = resource.getrlimit(resource.RLIMIT_AS)
    bound = MOST_MEMORY if most == resource.RLIM_INFINITY else min(most, MOST_MEMORY)
    resource.setrlimit(resource.RLIMIT_AS, (bound, most))


def attached(file: Path) -> list[tuple[str, str]]:
    """(name, SHA-256 in hex) of each attached file. Raises whatever a broken PDF makes it raise."""
    from pypdf import PdfReader

    found: list[tuple[str, str]] = []
    with file.open("rb") as stream:
        for each in PdfReader(stream).attachment_list:
            if len(found) == MOST_ATTACHED:
                raise ValueError(f"more than {MOST_ATTACHED} files are attached")
            found.append((each.name[:LONGEST_NAME], hashlib.sha256(each.content).hexdigest()))
    return found
