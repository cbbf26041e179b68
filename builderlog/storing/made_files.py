"""What we wrote among the builder's own files, by digest: one changed by hand is not written over.

The list lies in the journal's `.builderlog`. Where it was deleted nothing is taken on trust: a
file that is not what we would write now counts as changed by hand.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from builderlog.storing.cache import lay_out, replace_file
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import refusing
from builderlog.storing.replacing import replace_original
from builderlog.storing.unfinished import sweep_unfinished

LIST_NAME = "letters.json"


class MadeFiles:
    """The files that we made, each with the digest of what we wrote."""

    def __init__(self, folder: Path) -> None:
        """`folder` is the journal's `.builderlog`; a list that cannot be read is an empty one."""
        self._folder = folder
        self._digests = _read(folder / LIST_NAME)

    def write(self, root: Path, path: str, data: bytes, *, anyway: bool = False) -> bool:
        """Writes one file; False, and nothing written, where somebody changed it by hand.

        Raises `Refused` where it cannot be written.
        """
        file = root / path
        sweep_unfinished(file.parent)  # a killed run's, also where there is nothing to write now
        with refusing(f"read {file}"):
            there = file.read_bytes() if file.exists() else None
        if there is not None and not anyway and not self._is_ours(path, there, data):
            return False
        if there is None:
            write_new(file, data)
        elif there != data:
            replace_original(file, there, data)
        self._keep(path, data)
        return True

    def _is_ours(self, path: str, there: bytes, data: bytes) -> bool:
        return there == data or self._digests.get(path) == _digest(there)

    def _keep(self, path: str, data: bytes) -> None:
        self._digests[path] = _digest(data)
        text = json.dumps(self._digests, indent=1, sort_keys=True) + "\n"
        with refusing(f"write into {self._folder}"):
            lay_out(self._folder)
            replace_file(self._folder / LIST_NAME, text.encode("utf-8"))


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _read(file: Path) -> dict[str, str]:
    try:
        read = json.loads(file.read_bytes())
    except (OSError, ValueError):
        return {}
    if not isinstance(read, dict):
        return {}
    return {path: digest for path, digest in read.items() if isinstance(digest, str)}
