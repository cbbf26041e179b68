"""The codes that the package can tell, collected from its source; and the codes that tests expect.

Every code must have a case or a test: a sentence that nobody has seen may be wrong in its place.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent.parent / "builderlog"
TELLING = ("reading/*.py", "knowing/*.py", "deciding/checks*.py", "deciding/links.py")
ALSO_TELLING = ("deciding/costs.py",)  # its `missing_rates` is one of the checks

# Where the code stands in the arguments of each call that tells something.
_CODE_AT = {
    **dict.fromkeys(("mistake", "doubt", "gap", "weigh", "tell", "mend", "Problem"), 1),
    "NotFoundError": 0,
    "LinkJudged": 2,
}
PASSED_ON = "(passed on)"
# Calls that pass a code on, by module and function; with the codes that are told nowhere else.
PASSING_ON = {
    "problem.mistake": (),
    "problem.doubt": (),
    "problem.gap": (),
    "forms.tell": (),
    "yaml_mending.mend": (),
    "yaml_mending._marked": ("yaml-alias", "yaml-anchor", "yaml-tag"),
    "links.judge_link": (),
    "checks_files.missing_files": (),
    "checks_files._told": (),
    "checks_letters._told": (),
    "checks_names._unknown": ("unknown-task", "unknown-area"),
    "journal._not_kept": ("cache-not-kept",),
}


def telling_modules() -> list[Path]:
    """Every module that can tell a problem about a journal."""
    return [path for pattern in (*TELLING, *ALSO_TELLING) for path in sorted(PACKAGE.glob(pattern))]


def codes_in(module: str, source: str) -> Iterator[str]:
    """The code of every telling call; `module.function` where the call passes a code on.

    A code chosen by `a if b else c`, or by a name that the same function sets to texts, is
    followed; LinkJudged without a code tells nothing.
    """
    for function in ast.walk(ast.parse(source)):
        if isinstance(function, ast.FunctionDef):
            calls = (node for node in ast.walk(function) if isinstance(node, ast.Call))
            for code in (code for call in calls for code in _codes_of(call, function)):
                yield f"{module}.{function.name}" if code == PASSED_ON else code


def codes_told() -> set[str]:
    """Every code of the package. AssertionError where a call passes on a code we do not know."""
    found = {
        code
        for path in telling_modules()
        for code in codes_in(path.stem, path.read_text(encoding="utf-8"))
    }
    unknown = {code for code in found if "." in code} - set(PASSING_ON)
    assert not unknown, f"these pass codes on; list them in PASSING_ON: {sorted(unknown)}"
    return {code for code in found if "." not in code} | {
        code for codes in PASSING_ON.values() for code in codes
    }


def _codes_of(call: ast.Call, function: ast.FunctionDef) -> Iterable[str]:
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    at = _CODE_AT.get(name)
    if at is None or len(call.args) <= at:
        return ()
    return _texts(call.args[at], function)


def _texts(node: ast.expr, function: ast.FunctionDef) -> Iterable[str]:
    match node:
        case ast.Constant(value=str() as code):
            return (code,)
        case ast.IfExp(body=body, orelse=orelse):
            return (*_texts(body, function), *_texts(orelse, function))
        case ast.Name(id=name):
            found = [code for value in _set_to(name, function) for code in _texts(value, function)]
            return found or (PASSED_ON,)
    return (PASSED_ON,)


def _set_to(name: str, function: ast.FunctionDef) -> Iterator[ast.expr]:
    """Every value that a function sets a name to, alone or in `name, other = value, other`."""
    for each in ast.walk(function):
        match each:
            case ast.Assign(targets=[ast.Name(id=target)], value=value) if target == name:
                yield value
            case ast.Assign(targets=[ast.Tuple(elts=names)], value=ast.Tuple(elts=values)):
                yield from (
                    value
                    for to, value in zip(names, values, strict=True)
                    if isinstance(to, ast.Name) and to.id == name
                )


def texts_in_tests(paths: Iterable[Path]) -> set[str]:
    """Every text in the source of tests, so that a code that a test expects is found."""
    return {
        node.value
        for path in paths
        for node in ast.walk(ast.parse(path.read_bytes()))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
