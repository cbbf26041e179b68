"""Files originals in photos/YYYY: copied, held against their digest, and only then taken away.

Nothing here writes into a note. Whoever calls holds the journal's lock. In whatever moment a run
is killed, each original is whole under its old name, its new one, or both; the next run goes on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from stat import S_ISREG
from unicodedata import normalize

from builderlog.knowing.files import is_picture
from builderlog.noting.picture_dates import Believing, Dated, date_picture
from builderlog.reading.folder import Folder
from builderlog.reading.photo_file import PhotoFile, read_photo
from builderlog.reading.picture_bytes import Kind, describe_stranger, tell_kind
from builderlog.storing.moving import (
    OtherBytesError,
    clear_unfinished,
    copy_original,
    digest_on_disk,
)
from builderlog.storing.moving import take_away as move_away
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.two_threads import each_in_two_threads

PHOTOS_FOLDER = "photos"
INBOX_FOLDER = "inbox"
NOT_FILED_IN = ("inbox/", "look/")  # pictures there are no originals of the record

HEAD_BYTES = 4096
LONGEST_WORD = 40  # signs of the camera's own name that a new name keeps

ENDINGS: dict[Kind, str] = {
    "JPEG": ".jpg",
    "PNG": ".png",
    "WEBP": ".webp",
    "HEIF": ".heic",
    "AVIF": ".avif",
}


@dataclass(frozen=True, slots=True)
class HowToFile:
    """How pictures are to be filed; `day` counts where a picture has no believable date.

    `started` is when the project began: an earlier date is not believed. Of `pages`, scanned
    from a paper notebook, `day` counts always.
    """

    remove: bool
    today: date
    day: date | None = None
    started: date | None = None
    pages: bool = False


@dataclass(frozen=True, slots=True)
class Filed:
    """What became of one picture: its path in the journal, or (None) it stays where it is.

    `told` says why it stays or what is odd, '' where all is well. `was_there` tells that the
    journal held it already.
    """

    source: Path
    path: str | None
    digest: str
    was_there: bool
    told: str


@dataclass(frozen=True, slots=True)
class Seen:
    """One file as it lies there; `photo` is None for what is no picture.

    `told` says why it cannot be filed, '' where it can.
    """

    source: Path
    name: str  # as the builder would say it
    photo: PhotoFile | None
    dated: Dated
    told: str = ""
    page: bool = False


def file_pictures(root: Path, sources: Sequence[Path], how: HowToFile) -> tuple[Filed, ...]:
    """Files each picture; the answers come in the order of the sources.

    Raises `Refused` where the journal cannot be written; what was filed until then stays filed.
    """
    shelf = Shelf(root)
    return tuple(shelf.file(seen, remove=how.remove) for seen in look_at(root, sources, how))


def take_away(root: Path, filed: Filed) -> bool:
    """Removes the picture from where it came from, if it is safe in the journal; says if it did.

    Raises `Refused` where it cannot be removed.
    """
    if filed.path is None or _inside(root, filed.source):
        return False
    return move_away(filed.source, root / filed.path, filed.digest)


def look_at(root: Path, sources: Iterable[Path], how: HowToFile) -> Iterator[Seen]:
    """Each file's facts and day, in the order of the sources; nothing is written."""
    believing = Believing(how.today, how.started, how.day, how.pages)
    return each_in_two_threads(lambda source: _see(root, source, believing), sources)


class Shelf:
    """The originals of a journal, found by their bytes; new ones are put beside them."""

    def __init__(self, root: Path) -> None:
        """Lists what is there. Raises `Refused` where photos/ leads out of the journal."""
        self._root = root
        self._by_size: dict[int, list[str]] = {}
        self._digests: dict[str, str] = {}  # by path, taken when first asked for
        with refusing(f"read the folder {root}"):
            for path in Folder.at(root).paths:
                if is_picture(path) and not path.startswith(NOT_FILED_IN):
                    size = (root / path).stat().st_size
                    self._by_size.setdefault(size, []).append(path)
        self._refuse_link(root / PHOTOS_FOLDER)
        clear_unfinished(root / PHOTOS_FOLDER)

    def find(self, photo: PhotoFile) -> str | None:
        """The path under which the journal holds these very bytes."""
        for path in self._by_size.get(photo.size_bytes, ()):
            if path not in self._digests:
                with refusing(f"read {path}"):
                    self._digests[path] = digest_on_disk(self._root / path)
            if self._digests[path] == photo.digest:
                return path
        return None

    def file(self, seen: Seen, *, remove: bool) -> Filed:
        """Files one picture, unless it is there already. Raises `Refused`."""
        if seen.photo is None or seen.told:
            return _stays(seen, seen.told)
        inside = _inside(self._root, seen.source)
        there = inside or self.find(seen.photo)
        if not there and seen.dated.day is None:
            return _stays(seen, f"{seen.name}: {seen.dated.told}")
        try:
            path = there or self._put(seen, seen.photo)
        except OtherBytesError:
            return _stays(seen, f"{seen.name} changed while it was read; try again when it is done")
        told = f"{seen.name}: {seen.dated.told}" if seen.dated.told and not there else ""
        filed = Filed(seen.source, path, seen.photo.digest, bool(there), told)
        if remove:
            take_away(self._root, filed)
        return filed

    def _put(self, seen: Seen, photo: PhotoFile) -> str:
        assert seen.dated.day is not None  # noqa: S101
        folder = self._root / PHOTOS_FOLDER / f"{seen.dated.day.year:04}"
        self._refuse_link(folder)
        name = filed_name(seen.source.name, seen.dated, photo.kind, page=seen.page)
        file = copy_original(seen.source, folder, name, photo.digest)
        path = file.relative_to(self._root).as_posix()
        self._by_size.setdefault(photo.size_bytes, []).append(path)
        self._digests[path] = photo.digest
        return path

    def _refuse_link(self, folder: Path) -> None:
        if folder.is_symlink():
            raise Refused(
                f"{folder} is a link to another place, where the journal does not look; "
                "make a folder of it, so that the pictures stay with the record"
            )


def filed_name(name: str, dated: Dated, kind: Kind, *, page: bool = False) -> str:
    """`2026-03-14-191002-img-4711.jpg`: when it was taken, what the camera called it, its kind.

    A page of a notebook says so (`2025-08-03-page-left.jpg`), for its note may come later.
    """
    assert dated.day is not None  # noqa: S101
    when = [dated.day.isoformat()]
    if dated.at:
        when.append(dated.at.strftime("%H%M%S"))
    if page:
        when.append("page")
    return "-".join([*when, *_word_of(name, dated)]) + ENDINGS.get(kind, "")


def _word_of(name: str, dated: Dated) -> list[str]:
    """What the camera called it, in letters that any system can write, without its date."""
    stem = normalize("NFKD", name.rpartition(".")[0] or name)
    plain = "".join(sign for sign in stem.lower() if sign.isascii())
    for part in (f"{dated.day}", f"{dated.day}".replace("-", "")):
        plain = plain.replace(part, "-")
    if dated.at:
        plain = plain.replace(dated.at.strftime("%H%M%S"), "-", 1)
    word = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_WORD].strip("-")
    return [word] if word else []


def _see(root: Path, source: Path, believing: Believing) -> Seen:
    name = _shown(root, source)
    stranger = _stranger(source, name)
    if stranger:
        return Seen(source, name, None, Dated(None), stranger)
    photo = read_photo(source, name)
    dated = date_picture(source.name, photo.taken, believing)
    return Seen(source, name, photo, dated, photo.fault or "", page=believing.pages)


def _stranger(source: Path, name: str) -> str:
    """What a file is that is no picture; a film is never read as a whole to find that out."""
    try:
        if not S_ISREG(source.lstat().st_mode):
            return f"{name}: a link or no file; put the picture itself there"
        with source.open("rb") as stream:
            head = stream.read(HEAD_BYTES)
    except OSError as error:
        return f"{name} cannot be read ({error.strerror or error}); put a readable picture there"
    if tell_kind(head) or not head:
        return ""  # an empty file is told by who reads it
    what = describe_stranger(head).replace("not a picture", "something else")
    return f"{name}: {what}, no picture that can be filed{_beside(source)}"


def _beside(source: Path) -> str:
    """A film or a raw picture may belong to a picture of the same name."""
    others = source.parent.glob(f"{_literal(source.stem)}.*")
    if any(other != source and is_picture(other.name) for other in others):
        return "; it belongs to the picture of its name beside it (its moving or its raw form)"
    return ""


def _literal(text: str) -> str:
    return re.sub(r"([*?\[])", r"[\1]", text)


def _stays(seen: Seen, told: str) -> Filed:
    digest = seen.photo.digest if seen.photo else ""
    return Filed(seen.source, None, digest, was_there=False, told=told)


def _inside(root: Path, source: Path) -> str | None:
    """The path of a file that is an original of the journal already; never one in the inbox."""
    try:
        path = source.resolve().relative_to(root.resolve()).as_posix()
    except ValueError:
        return None
    return None if path.startswith(f"{INBOX_FOLDER}/") else path


def _shown(root: Path, source: Path) -> str:
    """How the builder calls the file: from the journal's folder where it lies in it."""
    if source.is_relative_to(root):
        return source.relative_to(root).as_posix()
    return str(source)
