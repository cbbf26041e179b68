"""What was begun in an editor: a draft as it was handed over, kept until the builder is done.

Held by a lock that vanishes with the process, so that a draft that is left after a crash can be
told from one that stands in an editor now. Lies in the cache: safe to delete.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from builderlog.storing.cache import lay_out, replace_file
from builderlog.storing.lock import Busy, hold
from builderlog.storing.refusal import refusing

FOLDER = "begun"
DRAFT = "as-begun"


@dataclass(frozen=True, slots=True)
class Begun:
    """A draft in the hands of this process."""

    folder: Path

    def keep(self, data: bytes) -> None:
        """Keeps the draft as it is handed to the editor. Raises Refused."""
        with refusing(f"write into {self.folder}"):
            replace_file(self.folder / DRAFT, data)

    def kept(self) -> bytes | None:
        """The draft as it was handed over; None where none is kept."""
        with refusing(f"read {self.folder / DRAFT}"):
            try:
                return (self.folder / DRAFT).read_bytes()
            except FileNotFoundError:
                return None

    def forget(self) -> None:
        """The builder is done with it."""
        shutil.rmtree(self.folder, ignore_errors=True)


@contextmanager
def hold_begun(cache: Path, path: str) -> Iterator[Begun]:
    """Holds the draft of the note at `path`. Raises Busy where it is in an editor now."""
    folder = cache / FOLDER / PurePosixPath(path).name
    with refusing(f"write into {cache}"):
        lay_out(cache)
    with hold(folder, f"the note {path}"):
        yield Begun(folder)


def begun_names(cache: Path) -> tuple[str, ...]:
    """The file names of notes that were begun and not finished, in no editor now."""
    names = []
    for folder in sorted((cache / FOLDER).glob("*")):
        try:
            with hold_begun(cache, folder.name) as begun:
                if begun.kept() is not None:
                    names.append(folder.name)
        except Busy:
            continue
    return tuple(names)
