"""The document: the dossier typeset as one PDF for the inspector's table (PDF/A-3a with PDF/UA-1).

The template is the theme's `dossier.typ`; it is told nothing but ready words. The same dossier
gives the same bytes: no clock, no system font, no locale, no folder's name goes in.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from builderlog.drawing.theme import LOOK, PRINT_ENDING, Theme, ThemeFault
from builderlog.handover.paper_data import Data, PrintedPictures, document_data
from builderlog.handover.pdf_pictures import drawing, put_pictures
from builderlog.handover.print_pictures import picture_name
from builderlog.reading.problem import Place
from builderlog.sheets.chapter import Dossier

TEMPLATE = f"dossier{PRINT_ENDING}"
DATA_FILE = "dossier.json"
ROOM = "document"  # always the same: its name would be told in the PDF
PAPERS = {"a4": "A4", "us-letter": "US Letter"}  # by Typst's name
_REGIONS = {"a4": "GB", "us-letter": "US"}  # how English words are divided

KINDS = {".csv": "text/csv", ".json": "application/json"}
DESCRIPTIONS = {
    ".csv": "A table of the record; its first line names the columns. The bag holds the same file.",
    ".json": "All tables and totals of the record in one. The bag holds the same file.",
}
_PACKAGE = re.compile(r'"@')  # a name after `@` is fetched from the wide world
_PLACE = re.compile(r"┌─ (?P<file>.+):(?P<line>\d+):(?P<column>\d+)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Printing:
    """With what the document is set: theme, paper (a key of PAPERS), and the drawn pictures.

    `pictures` is the folder that holds them; `size` tells width and height of one by its number,
    None where it could not be drawn.
    """

    theme: Theme
    paper: str
    pictures: Path
    size: Callable[[int, bool], tuple[int, int] | None]


def document(dossier: Dossier, printing: Printing, attachments: Mapping[str, bytes]) -> bytes:
    """The PDF, with files attached by their names.

    It works in a folder of its own inside `printing.pictures`, which it removes again. Raises
    `ThemeFault` for what the journal's own look does wrong.
    """
    with tempfile.TemporaryDirectory(prefix=".document-", dir=printing.pictures) as made:
        room = Path(made, ROOM)
        room.mkdir()
        own = _lay_templates(printing.theme, room)
        for name, content in attachments.items():
            (room / name).write_bytes(content)
        (room / DATA_FILE).write_text(_data(dossier, printing), encoding="utf-8")
        bare = _compiled(room, _front(attachments), own)
        target = room / "dossier.pdf"
        put_pictures(bare, lambda name: printing.pictures / name, target)
        del bare
        return target.read_bytes()


def _data(dossier: Dossier, printing: Printing) -> str:
    """All that the template is told; of a long record far more than this text while it is made."""
    told = document_data(dossier, PrintedPictures(printing.size, _drawing))
    return json.dumps({**told, **_about(dossier, printing.paper)}, ensure_ascii=False)


def _drawing(number: int, small: bool, size: tuple[int, int]) -> str:  # noqa: FBT001 - as names do
    return drawing(picture_name(number, small), *size)


def _front(attachments: Mapping[str, bytes]) -> bytes:
    """What is compiled: the files to attach, which no template can forget, and the template.

    They are named here since their names in the PDF are those from the file that attaches them.
    """
    attached = "".join(
        f"#pdf.attach({json.dumps(name)}, read({json.dumps(f'{ROOM}/{name}')}, encoding: none), "
        f'relationship: "data", mime-type: "{KINDS[Path(name).suffix]}", '
        f'description: "{DESCRIPTIONS[Path(name).suffix]}")\n'
        for name in sorted(attachments)
    )
    return f'{attached}#include "{ROOM}/{TEMPLATE}"\n'.encode()


def _about(dossier: Dossier, paper: str) -> Data:
    builders = " and ".join(dossier.builders) or "the builder"
    return {
        "paper": paper,
        "region": _REGIONS[paper],
        "description": f"The record of the aircraft built by {builders}, as of its last entry.",
        "keywords": ["builder's record", "evidence", "tasks", "hours", "photographs"],
    }


def _lay_templates(theme: Theme, room: Path) -> frozenset[str]:
    """Writes the theme's files into the room; the names of those that are the journal's own."""
    own = set[str]()
    for folder in reversed(theme.folders):
        for name, file in folder.files():
            content = file.read_bytes()
            target = room / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
            if folder.shown == LOOK and name.endswith(PRINT_ENDING):
                _refuse_packages(name, content)
                own.add(name)
    return frozenset(own)


def _refuse_packages(name: str, content: bytes) -> None:
    """What is fetched from elsewhere may be another thing tomorrow, or nothing."""
    for number, line in enumerate(content.decode("utf-8", "replace").splitlines(), start=1):
        if _PACKAGE.search(line):
            told = "a template can bring in its own files only; put the package's files into look/"
            raise ThemeFault(Place(f"{LOOK}/{name}", number), told)


def _compiled(room: Path, front: bytes, own: frozenset[str]) -> bytes:
    import typst

    nothing = room / "packages"  # so that nothing is taken from the user's own collection either
    try:
        made = typst.compile(  # type: ignore[type-var]  # its stub wants folders to be bytes, too
            front,
            root=str(room.parent),
            ignore_system_fonts=True,
            pdf_standards=["a-3a", "ua-1"],
            package_path=str(nothing),
            package_cache_path=str(nothing),
        )
    except typst.TypstError as error:
        fault = _fault_of(error, own)
        if fault is None:
            raise
        raise fault from error
    if not isinstance(made, bytes):
        raise TypeError("the compiler gave no single file")
    return made


def _fault_of(error: Exception, own: frozenset[str]) -> ThemeFault | None:
    """What the journal's own templates do wrong, in the compiler's words; None: it is our bug.

    A template of ours that stops beside one of theirs may do so because of what theirs lacks.
    """
    if not own:
        return None
    told = str(getattr(error, "diagnostic", error))
    places = [(_name_in_theme(found["file"]), found) for found in _PLACE.finditer(told)]
    places.sort(key=lambda each: each[0] not in own)
    words = f"the document's template stops: {told.splitlines()[0].removeprefix('error: ')}"
    if not places:
        return ThemeFault(Place(f"{LOOK}/{min(own)}"), words)
    name, found = places[0]
    shown = f"{LOOK}/{name}" if name in own else name
    return ThemeFault(Place(shown, int(found["line"]), int(found["column"])), words)


def _name_in_theme(shown: str) -> str:
    """A file's name from the theme's folder: the compiler tells it from the folder of pictures."""
    return shown.replace("\\", "/").rpartition(f"{ROOM}/")[2]
