"""Holds what every file of the repository says or must not say; not how it is formatted."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parent.parent.parent
TESTS = TOP / "tests"

# Put together from pieces, so that this file does not name what it forbids.
FOLDERS = ("work", "root", "mnt")
REGISTRIES = (
    "pypi" + r"\.org",
    "pythonhosted" + r"\.org",
    "npmjs" + r"\.(?:org|com)",
    r"deb\.debian" + r"\.org",
)
FORBIDDEN = re.compile(
    "|".join(
        [rf"(?<![\w./<>-])/(?:{'|'.join(FOLDERS)})/", r"\." + "library/", *REGISTRIES]
    ).encode()
)


def claims_missing_in(source: bytes, name: str) -> list[str]:
    """Each test function of a file whose docstring does not begin with one whole sentence."""
    functions = (
        node
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.name.startswith("test_")
    )
    return [
        f"{name}:{node.lineno} {node.name}"
        for node in functions
        if not (ast.get_docstring(node) or "").split("\n\n", maxsplit=1)[0].endswith(".")
    ]


def test_every_test_states_its_claim() -> None:
    """Every test function says in one sentence what it claims."""
    missing = [
        claim
        for path in sorted(TESTS.rglob("test_*.py"))
        for claim in claims_missing_in(path.read_bytes(), str(path.relative_to(TOP)))
    ]
    assert missing == []


def test_a_test_without_a_claim_is_found() -> None:
    """A test with no sentence, or half of one, is told; one with a whole sentence is not."""
    source = b'def test_a(): pass\ndef test_b():\n  "No stop"\ndef test_c():\n  "A claim."\n'
    assert claims_missing_in(source, "x") == ["x:1 test_a", "x:2 test_b"]


def repository_files() -> list[Path]:
    """Every file that is or could be committed: tracked, or new and not ignored."""
    git = shutil.which("git")
    if git is None or not (TOP / ".git").exists():
        if os.environ.get("CI") == "true":
            pytest.fail("git and its folder are needed to know which files are committed")
        pytest.skip("not a git checkout: which files would be committed is not known")
    listed = subprocess.run(
        [git, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=TOP,
        check=True,
        capture_output=True,
    )
    paths = (TOP / os.fsdecode(name) for name in listed.stdout.split(b"\0") if name)
    return [path for path in paths if path.is_file()]


def test_no_file_names_a_place_of_one_machine() -> None:
    """No file of the repository names a folder of one machine, or the host of a registry."""
    told = [
        f"{path.relative_to(TOP)}: {found.group().decode()}"
        for path in repository_files()
        if (found := FORBIDDEN.search(path.read_bytes()))
    ]
    assert told == []


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_planted_place_is_found(folder: str) -> None:
    """A path below a forbidden folder is seen, and the same word inside a link is not."""
    assert FORBIDDEN.search(f'open("/{folder}/main/x")'.encode())
    assert not FORBIDDEN.search(f"photos/{folder}/skin.jpg and ../{folder}/x".encode())
