"""Digests of the files that seals list: what a sealed month is held against.

Each file is read once, in pieces; pictures and notes, which were read already, not again.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping

from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.files import Finder
from builderlog.knowing.note_files import files_of
from builderlog.knowing.seals import Seal, newest_seals
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Place, Problem, doubt


def sealed_digests(
    folder: Folder, seals: Iterable[Seal], notes: Iterable[Note], known: Mapping[str, str]
) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """SHA-256 by path of all that is needed to check the seals, what is `known` beside the rest.

    A file that cannot be read is a doubt, and has no digest.
    """
    digests, problems = dict(known), list[Problem]()
    for path in sorted(_wanted(folder, seals, notes) - set(known)):
        try:
            digests[path] = digest_of_file(folder, path)
        except OSError as error:
            told = f"this file is sealed and cannot be read: {error.strerror or error}"
            problems.append(doubt(Place(path), "sealed-unreadable", told))
    return digests, tuple(problems)


def _wanted(folder: Folder, seals: Iterable[Seal], notes: Iterable[Note]) -> set[str]:
    """What the seals that count list, and what notes name whose paths no seal may tell."""
    newest = newest_seals(seals)
    listed = {one.path for seal in newest.values() for one in seal.files}
    found = listed.intersection(folder.paths)
    finder: Finder | None = None
    for note in notes:
        if note.privacy is Privacy.HOURS_ONLY and f"{note.day}"[:7] in newest:
            finder = finder or Finder(folder.paths, folder.outside)
            found.update(files_of(note, finder))
    return found


def digest_of_file(folder: Folder, path: str) -> str:
    """SHA-256 of a file of the journal in hex. Raises OSError."""
    if path in folder.added:
        return hashlib.sha256(folder.read(path)).hexdigest()
    with folder.where(path).open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()
