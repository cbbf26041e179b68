"""A seal as a text file and back: comment lines of keys and values, then lines of digests.

The lines of digests are those of GNU coreutils' sha256sum: two blanks, and a backslash in front
where a path holds a backslash or a line end, which are then written as in C. It skips comments.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date

from builderlog.knowing.seals import NO_SEAL, SEALS_FOLDER, Seal, SealedFile
from builderlog.knowing.settings import Role
from builderlog.knowing.units import UnreadableError, parse_date
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Place, Problem, doubt
from builderlog.reading.source import Source, source_of

LARGEST_SEAL = 1 << 25  # bytes; a month of a hundred thousand files does not come near it
_MONTH = re.compile(r"(?!0000)\d{4}-(?:0[1-9]|1[0-2])", re.ASCII)
NAME = re.compile(rf"seals/({_MONTH.pattern})(?:-amended-[1-9]\d*)?\.txt", re.ASCII)
_LINE = re.compile(r"(\\?)([0-9a-f]{64})  (.+)", re.DOTALL)
KEPT_BACK = "kept-back/"  # before the day and number of a file that has no name here
_KEPT = re.compile(r"kept-back/(\d{4}-\d{2}-\d{2})\.\d+", re.ASCII)
_DIGEST = re.compile(r"[0-9a-f]{64}")
_ESCAPES = {"\\": "\\\\", "\n": "\\n", "\r": "\\r"}
_SIGNS = {written: sign for sign, written in _ESCAPES.items()}
_TOTAL = re.compile(
    r"seconds(?: as (?:builder|helper|paid)| of .*)?|notes|days|photos|spent .+", re.DOTALL
)
_ROLE, _KEPT_KEY = "role of ", "kept-back"
_BEGIN = "# month: "  # all before it is for the reader
_REQUIRED = ("month", "sealed on", "before")
_HEADER = (*_REQUIRED, "amends", "why")


def digest_of(data: bytes) -> str:
    """SHA-256 in hex."""
    return hashlib.sha256(data).hexdigest()


def seal_text(seal: Seal) -> str:
    """The seal's file; the same seal gives the same text, and LF ends each line."""
    return "".join(f"{line}\n" for line in _lines(seal))


def _lines(seal: Seal) -> Iterator[str]:
    yield (
        f"# This seal closes the month {seal.month} of a builder's record: below stands the SHA-256"
        " digest of each of its notes, pictures and papers as they were on the day of sealing."
    )
    yield f"# To check it, say in the journal's folder: sha256sum -c {seal.path}"
    yield "#"
    yield _keyed("month", seal.month)
    yield _keyed("sealed on", seal.sealed_on.isoformat())
    yield _keyed("before", seal.before or NO_SEAL)
    if seal.amends:
        yield _keyed("amends", seal.amends)
        yield _keyed("why", seal.why)
    yield from (_keyed(f"{_ROLE}{name}", role.value) for name, role in seal.roles)
    yield from (_keyed(key, value) for key, value in seal.totals)
    for one in seal.files:
        kept = one.kept_back is not None
        yield _keyed(_KEPT_KEY, f"{one.digest}  {one.path}") if kept else _listed(one)


def _keyed(key: str, value: str) -> str:
    return f"# {escaped(key)}: {escaped(value)}"


def _listed(one: SealedFile) -> str:
    path = escaped(one.path)
    return f"{'' if path == one.path else chr(92)}{one.digest}  {path}"


def escaped(text: str) -> str:
    """On one line, as sha256sum writes odd file names."""
    return "".join(_ESCAPES.get(sign, sign) for sign in text)


def unescaped(text: str) -> str:
    """What `escaped` was given; a backslash before anything else stays."""
    return re.sub(r"\\[\\nr]", lambda found: _SIGNS[found[0]], text)


def read_seals(folder: Folder) -> tuple[tuple[Seal, ...], tuple[Problem, ...]]:
    """Every seal of the journal in no order that means anything, and what cannot be read of them.

    Only doubts are told: whatever happened to a seal, the evidence can be handed over and says so.
    Other programs' files beside them (such as signatures), which do not end in .txt, are theirs.
    """
    seals: list[Seal] = []
    problems: list[Problem] = []
    for path in folder.paths:
        if path.startswith(SEALS_FOLDER) and path.lower().endswith(".txt"):
            seal, told = _read_one(folder, path)
            seals.extend([seal] if seal else [])
            problems.extend(told)
    return tuple(seals), tuple(problems)


def _read_one(folder: Folder, path: str) -> tuple[Seal | None, tuple[Problem, ...]]:
    if not NAME.fullmatch(path):
        told = "this file lies among the seals, but no seal has such a name; put it elsewhere"
        return None, (doubt(Place(path), "seal-name", told),)
    if (size := folder.size(path)) > LARGEST_SEAL:
        told = f"{size} bytes are more than a seal ever has; it is not read"
        return None, (doubt(Place(path), "seal-unreadable", told),)
    return read_seal(path, folder.read(path))


@dataclass(slots=True)
class _Reading:
    """A seal's file under the eye: what was found in it, and what cannot be read."""

    source: Source
    keyed: dict[str, str] = field(default_factory=dict)
    files: dict[str, SealedFile] = field(default_factory=dict)  # by path
    problems: list[Problem] = field(default_factory=list)
    begun: bool = False

    def remark(self, place: Place, message: str) -> None:
        """A doubt: what is unreadable does not hide what can be read."""
        self.problems.append(doubt(place, "seal-unreadable", message))

    def add(self, one: SealedFile) -> None:
        """A file; the first of two with one path counts."""
        if one.path in self.files:
            self.remark(one.place, f"'{one.path}' stands twice in this seal; the first counts")
        self.files.setdefault(one.path, one)


def read_seal(path: str, data: bytes) -> tuple[Seal | None, tuple[Problem, ...]]:
    """One seal; None where it does not say on which day it was made. Nothing raises."""
    source, _ = source_of(path, data)  # odd signs are allowed here: file names may hold them
    held = _Reading(source)
    _look_at_bytes(held)
    start = 0
    for line in source.text.split("\n"):
        text = line.removesuffix("\r")
        if text:
            _read_line(held, text, source.place(start, start + len(text)))
        start += len(line) + 1
    return _seal_of(held, path, data), tuple(held.problems)


def _look_at_bytes(held: _Reading) -> None:
    """Signs that another program has saved the file."""
    source = held.source
    if source.text.encode("utf-8") != source.data:
        held.remark(Place(source.path), "it is not UTF-8, so another program saved this file anew")
    if "\r" in source.text:
        at = source.place(source.text.index("\r"))
        held.remark(at, "a seal's lines end in LF alone; another program saved this file anew")


def _read_line(held: _Reading, line: str, place: Place) -> None:
    if line.startswith(_BEGIN):
        held.begun = True
    if not line.startswith("#"):
        _read_listed(held, line, place)
    elif held.begun:
        _read_keyed(held, line, place)


def _read_listed(held: _Reading, line: str, place: Place) -> None:
    found = _LINE.fullmatch(line)
    if found is None:
        held.remark(place, "this is neither a comment nor a SHA-256 digest, two blanks and a path")
        return
    path = unescaped(found[3]) if found[1] else found[3]
    held.add(SealedFile(found[2], path, place))


def _read_keyed(held: _Reading, line: str, place: Place) -> None:
    written, _, right = _parted(line[1:].removeprefix(" "))
    key, value = unescaped(written), unescaped(right)
    if key == _KEPT_KEY:
        _read_kept(held, value, place)
    elif not _is_known(key, value):
        held.remark(place, f"'{line}' is no comment that a seal has here")
    elif key in held.keyed:
        held.remark(place, f"'{key}' stands twice in this seal; the first counts")
    else:
        held.keyed[key] = value


def _parted(words: str) -> tuple[str, str, str]:
    """Key and value; a person's name may itself hold a colon, and then the last one parts them."""
    at_last = words.startswith((_ROLE, "seconds of ", "spent "))
    return words.rpartition(": ") if at_last else words.partition(": ")


def _is_known(key: str, value: str) -> bool:
    if key.startswith(_ROLE):
        return value in {role.value for role in Role}
    return bool(value) and (key in _HEADER or _TOTAL.fullmatch(key) is not None)


def _read_kept(held: _Reading, value: str, place: Place) -> None:
    found = _LINE.fullmatch(value)
    name = _KEPT.fullmatch(found[3]) if found else None
    day = _day(name[1]) if name else None
    if found is None or day is None:
        held.remark(
            place, "a kept-back line is a SHA-256 digest, two blanks, kept-back/DATE.NUMBER"
        )
        return
    held.add(SealedFile(found[2], found[3], place, day))


def _day(text: str) -> date | None:
    try:
        return parse_date(text)
    except UnreadableError:
        return None


def _seal_of(held: _Reading, path: str, data: bytes) -> Seal | None:
    """The seal, with the month of the file's name where its own cannot be read."""
    keyed, whole = held.keyed, Place(path)
    for key in (key for key in _REQUIRED if key not in keyed):
        held.remark(whole, f"it lacks the line '# {key}: …', which every seal has")
    day = _day(keyed.get("sealed on", ""))
    if day is None:
        held.remark(whole, "its day of sealing cannot be read, so nothing is held against it")
        return None
    return Seal(
        path=path,
        month=_month(held, path),
        amends=keyed.get("amends", ""),
        why=keyed.get("why", ""),
        sealed_on=day,
        before=_before(held, whole),
        roles=tuple(
            (key.removeprefix(_ROLE), Role(value))
            for key, value in keyed.items()
            if key.startswith(_ROLE)
        ),
        files=tuple(held.files.values()),
        totals=tuple(pair for pair in keyed.items() if _TOTAL.fullmatch(pair[0])),
        digest=digest_of(data),
        place=whole,
    )


def _month(held: _Reading, path: str) -> str:
    written, name = held.keyed.get("month", ""), NAME.fullmatch(path)
    if _MONTH.fullmatch(written):
        return written
    if written:
        held.remark(Place(path), f"'{written}' is no month")
    return name[1] if name else ""


def _before(held: _Reading, whole: Place) -> str:
    written = held.keyed.get("before", NO_SEAL)
    if written != NO_SEAL and not _DIGEST.fullmatch(written):
        held.remark(whole, f"'{written}' is no SHA-256 digest of the seal before")
    return "" if written == NO_SEAL else written


def with_digest(seal: Seal) -> Seal:
    """The seal as it is read back from its own text, with its digest."""
    return replace(seal, digest=digest_of(seal_text(seal).encode("utf-8")), place=Place(seal.path))
