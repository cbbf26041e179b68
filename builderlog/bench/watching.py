"""Watches the journal's folder, and calls once it has been quiet for a moment.

Editors save in several steps, often by putting a new file in the old one's place. Where the
system tells of nothing (some network folders), a look every few seconds finds it all the same.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from logging import ERROR, getLogger
from pathlib import Path
from threading import Event, Thread
from warnings import filterwarnings

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from builderlog.reading.folder import OUR_FOLDERS

QUIET_SECONDS = 0.08
LONGEST_WAIT = 25  # times that quiet is waited for: a copy of hours must not hold us for ever
LOOK_SECONDS = 2.0
READS = frozenset(("opened", "closed_no_write"))


@contextmanager
def watching(root: Path, look: Callable[[], object]) -> Iterator[None]:
    """Calls `look` in a thread of its own whenever something may have changed, until left."""
    # Folders made one in the other just now are watched twice; to be told of that helps nobody,
    # and a warning that is an error would end the watch.
    filterwarnings("ignore", "Callback with id", RuntimeWarning)
    getLogger("watchdog").setLevel(ERROR)  # of its own affairs it tells on the terminal else
    dirty, left = Event(), Event()
    observer = Observer()
    watched = True
    try:
        observer.schedule(
            _Handler(os.path.realpath(root), dirty), os.path.realpath(root), recursive=True
        )
        observer.start()
    except OSError:  # no more watches are to be had: looking every few seconds has to do
        watched = False
    thread = Thread(target=_keep_looking, args=(dirty, left, look), daemon=True)
    thread.start()
    try:
        yield
    finally:
        left.set()
        dirty.set()
        if watched:
            observer.stop()
            observer.join()
        thread.join()


class _Handler(FileSystemEventHandler):
    """Tells that something happened in what the builder owns."""

    def __init__(self, root: str, dirty: Event) -> None:
        self._root, self._dirty = root, dirty

    def on_any_event(self, happened: FileSystemEvent) -> None:
        """From the observer's thread."""
        if happened.event_type in READS or (
            happened.is_directory and happened.event_type == "modified"
        ):
            return  # a folder's change is told again as that of what is in it
        paths = (os.fsdecode(path) for path in (happened.src_path, happened.dest_path) if path)
        if any(self._is_the_builders(path) for path in paths):
            self._dirty.set()

    def _is_the_builders(self, path: str) -> bool:
        parts = Path(os.path.relpath(path, self._root)).parts
        hidden = any(part.startswith(".") for part in parts)
        return not hidden and parts[:1] not in [(ours,) for ours in OUR_FOLDERS]


def _keep_looking(dirty: Event, left: Event, look: Callable[[], object]) -> None:
    while not left.is_set():
        if dirty.wait(LOOK_SECONDS):
            _until_quiet(dirty)
        if not left.is_set():
            look()


def _until_quiet(dirty: Event) -> None:
    for _ in range(LONGEST_WAIT):
        dirty.clear()
        if not dirty.wait(QUIET_SECONDS):
            return
