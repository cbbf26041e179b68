"""Writes the evidence for the inspector: a bag by BagIt 1.0 (RFC 8493), SHA-256 and SHA-512.

The same journal gives the same bytes on any machine, day and in any folder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from builderlog import __version__
from builderlog.deciding.findings import find
from builderlog.deciding.words import counted
from builderlog.handover.claim_pages import claim_pages
from builderlog.handover.digests import (
    ALGORITHMS,
    Digests,
    digests_of_bytes,
    digests_of_file,
)
from builderlog.handover.guide import GUIDE_NAME, guide
from builderlog.handover.inspector import inspector_view
from builderlog.handover.manifests import manifest_bytes
from builderlog.handover.naming import rename_stumbling
from builderlog.handover.tables import all_sheets, table_files
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from builderlog.storing.outbox import Changes, Outbox, open_outbox
from builderlog.storing.refusal import Refused, refusing

DECLARATION_NAME = "bagit.txt"
DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
INFORMATION_NAME = "bag-info.txt"
PAYLOAD = "data/"

Progress = Callable[[int, int], None]  # bytes done, of how many


@dataclass(frozen=True, slots=True)
class DossierReport:
    """What a dossier came to; `renamed` is journal path to its path below data/."""

    changes: Changes
    files: int  # below data/
    size_bytes: int  # below data/
    hours_only: int  # notes of which only the time went along
    renamed: Mapping[str, str]


@dataclass(slots=True)
class _Bag:
    """A bag being filled: every file put, with its digests."""

    outbox: Outbox
    progress: Progress
    total_bytes: int
    done_bytes: int = 0
    files: dict[str, Digests] = field(default_factory=dict)

    def put(self, path: str, data: bytes) -> None:
        """A file that we made."""
        self.outbox.put(path, data)
        self.files[path] = digests_of_bytes(data)

    def put_original(self, path: str, source: Path, known: str | None) -> None:
        """A file of the journal, read once for both digests; `known` is its SHA-256 as it was read.

        Raises `Refused` where it is another by now: the tables tell of the one that was read.
        """
        with refusing(f"read {source}"):
            digests = digests_of_file(source)
        if known and known != digests.by_algorithm["sha256"]:
            raise Refused(f"{source} changed while the dossier was made; make it again")
        self.outbox.put_file(path, source, digests.by_algorithm["sha256"])
        self.files[path] = digests
        self.done_bytes += digests.size_bytes
        self.progress(self.done_bytes, self.total_bytes)

    def listed(self, algorithm: str, *, payload: bool) -> dict[str, str]:
        """Path to digest, of the files below data/ or of all others."""
        return {
            path: digests.by_algorithm[algorithm]
            for path, digests in self.files.items()
            if path.startswith(PAYLOAD) is payload
        }


def write_dossier(
    folder: Folder,
    ledger: Ledger,
    out: Path,
    on: date | None = None,
    progress: Progress | None = None,
) -> DossierReport:
    """Writes the bag into `out`; `ledger` is what was read from `folder`.

    `on` is the Bagging-Date, left out where it is None. Raises `Refused` where the journal has
    mistakes (what a mistake hides could be what must stay private), where `out` is no place
    for a dossier, or where an original cannot be read.
    """
    _refuse_mistakes(ledger)
    view = inspector_view(folder, ledger)
    with refusing(f"read the journal in {folder.root}"):
        seen = read_journal(view, known={one.path: one.file for one in ledger.pictures})
        total = sum(view.size(path) for path in view.paths)
    renamed = rename_stumbling(view.paths)
    with open_outbox(out, "dossier", _originals(folder), folder.root) as outbox:
        bag = _Bag(outbox, progress or (lambda _done, _of: None), total)
        _put_payload(bag, view, renamed, {one.path: one.file.digest for one in seen.pictures})
        found = find(seen)
        sheets = all_sheets(seen, renamed, found)
        for path, data in table_files(sheets).items():
            bag.put(PAYLOAD + path, data)
        pages = {GUIDE_NAME: guide(seen, sheets), **claim_pages(seen, renamed, found)}
        _put_tags(bag, seen, pages, on)
        changes = outbox.commit()
    sizes = _payload_sizes(bag)
    return DossierReport(changes, len(sizes), sum(sizes), len(view.added), renamed)


def _refuse_mistakes(ledger: Ledger) -> None:
    mistakes = sum(problem.weight is Weight.MISTAKE for problem in ledger.problems)
    if mistakes:
        told = f"the journal has {counted(mistakes, 'mistake')}, so no dossier is made of it"
        raise Refused(f"{told}; `builderlog check` lists them")


def _originals(folder: Folder) -> tuple[Path, ...]:
    """The folders and files at the top of the journal: none of them may be written into."""
    tops = {path.split("/")[0] for path in folder.paths}
    return tuple(folder.root / top for top in sorted(tops))


def _put_payload(
    bag: _Bag, view: Folder, renamed: Mapping[str, str], known: Mapping[str, str]
) -> None:
    for path in view.paths:
        bagged = PAYLOAD + renamed.get(path, path)
        if path in view.added:
            bag.put(bagged, view.read(path))
        else:
            bag.put_original(bagged, view.where(path), known.get(path))


def _put_tags(bag: _Bag, seen: Ledger, pages: Mapping[str, bytes], on: date | None) -> None:
    """Everything beside data/; the tag manifests last, since they list the rest."""
    bag.put(DECLARATION_NAME, DECLARATION)
    bag.put(INFORMATION_NAME, bag_info(seen.settings.title, _payload_sizes(bag), on))
    for path, page in pages.items():
        bag.put(path, page)
    for algorithm in ALGORITHMS:
        payload = manifest_bytes(bag.listed(algorithm, payload=True))
        bag.put(f"manifest-{algorithm}.txt", payload)
    names = {algorithm: f"tagmanifest-{algorithm}.txt" for algorithm in ALGORITHMS}
    mark = bag.outbox.mark_bytes([*bag.files, *names.values()])
    bag.files[bag.outbox.mark_path] = digests_of_bytes(mark)
    tags = {names[name]: bag.listed(name, payload=False) for name in ALGORITHMS}
    for path, listed in tags.items():
        bag.put(path, manifest_bytes(listed))


def _payload_sizes(bag: _Bag) -> list[int]:
    return [one.size_bytes for path, one in bag.files.items() if path.startswith(PAYLOAD)]


def software_agent() -> str:
    """The line of bag-info.txt that says which version made the bag."""
    return f"Bag-Software-Agent: builderlog {__version__}"


def bag_info(title: str, sizes: Iterable[int], on: date | None) -> bytes:
    """bag-info.txt; Source-Organization is left to the builder."""
    held = list(sizes)
    about = " ".join(title.split()) or "untitled"
    lines = [
        software_agent(),
        f"External-Description: Builder's record: {about}",
        f"Payload-Oxum: {sum(held)}.{len(held)}",
        *([f"Bagging-Date: {on.isoformat()}"] if on else []),
    ]
    return "".join(f"{line}\n" for line in lines).encode("utf-8")
