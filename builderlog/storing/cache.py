"""The content store in the journal's `.builderlog`: what was made once need not be made again.

Safe to delete at any time, and never the only place of anything. A damaged entry is a miss.
"""

from __future__ import annotations

import hashlib
import itertools
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from builderlog import __version__

ENTRIES_NAME = "made"
KEPT_BYTES = 1 << 30  # what may stay beyond what this run used
UNFINISHED_SECONDS = 3600
CHECK_LENGTH = 32  # hex digits of the content's SHA-256 in an entry's name

_TAG = (
    "Signature: 8a477f597d28d172789f06886806bc55\n"
    "# This folder holds what builderlog can make again; it is safe to delete.\n"
)


def key_of(*parts: bytes | str | int) -> str:
    """A hex digest of the parts and our version; each part is told from the next by its length.

    A text, its bytes and a number written alike give different keys.
    """
    made = hashlib.sha256()
    for part in (__version__, *parts):
        data = part if isinstance(part, bytes) else str(part).encode("utf-8", "surrogatepass")
        made.update(f"{type(part).__name__} {len(data)} ".encode("ascii") + data)
    return made.hexdigest()


def lay_out(folder: Path) -> None:
    """Makes the cache folder, marked so that backups and version control leave it out.

    Raises `OSError` where it cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in (("CACHEDIR.TAG", _TAG), (".gitignore", "*\n")):
        if not (folder / name).exists():
            replace_file(folder / name, text.encode("ascii"))


_numbers = itertools.count()


def replace_file(file: Path, data: bytes) -> None:
    """Writes a file whole: under a temporary name of its own, then renamed.

    Raises `OSError`; the temporary file is then taken away again.
    """
    temporary = file.with_name(f"{file.name[:40]}.{os.getpid()}-{next(_numbers)}.tmp")
    try:
        temporary.write_bytes(data)
        os.replace(temporary, file)
    finally:
        temporary.unlink(missing_ok=True)


class Store:
    """Content by key, in a folder or, where there is none or it cannot be written, in memory.

    May be used from several threads. `trouble` says why the folder could not be written,
    None while all is well: slower work is no mistake, but it is told.
    """

    def __init__(self, folder: Path | None) -> None:
        """`folder` is the journal's `.builderlog`; it is made at the first `put`."""
        self.trouble: str | None = None
        self._folder = folder
        self._memory: dict[str, bytes] = {}
        self._used: set[str] = set()
        self._names: dict[str, str] = {}  # key -> file name
        self._listed: set[str] = set()  # folders of entries whose names are known
        self._laid_out = False

    def get(self, key: str) -> bytes | None:
        """The content put under a key, in this or an earlier run; None for none or damaged."""
        if key in self._memory:
            return self._memory[key]
        file = self._named(key)
        if file is None or not file.exists():
            return None
        with self._without_failing():
            data = file.read_bytes()
            if _check_of(data) == file.name.rpartition("-")[2]:
                self._touch(key, file)
                return data
        self._names.pop(key, None)
        return None

    def put(self, key: str, data: bytes) -> None:
        """Keeps content under a key; what it replaces is never seen half written."""
        self._used.add(key)
        if self._folder is not None and self.trouble is None:
            with self._without_failing():
                self._write(self._folder, key, data)
                return
        self._memory[key] = data

    def digest(self, key: str) -> str | None:
        """The first `CHECK_LENGTH` hex digits of the content's SHA-256; None where there is none.

        What this run has put or read already is not read again.
        """
        if key in self._memory:
            return _check_of(self._memory[key])
        if key not in self._used and self.get(key) is None:
            return None
        file = self._named(key)
        return file.name.rpartition("-")[2] if file else None

    def file(self, key: str) -> Path | None:
        """The file that holds exactly the content of a key; None where none does."""
        return None if self.get(key) is None else self._named(key)

    def sweep(self, kept_bytes: int = KEPT_BYTES) -> int:
        """Drops the longest unused entries until `kept_bytes` remain; returns how many.

        What this run used stays and is not counted.
        """
        unused = sorted(self._weigh_unused(), reverse=True)
        total, dropped = 0, 0
        for _, file, size in unused:
            total += size
            if total > kept_bytes:
                with self._without_failing():
                    file.unlink()
                    dropped += 1
        self._drop_unfinished()
        return dropped

    def _drop_unfinished(self) -> None:
        """Temporary files that a killed run left behind; those of a run at work are young."""
        if self._folder is not None:
            entries = (self._folder / ENTRIES_NAME).glob("??/*.tmp")
            with self._without_failing():
                for file in (*entries, *self._folder.glob("*.tmp")):
                    if time.time() - file.stat().st_mtime > UNFINISHED_SECONDS:
                        file.unlink(missing_ok=True)

    def _write(self, folder: Path, key: str, data: bytes) -> None:
        if not self._laid_out:
            lay_out(folder)
            self._laid_out = True
        name = f"{key}-{_check_of(data)}"
        file = folder / ENTRIES_NAME / key[:2] / name
        file.parent.mkdir(parents=True, exist_ok=True)
        old = self._named(key)
        replace_file(file, data)
        self._names[key] = name
        if old is not None and old != file:
            old.unlink(missing_ok=True)

    def _named(self, key: str) -> Path | None:
        if self._folder is None:
            return None
        if key[:2] not in self._listed:
            self._find_names(key[:2])
        name = self._names.get(key)
        return None if name is None else self._folder / ENTRIES_NAME / key[:2] / name

    def _find_names(self, shelf: str) -> None:
        """Lists one folder of entries, the first time one of them is asked for.

        Sorted backwards, so that of two for one key always the same wins.
        """
        for file in reversed(self._files(shelf)):
            self._names.setdefault(file.name.partition("-")[0], file.name)
        self._listed.add(shelf)

    def _files(self, shelf: str = "??") -> list[Path]:
        if self._folder is None:
            return []
        found: list[Path] = []
        with self._without_failing():
            found.extend(sorted((self._folder / ENTRIES_NAME).glob(f"{shelf}/*-*")))
        return [file for file in found if file.suffix != ".tmp"]

    def _weigh_unused(self) -> Iterator[tuple[int, Path, int]]:
        """(last use in ns, file, bytes) of each entry that this run did not use."""
        for file in self._files():
            if file.name.partition("-")[0] not in self._used:
                with self._without_failing():
                    stat = file.stat()
                    yield stat.st_mtime_ns, file, stat.st_size

    def _touch(self, key: str, file: Path) -> None:
        """Notes the use of an entry, once a run; a folder that cannot be written still serves."""
        if key not in self._used:
            self._used.add(key)
            with self._without_failing():
                os.utime(file)

    @contextmanager
    def _without_failing(self) -> Iterator[None]:
        """Remembers the first trouble with the folder; the caller then does without it."""
        try:
            yield
        except OSError as error:
            self.trouble = self.trouble or describe_trouble(self._folder, error)


def describe_trouble(folder: Path | None, error: OSError) -> str:
    """A sentence for the builder about a cache that cannot be used."""
    reason = error.strerror or str(error)
    return f"{folder} cannot be used ({reason}), so pictures and pages are made anew each time"


def _check_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:CHECK_LENGTH]
