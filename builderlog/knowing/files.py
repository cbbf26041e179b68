"""Finds the file that a note names among the journal's files, or says why it cannot be found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from posixpath import dirname, join, normpath, relpath, split, splitext
from unicodedata import normalize
from urllib.parse import unquote

from builderlog.reading.folder import folded

PICTURE_ENDINGS = (".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif")


class NotFoundError(Exception):
    """No such file in the journal; `code` and the message are for the builder."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code


class Finder:
    """Looks paths up as notes write them; Unicode form does not matter, capitals do."""

    def __init__(self, paths: Iterable[str], outside: Iterable[str] = ()) -> None:
        self._paths = frozenset(paths)
        self._by_form = {normalize("NFC", path): path for path in sorted(self._paths, reverse=True)}
        self._by_fold = {folded(path): path for path in sorted(self._paths, reverse=True)}
        self._outside = frozenset(outside)

    @cached_property
    def _near(self) -> dict[str, str]:
        """Files by what an eye may take for their path: one sign left out, or none of the ending.

        Built at the first miss; a look-up does not grow with the number of files.
        """
        near: dict[str, str] = {}
        for path in sorted(self._paths):
            for shape in _shapes(path):
                near.setdefault(shape, path)
        return near

    def named(self, text: str) -> str:
        """The file that a key names, from the journal's folder. Raises NotFoundError."""
        path = normpath(text.strip() or ".")
        if path.startswith(("/", "../")) or path == ".." or "\0" in path:
            told = (
                f"'{text}' leads out of the journal; copy the file into it and write its path there"
            )
            raise NotFoundError("outside", told)
        return self._path(path, text, "")

    def linked(self, note: str, target: str) -> str:
        """The file that a link leads to, from its note's own folder. Raises NotFoundError."""
        words = unquote(target.partition("#")[0].partition("?")[0])
        path = normpath(join(dirname(note), words))
        if words.startswith("/") or path.startswith("../") or path == "..":
            told = f"'{target}' leads out of the journal; a link starts at the note"
            raise NotFoundError("outside", told)
        return self._path(path, target, dirname(note))

    def _path(self, path: str, text: str, start: str) -> str:
        """The file at `path`; a hint is written as seen from the folder `start`."""
        if path in self._paths:
            return path
        if (same := self._by_form.get(normalize("NFC", path))) is not None:
            return same
        if self._leads_outside(path):
            told = f"'{text}' is a link to a place outside the journal; put the file itself there"
            raise NotFoundError("outside", told)
        raise NotFoundError("missing-file", self._missing(path, text, start))

    def _leads_outside(self, path: str) -> bool:
        return any(path == link or path.startswith(link + "/") for link in self._outside)

    def _missing(self, path: str, text: str, start: str) -> str:
        alike = self._by_fold.get(folded(path)) or self._by_fold.get(
            folded(path.replace("\\", "/"))
        )
        if alike:
            return f"there is no '{text}', but '{_seen_from(start, alike)}'; write it so"
        near = next((self._near[shape] for shape in _shapes(path) if shape in self._near), None)
        hint = "put it there or mend its path"
        if near:
            hint = f"did you mean '{_seen_from(start, near)}'?"
        return f"there is no file '{text}' in the journal; {hint}"


def _seen_from(folder: str, path: str) -> str:
    return relpath(f"/{path}", f"/{folder}")


def _shapes(path: str) -> Iterator[str]:
    """The path without its ending, in its folder and in any; then with each one sign left out."""
    whole = folded(path)
    folder, name = split(whole)
    stem = splitext(name)[0]
    yield from (f"{folder}/{stem}.", f"*/{stem}.", whole)
    yield from (join(folder, name[:at] + name[at + 1 :]) for at in range(len(name)))


def is_picture(path: str) -> bool:
    """True where the name ends as one of the five kinds of picture does."""
    return path.lower().endswith(PICTURE_ENDINGS)
