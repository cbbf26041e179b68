"""Reads tests/cases/*.txt: cases as text, so that adding one needs no Python.

    === a title
    the input, to the next line that begins with >>>
    >>> problems
    2:8: code: the whole sentence
    4:1: code (doubt): the whole sentence
    >>> values
    title = Skins

An input of several files has a line `::: path` before each. A sign that an editor hides is
written as its code in double brackets, `⟦2028⟧`, a byte that is not UTF-8 as `⟦xFF⟧`. Lines
before the first title are a comment.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import pytest

from builderlog.reading.problem import Problem, Weight

CASES = Path(__file__).resolve().parent.parent / "cases"
_SIGN = re.compile(r"⟦(x?)([0-9A-F]+)⟧")
_HIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff]")
_CODE = re.compile(r"(?:[^:\s]+:)?\d+:\d+: ([a-z0-9-]+)(?: \((?:doubt|gap)\))?: ")


@dataclass(frozen=True, slots=True)
class Case:
    """One case: its input by file (one unnamed file has the name ""), and what is expected."""

    title: str
    files: dict[str, str]
    problems: list[str]
    values: list[str]

    @property
    def data(self) -> bytes:
        """The input of a case with one unnamed file, as bytes."""
        return to_bytes(self.files[""])

    @property
    def codes(self) -> set[str]:
        """The codes that the case expects."""
        found = (_CODE.match(line) for line in self.problems)
        return {match[1] for match in found if match}


def to_bytes(text: str) -> bytes:
    """The text with its hidden signs put in."""
    return b"".join(_piece(piece) for piece in re.split(r"(⟦[^⟧]*⟧)", text))


def _piece(piece: str) -> bytes:
    sign = _SIGN.fullmatch(piece)
    if not sign:
        return piece.encode()
    return bytes([int(sign[2], 16)]) if sign[1] else chr(int(sign[2], 16)).encode()


def shown(text: str) -> str:
    """The text with its hidden signs as a case writes them, and line ends as ⏎."""
    return _HIDDEN.sub(lambda sign: f"⟦{ord(sign[0]):X}⟧", text.replace("\n", "⏎"))


def read_cases(name: str) -> list[Case]:
    """All cases of one file, in order. AssertionError where a title stands twice."""
    text = (CASES / name).read_text(encoding="utf-8")
    cases = [_case(block) for block in re.split(r"^=== ", text, flags=re.MULTILINE)[1:]]
    titles = [case.title for case in cases]
    assert len(set(titles)) == len(titles), f"{name}: a title stands twice"
    return cases


def _case(block: str) -> Case:
    title, _, rest = block.partition("\n")
    written, *sections = re.split(r"^>>> ", rest, flags=re.MULTILINE)
    expected = {name: lines for name, *lines in (section.split("\n") for section in sections)}
    assert set(expected) <= {"problems", "values"}, f"{title}: {sorted(expected)}"
    lists = {name: [line for line in lines if line] for name, lines in expected.items()}
    files = _files(written)
    return Case(title, files, lists.get("problems", []), lists.get("values", []))


def _files(written: str) -> dict[str, str]:
    first, *named = re.split(r"^::: ", written, flags=re.MULTILINE)
    if not named:
        return {"": first}
    pieces = (piece.partition("\n") for piece in named)
    return {path: text for path, _, text in pieces}


def each_case(name: str) -> Callable[..., pytest.MarkDecorator]:
    """Marks a test to run once for every case of the file, under the case's title."""
    cases = read_cases(name)
    return pytest.mark.parametrize("case", cases, ids=[case.title for case in cases])


def told(problems: Iterable[Problem], *, with_path: bool = False) -> list[str]:
    """Problems as a case writes them, in the order of their places."""
    return [
        (f"{each.place.path}:" if with_path else "")
        + f"{each.place.line}:{each.place.column}: {each.code}{_weight(each)}: {each.told}"
        for each in sorted(problems, key=lambda each: each.order)
    ]


def _weight(problem: Problem) -> str:
    return "" if problem.weight is Weight.MISTAKE else f" ({problem.weight})"
