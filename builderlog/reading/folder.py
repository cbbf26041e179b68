"""The journal's folder: which files there are, and their exact bytes; never a file outside it.

A link to a place outside the journal is not followed: it is listed in `outside`. What we write
ourselves (published sites, dossiers, the cache) is no part of the journal.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from unicodedata import normalize

from builderlog.reading.problem import Place, Problem, mistake

OUR_FOLDERS = ("published", "dossier", "dossier.zip")
ORIGINALS = ("notes", "photos", "receipts", "inbox", "letters", "seals", "look", ".builderlog")
OUR_MARKS = (".builderlog-written.json", ".builderlog-stage")


@dataclass(frozen=True, slots=True)
class Folder:
    """Files by their path from the journal's folder, with `/`; sorted.

    `stored` maps a journal path to another path below the root (in a bag, where some names are
    not safe); `added` holds bytes for paths that no file on the disk stands for.
    """

    root: Path
    paths: tuple[str, ...]
    outside: frozenset[str] = frozenset()
    problems: tuple[Problem, ...] = ()
    stored: Mapping[str, str] = field(default_factory=dict)
    added: Mapping[str, bytes] = field(default_factory=dict)

    @staticmethod
    def at(root: Path, renamed: Mapping[str, str] | None = None) -> Folder:
        """Lists the folder; `renamed` maps journal paths to the paths they are stored under."""
        stored = dict(renamed or {})
        originals = {stored_as: path for path, stored_as in stored.items()}
        found, outside, problems = _listed(root)
        paths = sorted(originals.get(path, path) for path in found)
        told = (*problems, *_twins(paths))
        return Folder(root, tuple(paths), frozenset(outside), told, stored)

    def where(self, path: str) -> Path:
        """The file on the disk; an added path has none (KeyError)."""
        if path in self.added:
            raise KeyError(path)
        return self.root / self.stored.get(path, path)

    def read(self, path: str) -> bytes:
        """The exact bytes."""
        return self.added[path] if path in self.added else self.where(path).read_bytes()

    def size(self, path: str) -> int:
        """Size in bytes."""
        return len(self.added[path]) if path in self.added else self.where(path).stat().st_size

    def originals(self) -> tuple[Path, ...]:
        """Files and folders at the top of the journal: no output may lie in them or hold them."""
        tops = {path.split("/")[0] for path in self.paths} | set(ORIGINALS)
        return tuple(self.root / top for top in sorted(tops))

    def overlaid(self, removed: Iterable[str], added: Mapping[str, bytes]) -> Folder:
        """The same folder as if some files were away and others there; the disk is not touched."""
        gone = set(removed)
        paths = sorted((set(self.paths) - gone) | set(added))
        return replace(self, paths=tuple(paths), added={**self.added, **added})


def _listed(root: Path) -> tuple[list[str], list[str], list[Problem]]:
    """Paths of regular files, paths of links that lead outside, and names nobody can write."""
    found: list[str] = []
    outside: list[str] = []
    problems: list[Problem] = []
    true_root = root.resolve()
    for path, entry in _walk(root, ""):
        if not _can_be_written(path):
            problems.append(_odd_name(path))
        elif not entry.is_symlink() or _leads_inside(Path(entry.path), true_root):
            found.append(path)
        else:
            outside.append(path)
    return found, outside, problems


def _walk(folder: Path, prefix: str) -> Iterator[tuple[str, os.DirEntry[str]]]:
    with os.scandir(folder) as entries:
        names = sorted(entries, key=lambda entry: entry.name)
    if any(entry.name in OUR_MARKS for entry in names):
        return
    for entry in names:
        path = prefix + entry.name
        if entry.name.startswith(".") or path in OUR_FOLDERS:
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _walk(Path(entry.path), path + "/")
        elif entry.is_file(follow_symlinks=False) or entry.is_symlink():
            yield path, entry


def _leads_inside(link: Path, true_root: Path) -> bool:
    """True for a link to a regular file below the root; a broken link leads nowhere."""
    try:
        target = link.resolve()
        return target.is_file() and target.is_relative_to(true_root)
    except (OSError, RuntimeError):  # a link that leads back to itself
        return False


def _can_be_written(path: str) -> bool:
    return not any("\ud800" <= sign <= "\udfff" for sign in path)


def _odd_name(path: str) -> Problem:
    shown = path.encode("utf-8", "replace").decode()
    told = "the file's name is not UTF-8, so no note can name it; rename it"
    return mistake(Place(shown), "name-not-utf8", told)


def folded(path: str) -> str:
    """The path as a file system sees it that knows neither case nor Unicode form."""
    return normalize("NFC", normalize("NFC", path).casefold())


def _twins(paths: list[str]) -> Iterator[Problem]:
    """Names that are one name on other computers."""
    first: dict[str, str] = {}
    for path in paths:
        other = first.setdefault(folded(path), path)
        if other != path:
            told = f"the name differs from '{other}' only in capitals or accents; rename one"
            yield mistake(Place(path), "names-alike", told)
