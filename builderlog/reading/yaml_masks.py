"""The chunk that libyaml reads: the builder's text, some signs masked, each in its place.

Masking never moves a character, so that every place that libyaml tells stays true.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from builderlog.reading.source import without_controls

_MASK_BASE = 0x10F700  # private use: a masked sign below 256 is this plus its code
# libyaml ends a line at these, as YAML 1.1 did; in a journal they are signs like any other.
_OLD_LINE_ENDS = {0x85: 0x10F785, 0x2028: 0x10F7A8, 0x2029: 0x10F7A9}
_UNMASK = {_MASK_BASE + code: code for code in range(128)} | {
    mask: code for code, mask in _OLD_LINE_ENDS.items()
}
_SIGN = re.compile(r"[^\r\n]")


def masked(chunk: str, indexes: Iterable[int]) -> str:
    """The chunk with the signs at `indexes` masked."""
    signs = list(chunk)
    for index in indexes:
        if ord(signs[index]) < 128:
            signs[index] = chr(_MASK_BASE + ord(signs[index]))
    return "".join(signs)


def restore(text: str) -> str:
    """The text with masked signs put back."""
    return text.translate(_UNMASK)


def readable(text: str) -> str:
    """The text, as long, as libyaml can take it in and ends its lines where an editor does."""
    return without_controls(text).translate(_OLD_LINE_ENDS)


def blanked(chunk: str, spans: Iterable[tuple[int, int]]) -> str:
    """The chunk with blanks in the place of all signs of these spans; line ends stay."""
    pieces: list[str] = []
    done = 0
    for start, end in spans:
        pieces += (chunk[done:start], _SIGN.sub(" ", chunk[start:end]))
        done = end
    return "".join((*pieces, chunk[done:]))


def put(chunk: str, index: int, sign: str) -> str:
    """The chunk with one sign in the place of another."""
    return chunk[:index] + sign + chunk[index + 1 :]
