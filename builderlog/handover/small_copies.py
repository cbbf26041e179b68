"""A smaller bag to send: pictures go along as print-size copies, with a table of the originals.

The table holds every fact that tables and pages need of an original, so that they can be made
again from the bag. Likeness never leaves this machine: here and there it is that of the copies.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import count
from pathlib import Path

from builderlog.handover.print_pictures import PrintRoom, lay_out_prints, picture_name, print_size
from builderlog.handover.tables import TableError, read_table
from builderlog.knowing.files import is_picture
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.folder import Folder
from builderlog.reading.photo_file import Fact, PhotoFile, photo_from_facts, read_photo
from builderlog.sheets.chapter import Chapter, Dossier, Pictures, ShownPicture
from builderlog.sheets.table import Heading, Sheet
from builderlog.storing.photo_facts import read_all
from builderlog.storing.two_threads import each_in_two_threads

PRINTS_FOLDER = "prints/"
ORIGINALS = "originals"
ORIGINALS_TABLE = f"tables/{ORIGINALS}.csv"
RECEIPTS = "receipts/"  # small print must stay readable
PHOTOS = "photos/"

_DIGEST = re.compile("[0-9a-f]{64}")
_HEADINGS = (
    Heading("path", "the picture's path in the journal, as notes name it"),
    Heading("bagged", "the print-size copy that goes along, below data/"),
    Heading("sha256", "the digest of the original, which stays with the builder"),
    Heading("bytes", "the size of the original", number=True),
    Heading("kind", "what kind of picture the original is"),
    Heading("width", "of the upright original, in pixels", number=True),
    Heading("height", "of the upright original, in pixels", number=True),
    Heading("taken", "when it was taken, by the original's Exif"),
    Heading("located", "yes where the original holds the place where it was taken"),
    Heading("orientation", "how the original lies in its file, by Exif", number=True),
)

Progress = Callable[[str, int, int], None]  # the stage's name, how much is done, of how much


@dataclass(frozen=True, slots=True)
class SmallCopies:
    """Pictures that are bagged as copies, all by journal path; none where the originals go along.

    `facts` are those of the originals, with the likeness of the copies; `files` are the copies.
    """

    facts: Mapping[str, PhotoFile] = field(default_factory=dict)
    files: Mapping[str, Path] = field(default_factory=dict)


def draw_small_copies(
    view: Folder, seen: Ledger, room: PrintRoom, progress: Progress
) -> SmallCopies:
    """Draws the copies of all pictures that can be drawn; receipts go along as they are.

    Raises `Refused` where a picture that could be read cannot be drawn any more.
    """
    pictures = [*_to_copy(view, seen)]
    every = replace(seen, pictures=tuple(pictures))
    done = count(1)

    def advance(_more: int) -> None:
        progress("Drawing copies", next(done), len(pictures))

    drawn = lay_out_prints(_all_of(pictures), every, view.where, room, advance)
    drawn.refuse_undrawn()
    files = {
        each.path: room.folder / picture_name(number, small=False)
        for number, each in enumerate(pictures, start=1)
    }
    facts = {each.path: each.file for each in pictures}
    return SmallCopies(dict(with_likeness(facts, files)), files)


def _to_copy(view: Folder, seen: Ledger) -> Iterator[Picture]:
    """Pictures that notes name, and those among the photos that none names; not receipts."""
    named = {each.path: each for each in seen.pictures}
    others = [
        (path, view.where(path))
        for path in view.paths
        if path.startswith(PHOTOS) and is_picture(path) and path not in {*named, *view.added}
    ]
    facts = read_all(others, None, lambda _more: None).photos
    unnamed = {path: Picture(path, facts[path], ()) for path, _ in others}
    for path, picture in sorted({**named, **unnamed}.items()):
        if picture.file.fault is None and not path.startswith(RECEIPTS):
            yield picture


def _all_of(pictures: Iterable[Picture]) -> Dossier:
    """A dossier that shows each picture once, for those who draw what a dossier shows."""
    shown = tuple(
        ShownPicture(number, each.path, each.file.digest, "", "")
        for number, each in enumerate(pictures, start=1)
    )
    chapter = Chapter("pictures", "", (Pictures(shown),))
    return Dossier("", (), "", "", "", Chapter("cover", "", ()), (chapter,))


def with_likeness(
    facts: Mapping[str, PhotoFile], files: Mapping[str, Path]
) -> Iterator[tuple[str, PhotoFile]]:
    """The facts of originals with the likeness that their copies have."""
    copies = each_in_two_threads(_read_copy, [(path, files[path]) for path in facts])
    for path, copy in copies:
        yield path, replace(facts[path], likeness=copy.likeness)


def _read_copy(item: tuple[str, Path]) -> tuple[str, PhotoFile]:
    path, file = item
    return path, read_photo(file, path)


def print_names(paths: Iterable[str], renamed: Mapping[str, str]) -> dict[str, str]:
    """Journal path to the path of its copy below data/."""
    return {path: f"{PRINTS_FOLDER}{renamed.get(path, path)}.jpg" for path in paths}


def originals_sheet(facts: Mapping[str, PhotoFile], bagged: Mapping[str, str]) -> Sheet:
    """What the originals of the copies are."""
    rows = tuple(_row(facts[path], bagged[path]) for path in sorted(facts))
    title = "The originals of the pictures that go along as print-size copies."
    return Sheet(ORIGINALS, title, _HEADINGS, rows)


def _row(file: PhotoFile, bagged: str) -> tuple[str, ...]:
    numbers = (file.size_bytes, file.kind, file.width_px, file.height_px, file.taken or "")
    located = "yes" if file.located else ""
    return (file.name, bagged, file.digest, *map(str, numbers), located, str(file.orientation))


def read_originals(data: bytes) -> dict[str, tuple[str, PhotoFile]]:
    """Journal path to the copy's path below data/ and the original's facts, from originals.csv.

    Raises `TableError` where the table is none of ours.
    """
    header, *rows = read_table(data) or [()]
    if header != tuple(each.name for each in _HEADINGS):
        raise TableError("it has not the columns of this table")
    found = dict(map(_original, rows))
    if len(found) != len(rows) or len({bagged for bagged, _ in found.values()}) != len(rows):
        raise TableError("it lists a picture twice")
    return found


def _original(row: tuple[str, ...]) -> tuple[str, tuple[str, PhotoFile]]:
    try:
        path, bagged, digest, size, kind, width, height, taken, located, orientation = row
        facts: dict[str, Fact] = {
            "name": path,
            "digest": digest,
            "size_bytes": _whole(size),
            "kind": kind,
            "width_px": _whole(width),
            "height_px": _whole(height),
            "taken": taken or None,
            "located": located == "yes",
            "fault": None,
            "orientation": _whole(orientation),
            "likeness": "",
        }
        photo = photo_from_facts(facts)
    except ValueError as error:
        raise TableError(f"a row of it cannot be read ({error})") from error
    if not _DIGEST.fullmatch(digest) or not bagged.startswith(PRINTS_FOLDER):
        raise TableError("a row of it names no digest, or no copy")
    return path, (bagged, photo)


def _whole(text: str) -> int:
    """A whole number as we write it. Raises `ValueError`."""
    if not re.fullmatch("[0-9]{1,12}", text):
        raise ValueError("no whole number")
    return int(text)


def size_of_copy(original: PhotoFile) -> tuple[int, int]:
    """Width and height that a copy has to have."""
    return print_size(original.width_px, original.height_px, small=False)
