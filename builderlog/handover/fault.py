"""A fault of a bag: what `verify` prints, one line each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """What is wrong with one file of a bag; `path` starts at the bag, with `/`."""

    path: str
    code: str
    message: str


def printable(path: str) -> str:
    """A path for people: line breaks, other controls and bytes that are not UTF-8 as escapes."""
    shown = path.encode("utf-8", "backslashreplace").decode("utf-8")
    return "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in shown)
