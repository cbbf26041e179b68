"""Pictures for paper and screen: the small JPEG copies that document and binder show.

Drawn from the originals, which are only read, or taken from the journal's store. Which pictures
are shown is for the chapters to say; how big a copy gets is decided here.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builderlog.drawing.pictures import tell_undecodable
from builderlog.knowing.ledger import Ledger
from builderlog.reading.photo_file import PhotoFile
from builderlog.sheets.chapter import Dossier, ShownPicture, shown_pictures
from builderlog.storing.cache import Store, key_of
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.two_threads import each_in_two_threads

# A picture stands 7.8 cm wide on paper and a small one 3.9 cm: 325 and 156 dots an inch. Most
# cameras give 4,000 pixels and a little more, of which a JPEG is decoded at a quarter for this.
LONG_SIDE_PX, SMALL_SIDE_PX = 1000, 240
QUALITY, SMALL_QUALITY = 75, 66  # beyond these bytes grow faster than what the eye gains
PRINT_VERSION = 1  # raise whenever a copy of the same picture would get other bytes
BULKY_BYTES = 1 << 26  # files above this are held in memory one at a time

_BULKY = threading.Lock()

Size = tuple[int, int]


@dataclass(frozen=True, slots=True)
class PrintRoom:
    """Where copies go: `folder`, made where it is absent, and the journal's `.builderlog`.

    Without a `store` nothing is kept for the next run.
    """

    folder: Path
    store: Path | None


@dataclass(frozen=True, slots=True)
class NotDrawn:
    """A picture that could not be drawn; `reason` is a sentence for the builder."""

    number: int
    path: str
    reason: str


@dataclass(frozen=True, slots=True)
class Prints:
    """What lies in the folder. `sizes` by number and whether small; `made` were drawn anew.

    `trouble` says why the store could not be written, None while it could.
    """

    sizes: Mapping[tuple[int, bool], Size]
    failed: tuple[NotDrawn, ...]
    made: int
    trouble: str | None

    def size(self, number: int, small: bool) -> Size | None:  # noqa: FBT001 - said by both words
        """Width and height in pixels; None where there is no such copy: words must do."""
        return self.sizes.get((number, small))

    def refuse_undrawn(self) -> None:
        """Raises `Refused`, with all that could not be drawn, where there is any."""
        if self.failed:
            told = "; ".join(each.reason for each in self.failed)
            raise Refused(f"no dossier was made: {told}")


def print_size(width_px: int, height_px: int, small: bool) -> Size:  # noqa: FBT001 - as in Prints
    """(width, height) of the copy of an upright picture; in proportion, never enlarged.

    Parts of a pixel are cut off, so that a JPEG decoded at a part of its size is never too
    small for it; each side has at least one.
    """
    side, longer = SMALL_SIDE_PX if small else LONG_SIDE_PX, max(width_px, height_px)
    if longer <= side:
        return max(1, width_px), max(1, height_px)
    return max(1, width_px * side // longer), max(1, height_px * side // longer)


def picture_name(number: int, small: bool) -> str:  # noqa: FBT001 - as in Prints
    """The name of a copy's file: `0012.jpg`, `0012-small.jpg`."""
    return f"{number:04}{'-small' if small else ''}.jpg"


def pictures_to_print(dossier: Dossier) -> int:
    """How many pictures the dossier shows, each once however often and in what size."""
    return len({shown.number for shown, _ in _shown(dossier)})


def lay_out_prints(
    dossier: Dossier,
    ledger: Ledger,
    where: Callable[[str], Path],
    room: PrintRoom,
    progress: Callable[[int], None],
) -> Prints:
    """Writes the copies of every picture that the dossier shows into the room's folder.

    They are files of their own, which may be moved; no other file of the folder is touched.
    `where` leads from a path in the journal to its file. `progress` is told how many pictures
    more are done. What cannot be drawn is told in `failed` and has no file. Raises `Refused`
    where the folder cannot be written.
    """
    store = None if room.store is None else Store(room.store)
    jobs = tuple(_jobs(dossier, ledger, where))
    with refusing(f"write pictures into {room.folder}"):
        room.folder.mkdir(parents=True, exist_ok=True)
        return _collect(each_in_two_threads(_Drawer(room.folder, store), jobs), store, progress)


@dataclass(frozen=True, slots=True)
class _Copy:
    """One size of a picture: what it is drawn to, its file and its place in the store."""

    small: bool
    name: str
    size: Size
    quality: int
    key: str


@dataclass(frozen=True, slots=True)
class _Job:
    """One picture and the sizes in which it is shown."""

    number: int
    photo: PhotoFile
    file: Path
    copies: tuple[_Copy, ...]


@dataclass(frozen=True, slots=True)
class _Done:
    job: _Job
    reason: str | None  # why it was not drawn
    made: bool


def _shown(dossier: Dossier) -> Iterator[tuple[ShownPicture, bool]]:
    return shown_pictures((dossier.cover, *dossier.chapters))


def _jobs(dossier: Dossier, ledger: Ledger, where: Callable[[str], Path]) -> Iterator[_Job]:
    """Each picture once, in the order in which the dossier first shows it."""
    photos = {picture.path: picture.file for picture in ledger.pictures}
    sizes: dict[tuple[int, str], set[bool]] = {}
    for shown, small in _shown(dossier):
        sizes.setdefault((shown.number, shown.path), set()).add(small)
    for (number, path), wanted in sizes.items():
        copies = tuple(_copy(number, photos[path], small) for small in sorted(wanted))
        yield _Job(number, photos[path], where(path), copies)


def _copy(number: int, photo: PhotoFile, small: bool) -> _Copy:  # noqa: FBT001 - as in Prints
    side, quality = (SMALL_SIDE_PX, SMALL_QUALITY) if small else (LONG_SIDE_PX, QUALITY)
    return _Copy(
        small,
        picture_name(number, small),
        print_size(photo.width_px, photo.height_px, small),
        quality,
        key_of("print", PRINT_VERSION, *_libraries(), photo.digest, side, quality),
    )


def _collect(
    finished: Iterable[_Done], store: Store | None, progress: Callable[[int], None]
) -> Prints:
    sizes: dict[tuple[int, bool], Size] = {}
    failed: list[NotDrawn] = []
    made = 0
    for done in finished:
        job, made = done.job, made + done.made
        if done.reason is None:
            sizes.update({(job.number, copy.small): copy.size for copy in job.copies})
        else:
            failed.append(NotDrawn(job.number, job.photo.name, done.reason))
        progress(1)
    return Prints(sizes, tuple(failed), made, store.trouble if store else None)


class _NotDrawableError(Exception):
    """A sentence for the builder: why there is no copy."""


@dataclass(frozen=True, slots=True)
class _Drawer:
    """Lays the copies of one picture into a folder; called from two threads.

    Nothing is held but the picture at hand: where the store cannot be written, nothing is kept.
    """

    folder: Path
    store: Store | None

    def __call__(self, job: _Job) -> _Done:
        missing = [copy for copy in job.copies if not self._take(copy)]
        try:
            if missing:
                self._draw(job, missing)
        except _NotDrawableError as error:
            for copy in job.copies:
                (self.folder / copy.name).unlink(missing_ok=True)
            return _Done(job, str(error), made=False)
        return _Done(job, None, made=bool(missing))

    def _take(self, copy: _Copy) -> bool:
        """Writes a copy that the store holds; whether it does."""
        data = self.store.get(copy.key) if self.store else None
        if data is not None:
            self._write(copy, data)
        return data is not None

    def _draw(self, job: _Job, missing: Sequence[_Copy]) -> None:
        with _BULKY if job.photo.size_bytes > BULKY_BYTES else nullcontext():
            drawn = _drawn(job, missing)
        for copy, data in zip(missing, drawn, strict=True):
            self._write(copy, data)
            if self.store is not None and self.store.trouble is None:
                self.store.put(copy.key, data)

    def _write(self, copy: _Copy, data: bytes) -> None:
        """A file of its own: one that stands there may be linked elsewhere, and is not altered."""
        file = self.folder / copy.name
        file.unlink(missing_ok=True)
        file.write_bytes(data)


def _drawn(job: _Job, missing: Sequence[_Copy]) -> list[bytes]:
    """The bytes of copies. Raises `_NotDrawableError`."""
    from builderlog.drawing.pixels import draw_prints
    from builderlog.reading.picture_open import UNREADABLE

    photo, data = job.photo, _read_unchanged(job)
    wanted = [(copy.size, copy.quality) for copy in missing]
    try:
        return draw_prints(data, photo.kind, photo.orientation, wanted)
    except UNREADABLE as error:
        raise _NotDrawableError(tell_undecodable(photo.name, error)) from error


def _read_unchanged(job: _Job) -> bytes:
    """The bytes of the picture whose facts were read: no others may stand under its digest."""
    photo = job.photo
    if photo.fault is not None:
        raise _NotDrawableError(photo.fault)
    try:
        data = job.file.read_bytes()
    except OSError as error:
        reason = error.strerror or str(error)
        raise _NotDrawableError(
            f"{photo.name!r} cannot be read any more ({reason}); put the picture there again"
        ) from error
    if hashlib.sha256(data).hexdigest() != photo.digest:
        raise _NotDrawableError(
            f"{photo.name!r} was changed while the dossier was being made; run the command again"
        )
    return data


@cache
def _libraries() -> tuple[str, str]:
    """Another release of those who decode and encode may give other bytes of the same picture."""
    return importlib.metadata.version("pillow"), importlib.metadata.version("pillow-heif")
