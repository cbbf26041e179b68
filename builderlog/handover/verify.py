"""Checks a dossier: structure, every file, every digest, every table; all faults at once.

Follows no link, never leaves the bag, writes nothing, and raises nothing on a hostile one.
Source: RFC 8493 (BagIt 1.0), sections 2 and 3.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from builderlog.handover.bag_info import (
    DECLARATION,
    DECLARATION_NAME,
    INFORMATION_NAME,
    OXUM,
    PAYLOAD,
    values_of,
)
from builderlog.handover.digests import digests_of_regular, open_regular
from builderlog.handover.fault import Fault, printable
from builderlog.handover.looking import Standing, look_through
from builderlog.handover.manifests import Manifest, read_manifest
from builderlog.handover.tables_check import check_contents
from builderlog.storing.copying import ALGORITHMS, Digests
from builderlog.storing.refusal import Refused
from builderlog.storing.two_threads import each_in_two_threads

MANIFEST, TAG_MANIFEST = "manifest", "tagmanifest"
REQUIRED = (INFORMATION_NAME, *(f"{MANIFEST}-{algorithm}.txt" for algorithm in ALGORITHMS))
LARGEST_INFORMATION = 1 << 20  # bytes

Progress = Callable[[int, int], None]  # bytes done, of how many


@dataclass(slots=True)
class _Bag:
    """A bag under examination."""

    root: Path
    standing: Standing
    progress: Progress
    digests: dict[str, Digests] = field(default_factory=dict)  # of what could be read
    faults: set[Fault] = field(default_factory=set)

    def tell(self, path: str, code: str, message: str) -> None:
        """Keeps a fault; the same fault found twice is one."""
        self.faults.add(Fault(printable(path), code, message))


def verify_bag(folder: Path, progress: Progress | None = None) -> tuple[Fault, ...]:
    """Every fault of a bag, sorted by path; none means that it is as it was written.

    Raises `Refused` where the folder is not there or holds no bagit.txt, and so is no bag.
    """
    faults, readable = check_form(folder, progress)
    return tuple(sorted({*faults, *check_contents(folder, readable)}))


def check_form(
    folder: Path, progress: Progress | None = None
) -> tuple[set[Fault], Mapping[str, int]]:
    """The faults of the bag as a bag, and the size in bytes of each file that could be read.

    What the files say is not looked at. Raises `Refused` as `verify_bag` does.
    """
    if not folder.is_dir():
        raise Refused(f"{folder} is not a folder; name the folder that `builderlog dossier` wrote")
    standing = look_through(folder)
    if DECLARATION_NAME not in standing.files and DECLARATION_NAME not in standing.strange:
        raise Refused(f"{folder} holds no {DECLARATION_NAME}, so it is no dossier; name its folder")
    bag = _Bag(folder, standing, progress or (lambda _done, _of: None))
    bag.faults.update(standing.faults)
    _digest_all(bag)
    _check_structure(bag)
    payload = _read_manifests(bag, MANIFEST)
    tags = _read_manifests(bag, TAG_MANIFEST)
    _check_listing(bag, payload, [path for path in bag.standing.files if _is_payload(path)])
    _check_listing(bag, tags, [path for path in bag.standing.files if _is_tag(path)])
    return bag.faults, {path: digests.size_bytes for path, digests in bag.digests.items()}


def _is_payload(path: str) -> bool:
    return path.startswith(PAYLOAD)


def _is_tag(path: str) -> bool:
    """All beside data/, but not the tag manifests, which nothing can list."""
    own = {f"{TAG_MANIFEST}-{algorithm}.txt" for algorithm in ALGORITHMS}
    return not _is_payload(path) and path not in own


def _digest_all(bag: _Bag) -> None:
    """Every file's digests, in one pass each; what cannot be read is told."""
    total, done = sum(bag.standing.files.values()), 0

    def take(path: str) -> tuple[str, Digests | OSError]:
        try:
            return path, digests_of_regular(bag.root / path)
        except OSError as error:
            return path, error

    for path, found in each_in_two_threads(take, bag.standing.files):
        if isinstance(found, OSError):
            bag.tell(path, "unreadable", f"this file cannot be read: {found.strerror or found}")
        else:
            bag.digests[path] = found
        done += bag.standing.files[path]
        bag.progress(done, total)


def _check_structure(bag: _Bag) -> None:
    """The declaration, and the number of bytes and files that bag-info.txt gives."""
    _check_declaration(bag)
    if not any(_is_payload(path) for path in bag.standing.files):
        bag.tell(PAYLOAD, "missing", "the bag has no data/ with files in it")
    for path in REQUIRED:
        _tell_missing(bag, path, "the bag has to have it")
    if "fetch.txt" in bag.standing.files:
        bag.tell(
            "fetch.txt", "fetch", "parts of the bag lie elsewhere; a dossier is whole by itself"
        )
    sizes = [size for path, size in bag.standing.files.items() if _is_payload(path)]
    found, told = f"{sum(sizes)}.{len(sizes)}", _payload_oxum(bag)
    if told is not None and told != found:
        message = f"{OXUM} says {told!r}, but data/ holds {found} (bytes.files)"
        bag.tell(INFORMATION_NAME, "payload-oxum", message)


def _tell_missing(bag: _Bag, path: str, reason: str) -> None:
    """A file that is not there at all; a link or device in its place is told already."""
    if path not in bag.standing.files and path not in bag.standing.strange:
        bag.tell(path, "missing", f"this file is not there; {reason}")


def _check_declaration(bag: _Bag) -> None:
    declared = _read(bag, DECLARATION_NAME, len(DECLARATION) + 1)
    if declared is not None and declared != DECLARATION:
        lines = " and ".join(repr(line) for line in DECLARATION.decode("ascii").splitlines())
        bag.tell(DECLARATION_NAME, "declaration", f"it must hold the lines {lines}, nothing else")


def _payload_oxum(bag: _Bag) -> str | None:
    """What bag-info.txt says; empty where it says nothing, None where it cannot be read."""
    data = _read(bag, INFORMATION_NAME, LARGEST_INFORMATION)
    if data is None:
        return None
    return ", ".join(printable(value) for value in values_of(OXUM, data))


def _read(bag: _Bag, path: str, most: int) -> bytes | None:
    """The first `most` bytes of a file; None where it is not there or was told as unreadable."""
    if path not in bag.digests:
        return None
    with open_regular(bag.root / path) as stream:
        return stream.read(most)


def _read_manifests(bag: _Bag, kind: str) -> dict[str, Manifest]:
    """The manifests of one kind that are there, by algorithm; their lines' faults are told."""
    found: dict[str, Manifest] = {}
    for algorithm in ALGORITHMS:
        name = f"{kind}-{algorithm}.txt"
        if name in bag.digests:
            with open_regular(bag.root / name) as stream:
                found[algorithm] = read_manifest(kind, algorithm, stream)
            bag.faults.update(found[algorithm].faults)
        elif name not in bag.standing.files:
            _tell_missing(bag, name, "without it these files cannot be checked")
    return found


def _check_listing(bag: _Bag, manifests: Mapping[str, Manifest], files: list[str]) -> None:
    """Holds the files of one kind against all manifests that should list them."""
    listed = {path for manifest in manifests.values() for path in manifest.entries}
    for path in listed.difference(files):
        _tell_missing(bag, path, "a manifest lists it")
    for path in listed:
        _check_agreement(bag, manifests, path)
        _check_digest(bag, manifests, path)
    if manifests:
        for path in set(files) - listed:
            bag.tell(path, "unlisted", "no manifest lists this file; it is no part of the dossier")


def _check_agreement(bag: _Bag, manifests: Mapping[str, Manifest], path: str) -> None:
    lacking = [one.name for one in manifests.values() if path not in one.entries]
    digests = bag.digests.get(path)
    right = digests is not None and [*_right_digests(manifests, path, digests)]
    for name in lacking:
        bag.tell(
            path, "manifests-disagree", f"{name} does not list this file, another manifest does"
        )
        if right:
            told = f"a line was changed: {right[0]} lists {path!r} as it is, this manifest does not"
            bag.tell(name, "changed", told)


def _check_digest(bag: _Bag, manifests: Mapping[str, Manifest], path: str) -> None:
    digests = bag.digests.get(path)
    if digests is None:
        return
    wrong = [*_wrong_digests(manifests, path, digests)]
    if wrong:
        by_all = len(wrong) == len(manifests)
        told = "its bytes were changed" if by_all else "this file or the manifest was changed"
        bag.tell(
            path, "changed", f"its digest is not the one listed in {' and '.join(wrong)}; {told}"
        )
        for right in _right_digests(manifests, path, digests):
            for name in wrong:
                told = f"the line of {path!r} was changed: {right} has its digest as it is"
                bag.tell(name, "changed", told)


def _right_digests(manifests: Mapping[str, Manifest], path: str, digests: Digests) -> Iterator[str]:
    """The manifests that list a file's bytes as they are."""
    for algorithm, manifest in manifests.items():
        if manifest.entries.get(path) == digests.by_algorithm[algorithm]:
            yield manifest.name


def _wrong_digests(manifests: Mapping[str, Manifest], path: str, digests: Digests) -> Iterator[str]:
    for algorithm, manifest in manifests.items():
        listed = manifest.entries.get(path)
        if listed is not None and listed != digests.by_algorithm[algorithm]:
            yield manifest.name
