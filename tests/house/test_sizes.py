"""Holds the lengths of modules and functions of the package; says nothing of what they do."""

from __future__ import annotations

import ast
import math
from pathlib import Path
from statistics import median

PACKAGE = Path(__file__).resolve().parent.parent.parent / "builderlog"

MODULE_LINES = 400
FUNCTION_LINES_MEDIAN = 8
FUNCTION_LINES_P90 = 25

Function = ast.FunctionDef | ast.AsyncFunctionDef


def function_lines(node: Function) -> int:
    """Lines of one function from `def` to its end, its docstring left out."""
    lines = (node.end_lineno or node.lineno) - node.lineno + 1
    match node.body[0]:
        case ast.Expr(value=ast.Constant(value=str())) as docstring:
            lines -= (docstring.end_lineno or docstring.lineno) - docstring.lineno + 1
    return lines


def lengths_in(folder: Path) -> list[tuple[int, str]]:
    """Length and place of every function below a folder, longest first."""
    return sorted(
        (
            (function_lines(node), f"{path.relative_to(folder)}:{node.lineno} {node.name}")
            for path in folder.rglob("*.py")
            for node in ast.walk(ast.parse(path.read_bytes()))
            if isinstance(node, Function)
        ),
        reverse=True,
    )


def p90(numbers: list[int]) -> int:
    """The nearest-rank 90th percentile: nine in ten are not above it."""
    return sorted(numbers)[math.ceil(len(numbers) * 0.9) - 1]


def test_no_module_is_longer_than_a_person_reads_at_once() -> None:
    """No module of the package has more than 400 lines."""
    too_long = {
        str(path.relative_to(PACKAGE)): lines
        for path in PACKAGE.rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > MODULE_LINES
    }
    assert too_long == {}


def test_functions_stay_short() -> None:
    """Half of the functions have at most 8 lines and nine in ten at most 25, docstrings aside."""
    lengths = lengths_in(PACKAGE)
    numbers = [lines for lines, _ in lengths]
    assert median(numbers) <= FUNCTION_LINES_MEDIAN, lengths[: len(lengths) // 2]
    assert p90(numbers) <= FUNCTION_LINES_P90, lengths[: len(lengths) // 10]


def test_a_docstring_does_not_count() -> None:
    """The measure counts three lines for a function of three lines and a docstring of two."""
    tree = ast.parse('def f():\n    """One.\n    two."""\n    a = 1\n    return a\n')
    node = tree.body[0]
    assert isinstance(node, ast.FunctionDef)
    assert function_lines(node) == 3


def test_the_percentile_is_the_nearest_rank() -> None:
    """Of the numbers 1 to 10 the ninth is the 90th percentile."""
    assert p90(list(range(1, 11))) == 9
