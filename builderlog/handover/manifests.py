"""Manifests of a bag (RFC 8493, sections 2.1.3 and 2.2.1): written, and read with suspicion.

One line a file: digest in small hex, two spaces, path from the bag; `sha256sum -c` reads the
same. What RFC 8493 also allows is read too, but neither a digest in mixed case nor a last line
without an end: a flipped bit or a cut could hide in them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import BinaryIO

from builderlog.handover.fault import Fault, printable

DIGEST_LENGTHS = {"sha256": 64, "sha512": 128}  # hex digits
LONGEST_LINE = 1 << 16  # bytes
MOST_FAULTS = 50  # of one manifest; more of them tell nothing new

_LINES = {
    name: re.compile(rb"([0-9a-f]{%d}|[0-9A-F]{%d})[ \t]+\*?([^\r\n]+)\r?\n" % (digits, digits))
    for name, digits in DIGEST_LENGTHS.items()
}
_ENCODED = {"%0A": "\n", "%0D": "\r", "%25": "%"}


@dataclass(slots=True)
class Manifest:
    """What one manifest lists: path to digest, and what is wrong with its lines."""

    name: str
    algorithm: str
    entries: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def tell(self, code: str, message: str) -> None:
        """Keeps a fault; beyond `MOST_FAULTS` only that there are more."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(self.name, code, message))
        elif len(self.faults) == MOST_FAULTS:
            told = "more lines are wrong than told here"
            self.faults.append(Fault(self.name, "more-faults", told))


def manifest_bytes(digests: Mapping[str, str]) -> bytes:
    """A manifest of paths to digests, sorted by path; no path may need encoding."""
    return "".join(f"{digests[path]}  {path}\n" for path in sorted(digests)).encode("utf-8")


def read_manifest(kind: str, algorithm: str, stream: BinaryIO) -> Manifest:
    """Every line read or told; `kind` is "manifest" (of data/) or "tagmanifest" (of the rest)."""
    manifest = Manifest(f"{kind}-{algorithm}.txt", algorithm)
    for number, line in _lines(stream):
        _read_line(manifest, number, line)
    tags = kind == "tagmanifest"
    for path in [path for path in manifest.entries if not _belongs(path, tags=tags)]:
        manifest.tell("not-its-place", f"{printable(path)!r} does not belong into this manifest")
        del manifest.entries[path]
    return manifest


def _lines(stream: BinaryIO) -> Iterator[tuple[int, bytes]]:
    """Numbered lines without their ends; of one that is too long, its beginning."""
    number = 0
    while line := stream.readline(LONGEST_LINE + 1):
        number += 1
        rest = line
        while not rest.endswith(b"\n") and rest:
            rest = stream.readline(LONGEST_LINE + 1)
        yield number, line


def _read_line(manifest: Manifest, number: int, line: bytes) -> None:
    if len(line) > LONGEST_LINE:
        manifest.tell("long-line", f"line {number} is longer than any path may be")
        return
    found = _LINES[manifest.algorithm].fullmatch(line)
    if not found:
        told = f"{DIGEST_LENGTHS[manifest.algorithm]} hex digits, two spaces, a path and a line end"
        manifest.tell("not-a-line", f"line {number} is not {told}: {_shown(line)}")
        return
    try:
        path = found[2].decode("utf-8")
    except UnicodeDecodeError:
        manifest.tell("not-utf8", f"line {number} is not UTF-8: {_shown(line)}")
        return
    _keep(manifest, number, path, found[1].decode("ascii").lower())


def _keep(manifest: Manifest, number: int, written: str, digest: str) -> None:
    path = re.sub("%0A|%0D|%25", lambda sign: _ENCODED[sign.group()], written)
    if re.search("%(?!0A|0D|25)", written):
        told = "a `%` must be written %25 (RFC 8493, 2.1.3)"
        manifest.tell("percent", f"line {number}: {told}: {printable(written)!r}")
    elif leaves_bag(path):
        manifest.tell(
            "leaves-bag", f"line {number} is no plain path inside the bag: {printable(path)!r}"
        )
    elif path in manifest.entries:
        manifest.tell("listed-twice", f"line {number} lists {printable(path)!r} again")
    else:
        manifest.entries[path] = digest


def leaves_bag(path: str) -> bool:
    """Whether a path is anything but plain steps down from the bag."""
    parts = path.split("/")
    climbs = any(part in ("", ".", "..") for part in parts)
    return climbs or "\\" in path or "\0" in path or bool(re.match("[A-Za-z]:|~", path))


def _belongs(path: str, *, tags: bool) -> bool:
    """Payload manifests list data/ alone; tag manifests neither data/ nor tag manifests."""
    if not tags:
        return path.startswith("data/")
    return not path.startswith(("data/", "tagmanifest-"))


def _shown(line: bytes) -> str:
    """The beginning of a line that may hold anything."""
    return repr(line[:60].decode("utf-8", "backslashreplace").rstrip("\n"))
