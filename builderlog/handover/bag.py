"""Writes the evidence for the inspector: a bag by BagIt 1.0 (RFC 8493), SHA-256 and SHA-512.

The same journal gives the same bytes on any machine, day and in any folder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from io import BytesIO
from pathlib import Path

from builderlog.deciding.words import counted
from builderlog.drawing.theme import Theme, open_theme
from builderlog.handover.bag_info import (
    DECLARATION,
    DECLARATION_NAME,
    INFORMATION_NAME,
    PAYLOAD,
    bag_info,
)
from builderlog.handover.contents import Contents, Names, contents_of, names_in_bag
from builderlog.handover.filling import Filling, Original
from builderlog.handover.inspector import inspector_view
from builderlog.handover.naming import rename_stumbling
from builderlog.handover.paper import Printing, document
from builderlog.handover.pdf_check import DOCUMENT
from builderlog.handover.print_pictures import (
    PrintRoom,
    Prints,
    lay_out_prints,
    pictures_to_print,
)
from builderlog.handover.small_copies import PRINTS_FOLDER, SmallCopies, draw_small_copies
from builderlog.handover.tables import TABLES_FOLDER
from builderlog.handover.zip_write import write_zip, zip_place
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from builderlog.storing.grounds import settle
from builderlog.storing.outbox import Changes, Outbox, open_outbox
from builderlog.storing.refusal import Refused, refusing

DEFAULT_THEME = "trammel"
PICTURES = "binder/pictures/"
COPIES_ROOM, PICTURES_ROOM = "copies", "pictures"  # folders in the workroom

Progress = Callable[[str, int, int], None]  # the stage's name, how much of it is done, of how much


@dataclass(frozen=True, slots=True)
class Wish:
    """What the builder asks of a dossier.

    `on` is the Bagging-Date, left out where it is None. `small`: pictures go along as print-size
    copies. `zipped`: it is written as one zip beside its folder too. `store` is the journal's
    `.builderlog`, where drawn pictures are kept; None: nowhere.
    """

    on: date | None = None
    small: bool = False
    zipped: bool = False
    store: Path | None = None


@dataclass(frozen=True, slots=True)
class Zipped:
    """The zip of a dossier, and its size."""

    file: Path
    size_bytes: int


@dataclass(frozen=True, slots=True)
class DossierReport:
    """What a dossier came to; `renamed` is journal path to its path below data/.

    `pages` are those of the document; `copies` is the number of pictures that went along as
    copies; `trouble` says why drawn pictures could not be kept for the next time.
    """

    changes: Changes
    files: int  # below data/
    size_bytes: int  # below data/
    hours_only: int  # notes of which only the time went along
    renamed: Mapping[str, str]
    pages: int = 0
    copies: int = 0
    zipped: Zipped | None = None
    trouble: str | None = None


@dataclass(frozen=True, slots=True)
class _Work:
    """A dossier in the making: the view, its ledger, and where things are put."""

    view: Folder
    seen: Ledger
    wish: Wish
    theme: Theme
    outbox: Outbox
    progress: Progress

    def counting(self, stage: str, total: int) -> Callable[[int], None]:
        """Counts what is done more of a stage."""
        done = 0

        def advance(more: int) -> None:
            nonlocal done
            done += more
            self.progress(stage, done, total)

        return advance


def write_dossier(
    folder: Folder,
    ledger: Ledger,
    out: Path,
    wish: Wish = Wish(),
    progress: Progress | None = None,
) -> DossierReport:
    """Writes the bag into `out`; `ledger` is what was read from `folder`.

    Raises `Refused` where the journal has mistakes (what a mistake hides could be what must stay
    private), where `out` is no place for a dossier, or where an original cannot be read;
    `ThemeFault` where the journal's own look cannot print the document.
    """
    _refuse_mistakes(ledger)
    theme = open_theme(ledger.settings.site.theme or DEFAULT_THEME, folder.root)
    place = zip_place(settle(out)) if wish.zipped else None
    view = inspector_view(folder, ledger)
    with refusing(f"read the journal in {folder.root}"):
        seen = read_journal(view, known={one.path: one.file for one in ledger.pictures})
    with open_outbox(out, "dossier", folder.originals(), folder.root) as outbox:
        work = _Work(view, seen, wish, theme, outbox, progress or _quiet)
        report, paths = _write(work)
        if place is None:
            return report
        told = partial(work.progress, "Writing the zip (bytes)")
        size = write_zip(outbox.folder, paths, place, told)
        return replace(report, zipped=Zipped(place, size))


def _quiet(_stage: str, _done: int, _of: int) -> None:
    """Nobody watches."""


def _refuse_mistakes(ledger: Ledger) -> None:
    mistakes = sum(problem.weight is Weight.MISTAKE for problem in ledger.problems)
    if mistakes:
        told = f"the journal has {counted(mistakes, 'mistake')}, so no dossier is made of it"
        raise Refused(f"{told}; `builderlog check` lists them")


def _write(work: _Work) -> tuple[DossierReport, list[str]]:
    """The report, and the paths of all files of the bag."""
    small = _small_copies(work)
    names = names_in_bag(_renamed(work), small)
    seen = _with_facts(work.seen, small)
    contents = contents_of(seen, names)
    bag = Filling(work.outbox)
    prints = _draw_prints(work, contents)
    _put_payload(work, bag, small, names)
    bag.put_all({PAYLOAD + path: data for path, data in contents.tables.items()})
    bag.put(DECLARATION_NAME, DECLARATION)
    small_bag = bool(small.facts)
    bag.put(INFORMATION_NAME, bag_info(seen.settings, bag.sizes(), work.wish.on, small=small_bag))
    bag.put_all(contents.pages)
    pdf = _document(work, contents, prints)
    bag.put(DOCUMENT, pdf)
    bag.put_files(_pictures(work, contents), lambda _done: None)
    bag.put_manifests()
    sizes = bag.sizes()
    return DossierReport(
        work.outbox.commit(),
        len(sizes),
        sum(sizes),
        len(work.view.added),
        names.renamed,
        pages=_pages(pdf),
        copies=len(small.facts),
        trouble=prints.trouble,
    ), [*bag.files]


def _small_copies(work: _Work) -> SmallCopies:
    if not work.wish.small:
        return SmallCopies()
    room = PrintRoom(work.outbox.workroom / COPIES_ROOM, work.wish.store)
    return draw_small_copies(work.view, work.seen, room, work.progress)


def _renamed(work: _Work) -> dict[str, str]:
    ours = (TABLES_FOLDER, PRINTS_FOLDER) if work.wish.small else (TABLES_FOLDER,)
    return rename_stumbling(work.view.paths, ours)


def _with_facts(seen: Ledger, small: SmallCopies) -> Ledger:
    """The ledger as it will be read from the bag."""
    pictures = (replace(each, file=small.facts.get(each.path, each.file)) for each in seen.pictures)
    return replace(seen, pictures=tuple(pictures))


def _draw_prints(work: _Work, contents: Contents) -> Prints:
    """The pictures of document and binder. Raises `Refused` where one cannot be drawn any more."""
    made = contents.dossier
    room = PrintRoom(work.outbox.workroom / PICTURES_ROOM, work.wish.store)
    advance = work.counting("Drawing pictures", pictures_to_print(made))
    prints = lay_out_prints(made, contents.found.ledger, work.view.where, room, advance)
    prints.refuse_undrawn()
    return prints


def _document(work: _Work, contents: Contents, prints: Prints) -> bytes:
    """The PDF, with the tables attached under their names."""
    work.progress("Typesetting", 0, 1)
    paper = contents.found.ledger.settings.dossier.paper
    printing = Printing(work.theme, paper, work.outbox.workroom / PICTURES_ROOM, prints.size)
    tables = contents.tables.items()
    attached = {path.removeprefix(TABLES_FOLDER): data for path, data in tables}
    made = document(contents.dossier, printing, attached)
    work.progress("Typesetting", 1, 1)
    return made


def _pages(pdf: bytes) -> int:
    """How many pages our own document has."""
    from pypdf import PdfReader

    return PdfReader(BytesIO(pdf)).get_num_pages()


def _put_payload(work: _Work, bag: Filling, small: SmallCopies, names: Names) -> None:
    view, bagged = work.view, names.bagged
    for path in view.added:
        bag.put(PAYLOAD + bagged.get(path, path), view.read(path))
    originals = [*_originals(work, small, bagged)]
    with refusing(f"read the journal in {view.root}"):
        total = sum(each.source.stat().st_size for each in originals)
    bag.put_files(originals, lambda done: work.progress("Bagging (bytes)", done, total))


def _originals(work: _Work, small: SmallCopies, bagged: Mapping[str, str]) -> Iterator[Original]:
    known = {one.path: one.file.digest for one in work.seen.pictures}
    for path in work.view.paths:
        if path in work.view.added:
            continue
        if path in small.files:
            yield Original(PAYLOAD + bagged[path], small.files[path])
        else:
            place = PAYLOAD + bagged.get(path, path)
            yield Original(place, work.view.where(path), known.get(path, ""))


def _pictures(work: _Work, contents: Contents) -> Iterator[Original]:
    folder = work.outbox.workroom / PICTURES_ROOM
    for path in sorted(contents.pictures):
        yield Original(path, folder / path.removeprefix(PICTURES))
