"""The map of the code as DEVELOPERS.md prints it, made from the modules' own first sentences.

`python -m tests.house.mapping` writes it anew between its two marks.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.house.rooms import ROOMS

TOP = Path(__file__).parents[2]
DEVELOPERS = TOP / "DEVELOPERS.md"
BEGIN, END = "<!-- map -->", "<!-- /map -->"


def first_line(module: Path) -> str:
    """The first line of a module's docstring."""
    docstring = ast.get_docstring(ast.parse(module.read_text(encoding="utf-8")))
    return (docstring or "").split("\n", maxsplit=1)[0]


def drawn() -> str:
    """Every room with its sentence, and every module of it with its own."""
    return "\n".join(line for room in ROOMS for line in _room(TOP / "builderlog" / room))


def _room(folder: Path) -> Iterator[str]:
    yield f"\n**{first_line(folder / '__init__.py')}**\n"
    for module in sorted(folder.glob("*.py")):
        if module.name != "__init__.py":
            yield f"- `{folder.name}/{module.name}`: {first_line(module)}"


def write() -> None:
    """Puts the map of today into DEVELOPERS.md."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    before, rest = text.split(BEGIN)
    after = rest.split(END)[1]
    DEVELOPERS.write_text(f"{before}{BEGIN}\n{drawn()}\n\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    write()
