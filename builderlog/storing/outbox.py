"""Staged output: everything is made beside its place first, then renamed file by file.

Whatever happens, each file of an output is the old or the new one whole; only files that
we listed as written are ever deleted; the next run finishes what was interrupted. The
stage is a dot-folder inside the output, so that a rename never crosses a file system.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from builderlog.storing.changes import (
    FILES_NAME,
    LIST_NAME,
    ChangeList,
    Move,
    carry_out,
    drop_damaged,
    read_list,
    refuse_link,
    write_list,
)
from builderlog.storing.copying import Digests, copy_with_digests, digests_if_same
from builderlog.storing.grounds import ELSEWHERE, check_grounds, check_ours, read_own_mark, settle
from builderlog.storing.inside import (
    MARK_NAME,
    STAGE_NAME,
    Standing,
    check_inside,
    fold,
    folders_of,
    look_at,
    remove_if_empty,
    walk_files,
)
from builderlog.storing.lock import LOCK_NAME, hold
from builderlog.storing.mark import Kind, Mark, write_mark
from builderlog.storing.planning import plan_clears, refuse_occupied
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.two_threads import each_in_two_threads

WORK_NAME = "work"


@dataclass(frozen=True, slots=True)
class Changes:
    """What a commit did, as sorted paths.

    `foreign` are the files in the output that we neither wrote nor touched.
    """

    new: tuple[str, ...]
    changed: tuple[str, ...]
    deleted: tuple[str, ...]
    unchanged: tuple[str, ...]
    foreign: tuple[str, ...]


class Outbox:
    """An output being made. Nothing outside the stage changes before `commit`.

    The first `put` of a path decides; a path that is put twice, that is not plain, or
    that some file system takes for another one is our bug and raises `ValueError`.
    """

    mark_path = MARK_NAME

    def __init__(self, folder: Path, kind: Kind, listed: Iterable[str]) -> None:
        """`folder` is settled, locked and has no older stage; `listed` is what we wrote last."""
        self.folder = folder
        self.kind = kind
        self._listed = frozenset(listed)
        self._folded = {fold(path): path for path in self._listed}
        self._put: dict[str, str] = {}  # folded path -> path
        self._put_folders: dict[str, str] = {}  # folded folder -> a path in it
        self._staged: dict[str, Move] = {}
        self._numbers = count()
        self._done = False

    def put(self, path: str, data: bytes) -> None:
        """Stages `data` for `path`, unless just these bytes stand there already.

        Raises `Refused` where a file that is not ours stands in the way.
        """
        with refusing(f"write {path} into {self.folder}"):
            target = self._admit(path)
            if not _holds(target, data):
                self._stage(path, lambda file: _write(file, data))

    def put_files(
        self, items: Iterable[tuple[str, Path]]
    ) -> Generator[tuple[str, Digests], None, None]:
        """Stages a copy of each (path, source), two at a time; yields each path with its digests.

        Each source is read once; what stands at its path already with the same bytes stays.
        Whoever may stop before the end closes it, so that no copy is made behind its back.
        Raises `Refused` where a source cannot be read, or the way of its path is not free.
        """
        errands = [self._errand(path, source) for path, source in items]
        for errand, digests in each_in_two_threads(_run, errands):
            if errand.staged.exists():
                staged, digest = errand.staged.name, digests.by_algorithm["sha256"]
                self._staged[errand.path] = Move(staged, errand.path, digest)
            yield errand.path, digests

    @property
    def workroom(self) -> Path:
        """A folder for what is made on the way: on the same disk, gone when the output is left."""
        folder = self._stage_folder / WORK_NAME
        with refusing(f"write into {self.folder}"):
            folder.mkdir(exist_ok=True)
        return folder

    def mark_bytes(self, paths: Iterable[str]) -> bytes:
        """What `mark_path` will hold when exactly `paths` have been put at the commit."""
        return write_mark(self.kind, paths)

    def commit(self) -> Changes:
        """Makes the output what was put, and nothing else of ours. May be called once.

        Raises `Refused` before anything is changed where a strange file stands in the way.
        """
        if self._done:
            raise ValueError("this output is committed already")
        with refusing(f"write into {self.folder}"):
            self._done = True
            changes = self._plan()
            told = self._tell(changes)
            if changes.moves or changes.deletions or not self._is_marked(changes):
                write_list(self._stage_folder, changes)
                carry_out(self.folder, self._stage_folder, changes)
                os.unlink(self._stage_folder / LIST_NAME)
            return told

    @property
    def _stage_folder(self) -> Path:
        return self.folder / STAGE_NAME

    def _admit(self, path: str) -> Path | None:
        """Takes note of a path; the file to compare with, or None where all is new."""
        check_inside(path)
        self._check_new(path)
        refuse_link(self.folder, path)
        target = self.folder / path
        standing = look_at(target)
        if standing not in (Standing.NOTHING, Standing.FOLDER) and not self._is_ours(path):
            raise Refused(
                f"{target} would be overwritten, but builderlog did not write it; move it away"
            )
        self._remember(path)
        return target if path in self._listed and standing is Standing.FILE else None

    def _check_new(self, path: str) -> None:
        """Raises `ValueError` where the path was put before, in any spelling, or as a folder."""
        if self._done:
            raise ValueError(f"{path!r} comes after the commit")
        for taken in (fold(path), *map(fold, folders_of(path))):
            if taken in self._put:
                raise ValueError(f"{path!r} collides with {self._put[taken]!r}")
        if fold(path) in self._put_folders:
            raise ValueError(f"{path!r} collides with {self._put_folders[fold(path)]!r}")

    def _is_ours(self, path: str) -> bool:
        """Whether what stands at the path is what we wrote, be it in another spelling."""
        known = self._folded.get(fold(path))
        if path in self._listed or known is None or not (self.folder / known).exists():
            return path in self._listed
        return (self.folder / known).samefile(self.folder / path)

    def _remember(self, path: str) -> None:
        self._put[fold(path)] = path
        for folder in folders_of(path):
            self._put_folders.setdefault(fold(folder), path)

    def _stage(self, path: str, write: Callable[[Path], str]) -> None:
        """Writes the new bytes under the next free name of the stage."""
        file = self._next_staged()
        self._staged[path] = Move(file.name, path, write(file))

    def _next_staged(self) -> Path:
        files = self._stage_folder / FILES_NAME
        files.mkdir(exist_ok=True)
        return files / f"{next(self._numbers):08d}"

    def _errand(self, path: str, source: Path) -> _Errand:
        with refusing(f"copy {source} into {self.folder}"):
            return _Errand(path, source, self._admit(path), self._next_staged())

    def _plan(self) -> ChangeList:
        """The list of changes; refuses strange files in the way."""
        put = frozenset(self._put.values())
        gone = self._listed - put
        clears = plan_clears(self._staged, gone)
        for path in self._staged:
            refuse_occupied(self.folder, path, clears.get(path, ()), self._is_ours)
        order = sorted(self._staged, key=lambda path: (self._is_there(path), path))
        moves = tuple(self._clearing(path, clears.get(path, ())) for path in order)
        cleared = {path for move in moves for path in move.clears}
        deletions = tuple(sorted(p for p in gone - cleared if self._is_there(p)))
        return ChangeList(self.kind, moves, deletions, tuple(sorted(put)))

    def _clearing(self, path: str, clears: Iterable[str]) -> Move:
        move = self._staged[path]
        return Move(move.staged, path, move.digest, tuple(sorted(clears)))

    def _is_there(self, path: str) -> bool:
        """Whether a file of ours stands at the path."""
        there = look_at(self.folder / path) in (Standing.FILE, Standing.LINK)
        return path in self._listed and there

    def _tell(self, changes: ChangeList) -> Changes:
        """The report, taken before anything is changed."""
        moved = [move.path for move in changes.moves]
        old = {path for path in moved if self._is_there(path)}
        cleared = {path for move in changes.moves for path in move.clears if self._is_there(path)}
        kept = set(changes.paths) - set(moved)
        return Changes(
            new=tuple(sorted(set(moved) - old)),
            changed=tuple(sorted(old)),
            deleted=tuple(sorted({*changes.deletions, *cleared})),
            unchanged=tuple(sorted(kept)),
            foreign=tuple(self._find_foreign(changes.paths)),
        )

    def _find_foreign(self, paths: Iterable[str]) -> Iterator[str]:
        ours = {*paths, *self._listed, MARK_NAME}
        for path in walk_files(self.folder):
            if path not in ours and not path.startswith(f"{STAGE_NAME}/"):
                yield path

    def _is_marked(self, changes: ChangeList) -> bool:
        """Whether the mark on the disk says already what it must say."""
        return _holds(self.folder / MARK_NAME, write_mark(self.kind, changes.paths))


def _holds(file: Path | None, data: bytes) -> bool:
    """Whether just these bytes stand in a file; False for none, a link or a folder."""
    if file is None or look_at(file) is not Standing.FILE:
        return False
    return file.stat().st_size == len(data) and file.read_bytes() == data


def _write(file: Path, data: bytes) -> str:
    file.write_bytes(data)
    return hashlib.sha256(data).hexdigest()


@dataclass(frozen=True, slots=True)
class _Errand:
    """One source on its way to its path: by the free name `staged`, unless `held` is the same."""

    path: str
    source: Path
    held: Path | None
    staged: Path


def _run(errand: _Errand) -> tuple[_Errand, Digests]:
    """May run in another thread: touches no file but those of its errand."""
    with refusing(f"copy {errand.source}"):
        digests = digests_if_same(errand.source, errand.held) if errand.held else None
        return errand, digests or copy_with_digests(errand.source, errand.staged)


@contextmanager
def open_outbox(
    folder: Path, kind: Kind, originals: Sequence[Path], journal: Path
) -> Iterator[Outbox]:
    """An outbox for `folder`, alone in it, after finishing what an earlier run left undone.

    Raises `Refused` where the folder is no place for an output of this kind, is busy, or
    cannot be written. `originals` are the journal's files and folders never to be written.
    Leaving without `commit` throws the stage away and changes nothing.
    """
    place = settle(folder)
    with refusing(f"write into {folder}"):
        check_grounds(place, originals, journal)
        _check_before_lock(place, kind)
        absent = [step for step in (place, *place.parents) if not step.exists()]
    try:
        with hold(place / STAGE_NAME, str(folder)), _staging(place):
            yield Outbox(place, kind, _settle_past(place, kind))
    finally:
        for step in absent:
            remove_if_empty(step)


def _check_before_lock(place: Path, kind: Kind) -> None:
    """Refuses a folder that is not ours before a single file of the stage is made in it."""
    standing = look_at(place / STAGE_NAME)
    if standing not in (Standing.NOTHING, Standing.FOLDER):
        raise Refused(f"{place / STAGE_NAME} is not a folder; take it away, or {ELSEWHERE}")
    if standing is Standing.NOTHING and place.exists():
        read_own_mark(place, kind)


def _settle_past(place: Path, kind: Kind) -> tuple[str, ...]:
    """Finishes or drops what an earlier run left; the paths that are ours now."""
    stage = place / STAGE_NAME
    with refusing(f"finish the interrupted writing in {place}"):
        changes = read_list(stage)
        if changes is not None:
            check_ours(place, kind, Mark(changes.kind, changes.paths))
            drop_damaged(stage, changes)
            carry_out(place, stage, changes)
            os.unlink(stage / LIST_NAME)
        _empty_stage(stage)
        mark = read_own_mark(place, kind)
    return mark.paths if mark is not None else ()


@contextmanager
def _staging(place: Path) -> Iterator[None]:
    """Takes the stage away in the end, but never one whose list waits to be finished.

    The lock file goes last, while it is held; whoever opened it meanwhile finds it
    without a name and tries anew.
    """
    stage = place / STAGE_NAME
    try:
        yield
    finally:
        if look_at(stage / LIST_NAME) is Standing.NOTHING:
            with refusing(f"take {stage} away"):
                _empty_stage(stage)
                os.unlink(stage / LOCK_NAME)
                remove_if_empty(stage)


def _empty_stage(stage: Path) -> None:
    """Deletes all that is staged, except the lock."""
    with os.scandir(stage) as found:
        entries = [entry for entry in found if entry.name != LOCK_NAME]
    for entry in entries:
        if entry.is_dir(follow_symlinks=False):
            shutil.rmtree(entry.path)
        else:
            os.unlink(entry.path)
