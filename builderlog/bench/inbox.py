"""The inbox as the bench shows it: which pictures lie there, when taken, small, and new ones.

A picture that is sent to us gets a safe name of our own making; what the sender calls it gives
but the words in it. It is never written over another one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from unicodedata import normalize

from builderlog.bench.desk import InboxPicture
from builderlog.bench.form_parts import Upload, UploadRefused
from builderlog.deciding.addresses import DEVICES
from builderlog.drawing.pictures import draw_copies, plan_refs, read_copy
from builderlog.knowing.files import is_picture
from builderlog.noting.filing import ENDINGS, INBOX_FOLDER
from builderlog.reading.exif import read_exif
from builderlog.reading.photo_file import read_photo
from builderlog.reading.picture_bytes import outline, tell_kind
from builderlog.reading.picture_open import UNREADABLE, open_picture
from builderlog.storing.cache import Store
from builderlog.storing.moving import copy_original, digest_on_disk
from builderlog.storing.refusal import refusing

LONGEST_STEM = 60
_UNSAFE = re.compile(r"[^\w-]+")

Signature = tuple[int, int]  # bytes, changed (ns)


@dataclass(slots=True)
class Inbox:
    """The pictures of `inbox/`; what was read of one is kept until the file is another one."""

    root: Path
    _taken: dict[str, tuple[Signature, str]] = field(default_factory=dict)

    @property
    def folder(self) -> Path:
        """Where they lie."""
        return self.root / INBOX_FOLDER

    def pictures(self) -> tuple[InboxPicture, ...]:
        """In order of name. Raises Refused where the folder cannot be read."""
        with refusing(f"read {self.folder}"):
            return tuple(InboxPicture(file.name, self._when(file)) for file in self._files())

    def find(self, name: str) -> Path | None:
        """The picture of that name, among those that are there; nothing is joined to a path."""
        return next((file for file in self._files() if file.name == name), None)

    def take(self, upload: Upload) -> InboxPicture:
        """A picture that came whole. Raises `UploadRefused` for a damaged one, and `Refused`.

        The same bytes twice are one picture.
        """
        incoming = upload.incoming
        incoming.close()
        photo = read_photo(incoming.file, upload.name)
        if photo.fault is not None or not photo.kind:
            raise UploadRefused(415, photo.fault or f"'{upload.name}' is no picture")
        with refusing(f"write into {self.folder}"):
            file = self._same(incoming.size, incoming.digest)
            if file is None:
                name = safe_stem(upload.name) + ENDINGS[photo.kind]
                file = copy_original(incoming.file, self.folder, name, incoming.digest)
        return InboxPicture(file.name, photo.taken or "")

    def small(self, file: Path, store: Store) -> bytes:
        """A small WebP of one of them. Raises `UploadRefused` where it cannot be drawn."""
        photo = read_photo(file, file.name)
        if photo.fault is not None:
            raise UploadRefused(404, photo.fault)
        refs = plan_refs(photo)
        if any(store.get(ref.key) is None for ref in refs):
            for ref, copy in zip(refs, draw_copies(file, photo), strict=True):
                store.put(ref.key, copy.data)
        return read_copy(store, refs[0])

    def _files(self) -> Iterator[Path]:
        if not self.folder.is_dir():
            return
        for file in sorted(self.folder.iterdir()):
            hidden = file.name.startswith(".")
            if not hidden and is_picture(file.name) and file.is_file() and not file.is_symlink():
                yield file

    def _when(self, file: Path) -> str:
        stat = file.stat()
        signature = (stat.st_size, stat.st_mtime_ns)
        known = self._taken.get(file.name)
        if known is None or known[0] != signature:
            known = (signature, _taken(file.read_bytes()))
            self._taken[file.name] = known
        return known[1]

    def _same(self, size: int, digest: str) -> Path | None:
        alike = (file for file in self._files() if file.stat().st_size == size)
        return next((file for file in alike if digest_on_disk(file) == digest), None)


def safe_stem(name: str) -> str:
    """The words of a sender's file name: no folder, no dot, no ending, nothing but letters."""
    last = re.split(r"[/\\]", normalize("NFC", name))[-1]
    stem = last.rpartition(".")[0] or last
    words = _UNSAFE.sub("-", stem).strip("-_")[:LONGEST_STEM].rstrip("-_")
    return words if words and words.casefold() not in DEVICES else f"picture-{words}".rstrip("-")


def _taken(data: bytes) -> str:
    """When a picture was taken, by its head alone; nothing where it does not say."""
    kind = tell_kind(data)
    if kind not in ("HEIF", "AVIF"):
        return read_exif(outline(data, kind).exif).taken or ""
    try:
        with open_picture(data, kind) as image:
            return read_exif(image.info.get("exif") or b"").taken or ""
    except UNREADABLE:
        return ""
