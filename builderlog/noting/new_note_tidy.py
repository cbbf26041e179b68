"""A draft after the editor closed: what stood ready in it and was left alone is taken out again.

Works on bytes, line by line: what the builder wrote keeps every byte, whatever the editor made of
line ends or encoding.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from builderlog.noting.new_note_draft import HINT

_VANISHES = re.compile(rb"\s*# |    (?:caption:|shows: \[\]|seen: \[\])\Z")
_OFF = re.compile(rb"\s*# - ")
_EMPTY_KEY = re.compile(rb"([a-z]+):")
_HINT = re.compile(rb"(?<=\})" + re.escape(HINT.encode()) + rb".*")
_ROOM = re.compile(rb", ?(?:hours|how):[ \t]*(?=[,}])")
_BARE = re.compile(rb"(\s*- )\{(?:task|no): ([^,{}\[\]\"']+)\}")
_GOES_ON = (b" ", b"\t", b"-")
_FENCE = b"---"


def without_leftovers(data: bytes, begun: bytes) -> bytes:
    """What the builder left of the draft `begun`: its untouched lines and empty places are gone.

    A comment of ours, or room for a picture's words, goes as often as we wrote it. A key of ours
    goes where nothing stands behind it or below it. In a row of ours an empty place goes, and
    what the row was said to be.
    """
    ours = [line.rstrip() for line in begun.split(b"\n")]
    head, rest = _at_fence(data)
    lines = [*_without_untouched(_lines(head), ours)]
    return b"".join(_without_keys([_row(line, ours) for line in lines], ours)) + rest


def still_off(data: bytes) -> Iterator[tuple[int, str]]:
    """Rows with a `#` before their dash, by line: written in, and still not counted."""
    head, _ = _at_fence(data)
    for number, line in enumerate(_lines(head), start=1):
        if _OFF.match(line):
            yield number, line.decode("utf-8", "replace").strip()


def _lines(data: bytes) -> list[bytes]:
    """With their line ends, those of all systems."""
    return re.findall(rb"[^\r\n]*(?:\r\n|\n|\r)|[^\r\n]+", data)


def _at_fence(data: bytes) -> tuple[bytes, bytes]:
    """The front matter with its first fence, and the rest from the second one on."""
    fences = [found.start() for found in re.finditer(rb"(?m)^---[ \t]*\r?$", data)]
    return (data[: fences[1]], data[fences[1] :]) if len(fences) > 1 else (data, b"")


def _without_untouched(lines: Iterable[bytes], ours: Iterable[bytes]) -> Iterator[bytes]:
    left = Counter(line for line in ours if _VANISHES.match(line))
    for line in lines:
        if left[line.rstrip()]:
            left[line.rstrip()] -= 1
        else:
            yield line


def _row(line: bytes, ours: Iterable[bytes]) -> bytes:
    """A row that stood ready, without the places that nobody filled."""
    written = line.rstrip()
    if not any(_begins_alike(written, own) for own in ours):
        return line
    end = line[len(written) :]
    filled = _ROOM.sub(b"", _HINT.sub(b"", written))
    return _BARE.sub(rb"\1\2", filled) + end


def _begins_alike(line: bytes, own: bytes) -> bool:
    """True where both are rows of one thing: the same up to the first comma."""
    row = own.replace(b"# - ", b"- ", 1)
    first, comma, _ = row.partition(b",")
    return bool(comma) and first.lstrip().startswith(b"- {") and line.startswith(first + comma)


def _without_keys(lines: list[bytes], ours: Iterable[bytes]) -> Iterator[bytes]:
    """Without keys of ours that hold nothing: the next line begins another, or there is none."""
    empty = {line for line in ours if _EMPTY_KEY.fullmatch(line)}
    for place, line in enumerate(lines):
        below = next((one for one in lines[place + 1 :] if one.strip()), b"")
        words = line.rstrip()
        if words not in empty:
            yield line
        elif below.startswith(_GOES_ON):
            yield words + line[len(words) :].lstrip(b" ")
