"""DEVELOPERS.md tells the truth: its map, its dependencies, its recipes' file names."""

from __future__ import annotations

import re
import tomllib

from tests.house.mapping import BEGIN, DEVELOPERS, END, TOP, drawn
from tests.house.rooms import ROOMS


def test_the_map_names_every_module_with_its_own_first_sentence() -> None:
    """The map in DEVELOPERS.md is the one that the modules' docstrings give today."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    assert text.split(BEGIN)[1].split(END)[0].strip() == drawn().strip()


def test_every_room_is_on_the_map() -> None:
    """The rooms of the map are the folders of the package, none forgotten."""
    package = TOP / "builderlog"
    folders = {entry.name for entry in package.iterdir() if (entry / "__init__.py").is_file()}
    assert folders == set(ROOMS)


def test_every_dependency_has_one_line_that_says_why_it_is_there() -> None:
    """The list of dependencies is pyproject's, of all three kinds, each with its reason."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    wanted = [*project["dependencies"], *extras["bench"], *extras["test"]]
    names = {re.split(r"[<>=\[ ]", word)[0].lower() for word in wanted} - {"builderlog"}
    listed = re.findall(
        r"^- \*\*([\w.-]+)\*\*: \S", DEVELOPERS.read_text(encoding="utf-8"), re.MULTILINE
    )
    assert {name.lower() for name in listed} == names


def test_every_file_that_a_recipe_names_is_there() -> None:
    """A path in backquotes in DEVELOPERS.md leads to a file or a folder of the project."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    named = set(re.findall(r"`((?:builderlog|tests|themes|example_journal|\.ci)/[\w./-]+)`", text))
    assert named
    assert [path for path in sorted(named) if not (TOP / path).exists()] == []
