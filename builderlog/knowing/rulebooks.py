"""The rulebooks that come with the package: one YAML file each; adding one is adding a file."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from builderlog.knowing.forms import Row
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.rulebook_words import read_rulebook_row, rulebook_of
from builderlog.reading.front_matter import as_table
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.source import source_of
from builderlog.reading.yaml_words import read_yaml

FOLDER = Path(__file__).resolve().parent.parent / "rulebooks"
OWN = "own"  # its measure and limit are the builder's to state

RULEBOOKS = tuple(sorted(path.stem for path in FOLDER.glob("*.yaml")))


def find_rulebook(
    name: str, own: Row | None = None, citation: str | None = None
) -> tuple[Rulebook | None, tuple[Problem, ...]]:
    """The rulebook of that name (one of RULEBOOKS), and what is wrong with its words.

    `own` is what journal.yaml says under `own rulebook`; it counts for the rulebook `own` alone.
    `citation` stands in place of the rulebook's. None where it cannot be used (told).
    """
    base, problems = _read(FOLDER / f"{name}.yaml")
    if problems or name != OWN:
        rulebook, told = rulebook_of(name, base)
    elif own is None:
        rulebook, told = None, (mistake(Place("journal.yaml"), "missing-key", _OWN_NEEDS),)
    else:
        rulebook, told = rulebook_of(name, own, base)
    if rulebook and citation:
        rulebook = replace(rulebook, citation=citation)
    return rulebook, (*problems, *told)


_OWN_NEEDS = (
    "rulebook: own needs measure and limit; "
    "write own rulebook: {measure: points, limit: more than 0.5}"
)


@cache
def _read(file: Path) -> tuple[Row, tuple[Problem, ...]]:
    """Files of the package do not change while a program runs."""
    return read_rulebook_file(file.name, file.read_bytes())


def read_rulebook_file(name: str, data: bytes) -> tuple[Row, tuple[Problem, ...]]:
    """The words of a rulebook's file, with every mistake at its place; `name` is the file's."""
    path = f"rulebooks/{name}"
    source, problems = source_of(path, data)
    root, told = read_yaml(source, 0, len(source.text))
    table, more = as_table(root)
    row, told_words = read_rulebook_row(table, Place(path))
    return row, (*problems, *told, *more, *told_words)
