"""Reads which module imports which, for the order of the rooms. It runs nothing of the package.

Every import counts: at the top, inside a function, under TYPE_CHECKING, relative, and
through `import_module` with a literal name. One whose name is only known at run time is a
fault of its own, since no test could read it.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

PACKAGE = "builderlog"
ROOMS = (
    *("reading", "storing", "knowing", "deciding", "sheets"),
    *("drawing", "handover", "noting", "bench", "command"),
)
DYNAMIC = ("import_module", "__import__")


@dataclass(frozen=True, order=True)
class Import:
    """One import of a module of the package: who, whom, and the line (from 1)."""

    module: str
    target: str
    line: int


def faults_of(folder: Path) -> list[str]:
    """Every breach of the order of rooms below the package's folder, one sentence each."""
    modules = modules_in(folder)
    imports = [
        found for module, path in modules.items() for found in imports_of(module, path, modules)
    ]
    placed = [f"{module} stands in no room" for module in modules if not has_place(module)]
    breaches = [breach for found in imports if (breach := breach_of(found))]
    return sorted([*placed, *breaches, *circles_of(imports)])


def modules_in(folder: Path) -> dict[str, Path]:
    """Dotted name to file, for every module; a package goes by the name of its folder."""
    named = {}
    for path in sorted(folder.rglob("*.py")):
        parts = (PACKAGE, *path.relative_to(folder).with_suffix("").parts)
        named[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return named


def imports_of(module: str, path: Path, modules: dict[str, Path]) -> Iterator[Import]:
    """The imports of the package's own modules that one file makes, wherever they stand."""
    home = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for name, line in own_names(path.read_bytes(), home):
        yield Import(module, nearest(name, modules), line)


@cache
def own_names(text: bytes, home: str) -> tuple[tuple[str, int], ...]:
    """The names of the package that a text imports, seen from the package `home`, with lines."""
    return tuple(
        (name, getattr(node, "lineno", 0))
        for node in ast.walk(ast.parse(text))
        for name in names_in(node, home)
        if name == "?" or name.split(".")[0] == PACKAGE
    )


def names_in(node: ast.AST, home: str) -> list[str]:
    """The dotted names one syntax node imports; "?" for a name known only at run time."""
    match node:
        case ast.Import(names=names):
            return [alias.name for alias in names]
        case ast.ImportFrom(module=source, names=names, level=level):
            base = absolute(source or "", level, home)
            return [f"{base}.{alias.name}" for alias in names]
        case ast.Call(func=ast.Name(id=word) | ast.Attribute(attr=word)) if word in DYNAMIC:
            return [dynamic_name(node, home)]
    return []


def absolute(source: str, level: int, home: str) -> str:
    """The full name meant by `from ..source`, seen from the package `home`; level 0 is full."""
    if level == 0:
        return source
    kept = home.split(".")[: len(home.split(".")) - (level - 1)]
    return ".".join([*kept, source] if source else kept)


def dynamic_name(call: ast.Call, home: str) -> str:
    """The literal name handed to `import_module`, dots resolved; "?" if it is not a literal."""
    match call.args:
        case [ast.Constant(value=str(name)), *_]:
            bare = name.lstrip(".")
            return absolute(bare, len(name) - len(bare), home)
    return "?"


def nearest(name: str, modules: dict[str, Path]) -> str:
    """The module that a dotted name lies in: the longest beginning of it that is a module."""
    parts = name.split(".")
    beginnings = (".".join(parts[:end]) for end in range(len(parts), 0, -1))
    return next((beginning for beginning in beginnings if beginning in modules), name)


def room_of(module: str) -> str:
    """The room a module stands in; "" for the package itself and its `__main__`."""
    parts = module.split(".")
    return "" if len(parts) == 1 or parts[1:] == ["__main__"] else parts[1]


def has_place(module: str) -> bool:
    """Whether a module is the package itself, its `__main__`, or in one of the rooms."""
    return room_of(module) in ("", *ROOMS)


def breach_of(found: Import) -> str | None:
    """The sentence for an import against the order, or None for a good one."""
    where = f"{found.module}:{found.line}"
    if found.target == "?":
        return f"{where} imports a name known only at run time"
    own, other = room_of(found.module), room_of(found.target)
    if found.module == PACKAGE:
        return f"{where} imports {found.target}: the package itself imports nothing of its rooms"
    if own == "":
        return None if other in ("", "command") else f"{where} imports {found.target}"
    if other == "":
        return None if found.target == PACKAGE else f"{where} imports {found.target}"
    if own in ROOMS and other in ROOMS and ROOMS.index(other) > ROOMS.index(own):
        return f"{where} imports {found.target}: {own} comes before {other}"
    return None


def circles_of(imports: list[Import]) -> list[str]:
    """One sentence for a circle of modules, if there is one; the first found is enough."""
    graph: dict[str, set[str]] = {}
    for found in imports:
        graph.setdefault(found.module, set()).add(found.target)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return [f"a circle: {' -> '.join(error.args[1])}"]
    return []
